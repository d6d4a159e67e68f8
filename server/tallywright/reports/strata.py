# SPDX-License-Identifier: Apache-2.0
"""What finds can be grouped by, and narrowed to: each stratum as what the database can say of one find."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

from sqlalchemy import ColumnElement, FromClause, String, and_, case, cast, false, func, not_

from tallywright.errors import NotUnderstood
from tallywright.projections.tables import batches, finds, origins

Sort = Literal["value", "either", "none"]


@dataclass(frozen=True, slots=True)
class Stratum:
    """One way to tell finds apart, by what is known of each.

    value    a text; '' where nothing is recorded
    several  true where more than one thing can have made the find: it is never split, and never guessed
    beside   what has to stand beside a find for it, and the condition that it is this find's: one row, or none
    """

    value: ColumnElement[str]
    several: ColumnElement[bool]
    beside: tuple[FromClause, ColumnElement[bool]] | None = None


@dataclass(frozen=True, slots=True)
class Only:
    """One bar that an answer is narrowed to: of a stratum, of a sort, by its name."""

    stratum: str
    sort: Sort
    name: str


def _plain(value: ColumnElement[str]) -> Stratum:
    return Stratum(value, false())


def in_digits(column: ColumnElement[int]) -> ColumnElement[str]:
    """Return a number as a name; 0 stands for none."""
    return case((column == 0, ""), else_=cast(column, String))


def is_of_find(row: FromClause, what: str) -> ColumnElement[bool]:
    """Return the condition that a row of origins, of one sort of thing, is that of a find."""
    return and_(
        row.c.batch == finds.c.batch,
        row.c.born_at == finds.c.born_at,
        row.c.cavity == finds.c.cavity,
        row.c.what == what,
    )


def _of_origin(what: str) -> Stratum:
    beside = origins.alias(f"of_{what}")
    value, several = func.coalesce(beside.c.value, ""), func.coalesce(beside.c.several, false())
    return Stratum(value, several, (beside, is_of_find(beside, what)))


def _part() -> Stratum:
    beside = batches.alias("of_part")
    return Stratum(func.coalesce(beside.c.part, ""), false(), (beside, beside.c.batch == finds.c.batch))


STRATA: dict[str, Stratum] = {
    "defect": _plain(finds.c.defect),
    "operation": Stratum(finds.c.born_at, finds.c.born_at.contains(",")),
    "look": _plain(finds.c.look),
    "zone": _plain(finds.c.zone),
    "cavity": _plain(finds.c.cavity),
    "machine": _of_origin("machine"),
    "tool": _of_origin("tool"),
    "cast": _of_origin("cast"),
    "load": _of_origin("load"),
    "lot": _of_origin("lot"),
    "tray": _plain(in_digits(finds.c.tray_number)),
    "tray_from_last": _plain(in_digits(finds.c.tray_from_last)),
    "part": _part(),
    "batch": _plain(finds.c.batch),
}


def with_strata(joined: FromClause, strata: Iterable[str]) -> FromClause:
    """Return finds with what has to stand beside each for the strata: one row of it, or none."""
    for name in sorted(set(strata)):
        beside = STRATA[name].beside
        if beside is not None:
            joined = joined.outerjoin(*beside)
    return joined


def sort_of(value: str, several: bool) -> Sort:
    """Return which sort of bar a find stands in."""
    if several:
        return "either"
    return "value" if value else "none"


def is_in(only: Only) -> ColumnElement[bool]:
    """Return the condition that a find stands in a bar."""
    stratum = STRATA[only.stratum]
    return and_(stratum.value == only.name, stratum.several if only.sort == "either" else not_(stratum.several))


def only_of(text: str) -> Only:
    """Read a bar as it is named in a question: `stratum:value:name`, `stratum:either:name` or `stratum:none`.

    raises  NotUnderstood
    """
    stratum, _, rest = text.partition(":")
    sort, _, name = rest.partition(":")
    if stratum in STRATA:
        if sort == "value" and name:
            return Only(stratum, "value", name)
        if sort == "either":
            return Only(stratum, "either", name)
        if sort == "none" and not name:
            return Only(stratum, "none", "")
    raise NotUnderstood(f"'{text[:80]}' names no bar. Write it as cavity:value:A, machine:either or zone:none.")
