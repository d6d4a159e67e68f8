# SPDX-License-Identifier: Apache-2.0
"""Turn the rows of one kind of file into members of a part definition, each with the cells it came from."""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any, Generic, Literal, TypeVar, cast

from msgspec import UNSET

from tallywright.definitions.csv_file import Form, Row, shown
from tallywright.definitions.names import id_of, key_of
from tallywright.definitions.report import Lists, Place, Report
from tallywright.records.definition import NOT_SURE, DefectClass, DefectWord, Limit, Operation, Zone, ZoneClass

T = TypeVar("T")
Places = dict[tuple[str | int, ...], Place]
CLASSES = ("critical", "major", "minor")

OPERATIONS = Form(
    needed=("op_no",),
    optional=(
        "product", "where", "piece_group", "splits_merges", "order_kept", "special_process", "checked_by",
        "count_in", "count_out", "hold_point", "key_records", "defects_mostly_born_here", "blind_spot", "note",
    ),
    translated=("operation",),
)  # fmt: skip
ZONES = Form(
    needed=("zone",), optional=("product", "where", "load", "covered_after_op", "note"), translated=("zone",)
)
DEFECTS = Form(
    needed=("defect",),
    optional=(
        "product", "id", "also_called", "family", "born_at_op", "first_seen_at", "also_seen_at", "seen_by_eye",
        "start_class", "rework_possible", "how_to_look", "confused_with", "why_it_matters", "note",
    ),
    translated=("plain_words", "key"),
)  # fmt: skip
CLASS_BY_ZONE = Form(needed=("defect",), optional=("note",), open=True)
LIMITS = Form(needed=("look", "class", "allowed_per_thousand"), optional=("product", "counts", "note"))


@dataclass(frozen=True)
class Entry(Generic[T]):
    """A value that rows gave, the row, and the place of each of its members: by its name, or by a path below it."""

    row: Row
    value: T
    places: Places = field(default_factory=dict)


def operations(rows: Iterable[Row], report: Report) -> list[Entry[Operation]]:
    """The route. A row whose number cannot be read leaves the route unsure."""
    found = []
    for row in rows:
        row.needed("op_no", report, "operations")
        number = row.number_in("op_no", report, "operations")
        words, columns = row.translations("operation", report)
        order = order_of(row, report)
        if number is None:
            continue
        value = Operation(operation=number, words=words, order=order or UNSET)
        places = {("operation",): row.place("op_no"), ("words",): row.place("operation")}
        found.append(Entry(row, value, places | _by_language(row, "words", columns)))
    return found


def order_of(row: Row, report: Report) -> Literal["kept", "lost"] | None:
    """Whether pieces leave in the order they came: a sentence that begins with yes, no or lost, or 'n/a'."""
    text = row.text("order_kept").lower()
    if re.match(r"(yes|kept|(tray )?order kept)\b", text):
        return "kept"
    if re.match(r"(no|lost)\b", text):
        return "lost"
    if text not in ("", "-", "n/a"):
        reason = f"'{shown(text)}' does not say whether order is kept. Begin with yes, no, kept, lost or n/a."
        report.refuse(row.place("order_kept"), reason)
    return None


def zones(rows: Iterable[Row], report: Report) -> list[Entry[Zone]]:
    """The named areas. Their id is made from the unmarked column, whatever other languages there are."""
    found = []
    for row in rows:
        zone = _id(row, "zone", "zones", report)
        words, columns = row.translations("zone", report)
        covered = row.number_in("covered_after_op", report)
        if not zone:
            continue
        value = Zone(zone=zone, words=words, covered_after=_given(covered))
        places = {("zone",): row.place("zone"), ("covered_after",): row.place("covered_after_op")}
        found.append(Entry(row, value, places | _by_language(row, "words", columns)))
    return found


def limits(rows: Iterable[Row], report: Report) -> list[Entry[Limit]]:
    """How many per thousand each look may find of each class."""
    found = []
    for row in rows:
        row.needed("class", report)
        look = _look(row, report)
        defect_class = row.choice("class", CLASSES, "class", report)
        allowed = row.needed("allowed_per_thousand", report)
        if allowed and not (re.fullmatch(r"[0-9]{1,4}", allowed) and int(allowed) <= 1000):
            reason = f"'{shown(allowed)}' is no whole number from 0 to 1000."
            report.refuse(row.place("allowed_per_thousand"), reason)
        elif look and defect_class and allowed:
            value = Limit(
                look=look, defect_class=cast(DefectClass, defect_class), allowed_per_thousand=int(allowed)
            )
            places: Places = {("look",): row.place("look"), ("class",): row.place("class")}
            found.append(Entry(row, value, places))
    return found


def look_of(text: str) -> str:
    """The word of a look: 'first' for 'First look'; '' where the text names none."""
    return id_of(re.sub(r"\s+look$", "", text, flags=re.IGNORECASE))


def _look(row: Row, report: Report) -> str:
    text = row.needed("look", report)
    look = look_of(text)
    if text and not look:
        report.refuse(row.place("look"), f"'{shown(text)}' names no look. Write for example 'first look'.")
    return look


@dataclass(frozen=True)
class ByZone:
    """What class_by_zone.csv says of one defect word."""

    row: Row
    classes: list[tuple[str, ZoneClass]]  # with the column


