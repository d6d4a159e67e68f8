# SPDX-License-Identifier: Apache-2.0
"""What the finds of a batch add up to: the bars they make in each stratum, and the times between which they lie.

The Python side of reports/strata.py, which says the same of one find to the database; a test holds both together.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from itertools import compress
from operator import itemgetter
from typing import Any, NamedTuple

from tallywright.folds.origins import Origin
from tallywright.projections.find_rows import FindRow

ONE_BAR = ""  # the stratum in which every find stands in the same bar
OF_ORIGIN = ("machine", "tool", "cast", "load", "lot")

Key = tuple[str, str]  # operations of origin, and cavity
Bar = tuple[bool, str]  # whether more than one thing can have made its finds, and its name
Value = str | int | Bar  # what a find says in a stratum: a name, a number of which 0 is none, or a bar
EVERY: Bar = (False, "")


class SumRow(NamedTuple):
    """One bar of a batch, in the order of the columns of `sums`."""

    stratum: str
    batch: str
    placed: bool
    several: bool
    name: str
    marks: int
    pieces: int


class SpanRow(NamedTuple):
    """When the finds of a batch were found and made, in the order of the columns of `spans`."""

    batch: str
    found_first: int
    found_last: int
    made_first: int
    made_last: int
    unplaced: int


def sum_rows(
    batch: str, part: str, finds: Sequence[FindRow], born: Iterable[Origin]
) -> tuple[list[SumRow], list[SpanRow]]:
    """Return the bars of a batch in every stratum, and its one row of times; none without finds.

    born  what the route says of its finds, by their operation and cavity
    """
    if not finds:
        return [], []
    of_origin: dict[str, dict[Key, Bar]] = {what: {} for what in OF_ORIGIN}
    spans: dict[Key, tuple[int, int]] = {}
    for origin in born:
        key = (origin.born_at, origin.cavity)
        if origin.what == "span":
            spans[key] = (origin.started_at, origin.ended_at)
        else:
            of_origin[origin.what][key] = (origin.several, origin.value)
    # Column by column: each push sums its whole batch, and loops of Python over its finds would be felt.
    columns: dict[str, tuple[Any, ...]] = dict(zip(FindRow._fields, zip(*finds, strict=True), strict=True))
    keys = list(zip(columns["born_at"], columns["cavity"], strict=True))
    values: dict[str, Sequence[Value]] = {
        ONE_BAR: [EVERY] * len(finds),
        "part": [part] * len(finds),
        "operation": columns["born_at"],
        "tray": columns["tray_number"],
        **{
            stratum: columns[stratum] for stratum in ("defect", "look", "zone", "cavity", "tray_from_last", "batch")
        },
        **{what: [of.get(key, EVERY) for key in keys] for what, of in of_origin.items()},
    }
    is_placed = [key in spans for key in keys]
    sums = _bars(batch, False, values, columns["piece"])
    if any(is_placed) and not all(is_placed):
        of_placed = {stratum: list(compress(said, is_placed)) for stratum, said in values.items()}
        sums += _bars(batch, True, of_placed, list(compress(columns["piece"], is_placed)))
    found, made = columns["found_at"], [end for key in set(keys) & spans.keys() for end in spans[key]] or [0]
    return sums, [SpanRow(batch, min(found), max(found), min(made), max(made), is_placed.count(False))]


def _bars(batch: str, placed: bool, values: Mapping[str, Sequence[Value]], pieces: Sequence[str]) -> list[SumRow]:
    """Bars of some finds; each stratum has a value for each find."""
    marked = Counter(pieces)
    is_again = [marked[piece] > 1 for piece in pieces]  # only these can stand in a bar with others of their piece
    again = list(compress(pieces, is_again))
    rows = []
    for stratum, said in values.items():
        of_again = list(compress(said, is_again))
        marks_again = Counter(of_again)
        pieces_again = Counter(map(itemgetter(0), set(zip(of_again, again, strict=True))))
        for value, marks in Counter(said).items():
            different = marks - marks_again.get(value, 0) + pieces_again.get(value, 0)
            rows.append(SumRow(stratum, batch, placed, *_bar(stratum, value), marks, different))
    return rows


def _bar(stratum: str, value: Value) -> Bar:
    if isinstance(value, tuple):
        return value
    if isinstance(value, int):
        return False, str(value or "")
    return stratum == "operation" and "," in value, value
