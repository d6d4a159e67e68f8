# SPDX-License-Identifier: Apache-2.0
"""The defect Pareto of a span of time, found on: which words were marked, and on how many pieces."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection, and_, func, select

from tallywright.computation.identity import shift_of
from tallywright.computation.pareto import pareto
from tallywright.definitions.published import shift_calendar
from tallywright.projections.tables import finds


@dataclass(frozen=True, slots=True)
class DefectBar:
    """One bar: marks of the word, different pieces they stand on, share and cumulative share of all marks."""

    name: str
    count: int
    pieces: int
    share: float
    cumulative: float


@dataclass(frozen=True, slots=True)
class ShiftPareto:
    """Bars over a span; `shift` and `day` are named where the span is one shift.

    start, end  the span, end not included                     [ms]
    marks       all marks of the bars
    pieces      different pieces marked: less than the bars' sum where a piece carries several words
    """

    start: int
    end: int
    shift: str
    day: str
    marks: int
    pieces: int
    bars: list[DefectBar]


def pareto_of_shift(connection: Connection, now_ms: int, look: str = "", batch: str = "") -> ShiftPareto:
    """Return the Pareto of the shift that a moment belongs to, by the site's calendar and zone."""
    shift = shift_of(datetime.fromtimestamp(now_ms / 1000, UTC), shift_calendar(connection))
    start, end = (int(edge.timestamp() * 1000) for edge in (shift.start, shift.end))
    return _pareto(connection, start, end, look, batch, shift.name, shift.day.isoformat())


def pareto_of_span(connection: Connection, start: int, end: int, look: str = "", batch: str = "") -> ShiftPareto:
    """Return the Pareto of any span [ms], end not included."""
    return _pareto(connection, start, end, look, batch, "", "")


def _pareto(
    connection: Connection, start: int, end: int, look: str, batch: str, shift: str, day: str
) -> ShiftPareto:
    within = [finds.c.found_at >= start, finds.c.found_at < end]
    within += [finds.c.look == look] if look else []
    within += [finds.c.batch == batch] if batch else []
    where = and_(*within)
    pieces_of = func.count(func.distinct(finds.c.piece))
    rows = connection.execute(
        select(finds.c.defect, func.count(), pieces_of).where(where).group_by(finds.c.defect)
    ).all()
    pieces_by_word = {word: pieces for word, _, pieces in rows}
    bars = pareto({word: count for word, count, _ in rows})
    return ShiftPareto(
        start=start,
        end=end,
        shift=shift,
        day=day,
        marks=sum(count for _, count, _ in rows),
        pieces=connection.scalar(select(pieces_of).where(where)) or 0,
        bars=[
            DefectBar(bar.name, int(bar.count), pieces_by_word[bar.name], bar.share, bar.cumulative) for bar in bars
        ],
    )
