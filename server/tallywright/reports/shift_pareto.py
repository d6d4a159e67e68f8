# SPDX-License-Identifier: Apache-2.0
"""The defect Pareto of a span of time: what was marked, on how many pieces, and where it comes from."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import zip_longest
from typing import Literal

from sqlalchemy import Connection, select

from tallywright.computation.pareto import pareto, too_few_to_rank
from tallywright.db import in_parts
from tallywright.projections.tables import batches, loads
from tallywright.reports.axes import found_on, made_on, not_placed, perhaps_made_on
from tallywright.reports.counted import OF_BATCHES, Counted, by_batch, one_by_one
from tallywright.reports.looked import looked_at
from tallywright.reports.present_shift import present_shift
from tallywright.reports.strata import Only, Sort

# A batch is looked at over some days (41 hours in the mean of the demo's weeks). In a shorter span few lie wholly,
# and to read those across its ends takes longer than to read the finds of the span by their time.
BY_BATCH_FROM_MS = 4 * 24 * 60 * 60 * 1000

Unit = Literal["marks", "pieces"]
Axis = Literal["found", "made"]
BEHIND_NAMES = "\U0010ffff"  # of equal bars those without a name of their own come last


@dataclass(frozen=True, slots=True)
class Question:
    """What a Pareto is asked for.

    start, end  the span, end not included; both left out for the shift of now  [ms]
    axis        whether finds were found in the span, or made in it: while their batch was where they are born
    by          the stratum whose bars are wanted
    unit        what the bars are as long as: marks, or different pieces
    only        bars of strata that a find has to stand in, every one of them
    """

    start: int | None = None
    end: int | None = None
    by: str = "defect"
    unit: Unit = "marks"
    only: tuple[Only, ...] = ()
    axis: Axis = "found"


@dataclass(frozen=True, slots=True)
class Bar:
    """One bar: its marks and different pieces, and its share and cumulative share in the unit asked for.

    looked           pieces looked at that can stand in the bar, where it is one of trays; else 0
    sort             `either` for finds that more than one can have made, `none` for those nothing is recorded of
    label            what people call it: the number of a batch, a load or a lot, else the name
    too_few_to_rank  the bar below may as well be the longer one: the difference is no more than luck
    """

    name: str
    sort: Sort
    label: str
    count: int
    pieces: int
    looked: int
    share: float
    cumulative: float
    too_few_to_rank: bool


@dataclass(frozen=True, slots=True)
class ShiftPareto:
    """Bars over a span; `shift` and `day` are named where the span is one shift.

    marks     all marks of the bars
    pieces    different pieces marked: less than the bars' sum where a piece stands in several bars
    looked    pieces looked at in the trays that were closed in the span; 0 on the axis made on
    perhaps   marks in no bar: made in the span or beside it, because their batch was there across an end of it
    unplaced  marks in no bar: found since the span began, and nothing is recorded of where they were made
    """

    start: int
    end: int
    shift: str
    day: str
    by: str
    unit: Unit
    only: tuple[Only, ...]
    axis: Axis
    marks: int
    pieces: int
    looked: int
    perhaps: int
    unplaced: int
    bars: list[Bar]


def shift_pareto(connection: Connection, now_ms: int, question: Question) -> ShiftPareto:
    """Return the Pareto of a span, or of the shift that now belongs to, by the site's calendar and zone.

    A short span is read find by find, by their time. Of a long one only batches across its ends are read so, and
    the sums of the others; so it is with every span in which finds were made, for no index tells these.
    """
    start, end, shift, day = question.start, question.end, "", ""
    if start is None or end is None:
        now = present_shift(connection, now_ms)
        start, end, shift, day = now.start, now.end, now.shift, now.day
    is_long = question.axis == "made" or end - start >= BY_BATCH_FROM_MS
    count = by_batch if is_long and all(one.stratum in OF_BATCHES for one in question.only) else one_by_one
    place = made_on if question.axis == "made" else found_on
    counting = count(connection, place(start, end), question.only)
    counted = counting.bars(question.by)
    perhaps = unplaced = 0
    if question.axis == "made":
        perhaps = count(connection, perhaps_made_on(start, end), question.only).beside()
        unplaced = count(connection, not_placed(start), question.only).beside()
    looked, of_bars = 0, dict[str, int]()
    if question.axis == "found":
        looked, of_bars = looked_at(connection, question.by, question.only, start, end)
    labels = _labels(connection, question.by, counted)
    return ShiftPareto(
        start=start,
        end=end,
        shift=shift,
        day=day,
        by=question.by,
        unit=question.unit,
        only=question.only,
        axis=question.axis,
        marks=sum(marks for marks, _ in counted.values()),
        pieces=counting.pieces(),
        looked=looked,
        perhaps=perhaps,
        unplaced=unplaced,
        bars=_bars(counted, question.unit, labels, of_bars),
    )


def _labels(connection: Connection, by: str, counted: Counted) -> dict[str, str]:
    """What people call the things that are known here by an id."""
    called = {"batch": (batches.c.batch, batches.c.number)} | dict.fromkeys(
        ("load", "lot"), (loads.c.load, loads.c.number)
    )
    if by not in called:
        return {}
    name, label = called[by]
    labels = dict[str, str]()
    for few in in_parts(value for _, value in counted):
        labels |= {row[0]: row[1] for row in connection.execute(select(name, label).where(name.in_(few)))}
    return labels


def _bars(counted: Counted, unit: Unit, labels: dict[str, str], looked: dict[str, int]) -> list[Bar]:
    places = {(name if sort == "value" else f"{BEHIND_NAMES}{sort}{name}"): (sort, name) for sort, name in counted}
    lengths = {place: counted[key][unit == "pieces"] for place, key in places.items()}
    ranked = pareto(lengths)
    bars = []
    for bar, below in zip_longest(ranked, ranked[1:]):
        sort, name = places[bar.name]
        bars.append(
            Bar(
                name=name,
                sort=sort,
                label=labels.get(name, name),
                count=counted[sort, name][0],
                pieces=counted[sort, name][1],
                looked=looked.get(name, 0),
                share=bar.share,
                cumulative=bar.cumulative,
                too_few_to_rank=below is not None and too_few_to_rank(int(bar.count), int(below.count)),
            )
        )
    return bars