def classes_by_zone(rows: Iterable[Row], report: Report) -> dict[str, ByZone]:
    """Class by zone of each defect word, by the word's id."""
    found: dict[str, ByZone] = {}
    for row in rows:
        defect = _id(row, "defect", "defects", report, itself=False)
        classes = []
        for column in row.cells:
            if CLASS_BY_ZONE.knows(column):
                continue
            defect_class = row.choice(column, CLASSES, "class", report)
            if defect_class:
                entry = ZoneClass(zone=id_of(column), defect_class=cast(DefectClass, defect_class))
                classes.append((column, entry))
        if defect in found:
            for one, other in ((row, found[defect].row), (found[defect].row, row)):
                report.refuse(one.place("defect"), f"'{defect}' has another row, row {other.number}.")
        elif defect:
            found[defect] = ByZone(row, classes)
    return found


def defects(rows: Iterable[Row], by_zone: dict[str, ByZone], report: Report) -> list[Entry[DefectWord]]:
    """The defect words, in the order of the file."""
    found = []
    first: dict[tuple[str, str], Row] = {}
    for row in rows:
        defect = _id(row, "id" if row.text("id") else "defect", "defects", report)
        if defect == NOT_SURE:
            report.note(row.place("defect"), "'Not sure' is always there by itself, so this row is not loaded.")
        other = first.setdefault((defect, row.text("product")), row)
        if defect and other is not row:
            _refuse_twice(row, other, defect, report)
            _refuse_twice(other, row, defect, report)
        entry = _defect(row, defect, by_zone.get(defect), report)
        if defect and defect != NOT_SURE and other is row:
            found.append(entry)
    return found


def _refuse_twice(row: Row, other: Row, defect: str, report: Report) -> None:
    reason = f"The word has the id '{defect}', which row {other.number} ('{shown(other.text('defect'))}') has too."
    report.refuse(row.place("id" if row.text("id") else "defect"), reason)


def _defect(row: Row, defect: str, by_zone: ByZone | None, report: Report) -> Entry[DefectWord]:
    words, word_columns = row.translations("plain_words", report)
    seen_by_eye = row.choice("seen_by_eye", ("yes", "gauge", "no"), "answer", report)
    defect_class = row.choice("start_class", CLASSES, "class", report)
    key, key_columns = row.translations("key", report)
    if not key and seen_by_eye != "no" and row.text("defect"):
        key, key_columns = {"en": key_of(row.text("defect"))}, {"en": "defect"}
    born_at = row.numbers_in("born_at_op", report)
    first_seen = [] if row.text("first_seen_at") in ("any", "-") else [row.number_in("first_seen_at", report)]
    also_seen = row.numbers_in("also_seen_at", report)
    look_alikes = _look_alikes(row, report)
    if not defect_class and by_zone is None and not row.text("start_class"):
        report.note(row.place("start_class"), f"'{shown(row.text('defect'))}' has no class, so it is critical.")
    value = DefectWord(
        defect=defect,
        key=key,
        words=words,
        defect_class=cast(DefectClass, defect_class) if defect_class else UNSET,
        by_zone=[entry for _, entry in by_zone.classes] if by_zone is not None and by_zone.classes else UNSET,
        born_at=born_at[0] if born_at else UNSET,
        also_born_at=born_at[1:] or UNSET,
        first_seen_at=_given(first_seen[0] if first_seen else None),
        also_seen_at=also_seen or UNSET,
        look_alike=look_alikes[0] if look_alikes else UNSET,
        also_look_alikes=look_alikes[1:] or UNSET,
        family=row.label("family", report) or UNSET,
        seen_by_eye=cast(Any, seen_by_eye) or UNSET,
        rework=_instruction(row.label("rework_possible", report)) or UNSET,
        how_to_look=row.label("how_to_look", report) or UNSET,
        why=row.label("why_it_matters", report) or UNSET,
    )
    places: Places = {(member,): row.place(column) for member, column in DEFECT_COLUMNS.items()}
    places |= _by_language(row, "key", key_columns) | _by_language(row, "words", word_columns)
    if by_zone is not None:
        places |= {
            ("by_zone", place, "zone"): Place(by_zone.row.file, 1, column)
            for place, (column, _) in enumerate(by_zone.classes)
        }
    return Entry(row, value, places)


DEFECT_COLUMNS = {
    "defect": "defect",
    "words": "plain_words",
    "key": "key",
    "born_at": "born_at_op",
    "also_born_at": "born_at_op",
    "first_seen_at": "first_seen_at",
    "also_seen_at": "also_seen_at",
    "look_alike": "confused_with",
    "also_look_alikes": "confused_with",
}


def _instruction(text: str) -> str:
    """How a defect is reworked; '' where the cell begins with "no": rework is offered only where there is one."""
    return "" if re.match(r"no\b", text, re.IGNORECASE) else text


def _look_alikes(row: Row, report: Report) -> list[str]:
    """Words of the list become their ids; 'harmless: swarf' and the like stay as they are."""
    text = row.label("confused_with", report)
    named = [part.strip() for part in text.split(",") if part.strip()]
    # A word that gives no id stays as it stands, and the rules say that no such word is in the list.
    return [part if ":" in part else id_of(part) or part for part in named]


def _id(row: Row, column: str, names: Lists, report: Report, *, itself: bool = True) -> str:
    """The id that a cell's text gives; '' where it gives none, which is refused.

    itself  the row is an entry of the list, and does not only name one
    """
    text = row.needed(column, report, names if itself else None)
    found = id_of(text)
    if text and not found:
        reason = f"'{shown(text)}' gives no id: one begins with a Latin letter and has 64 letters at most."
        hint = " Write one into the column 'id'." if names == "defects" and itself else ""
        report.refuse(row.place(column), reason + hint, names if itself else None)
    return found


def _by_language(row: Row, member: str, columns: dict[str, str]) -> Places:
    return {(member, language): row.place(column) for language, column in columns.items()}


def _given(number: int | None) -> Any:
    return UNSET if number is None else number
