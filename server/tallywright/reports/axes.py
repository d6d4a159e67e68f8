# SPDX-License-Identifier: Apache-2.0
"""The two axes of time a find stands on: when it was found, and when its batch was where it is born."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import ColumnElement, FromClause, and_, exists, false, not_

from tallywright.projections.tables import finds, origins, spans, sums
from tallywright.reports.strata import is_of_find

_SPAN = origins.alias("of_span")
_WITH_SPAN = finds.join(_SPAN, is_of_find(_SPAN, "span"))


@dataclass(frozen=True, slots=True)
class Placed:
    """Finds of a span of time: what to select from, and which rows of it. Each find stands in it once, or not.

    wholly  the batches that need not be read find by find, as a condition on their row of spans
    sums    which of their sums stand for the finds of such a batch, as a condition on these
    partly  the other batches that may have finds in it, as a condition on their row of spans
    """

    source: FromClause
    where: ColumnElement[bool]
    wholly: ColumnElement[bool]
    sums: ColumnElement[bool]
    partly: ColumnElement[bool]


def found_on(start: int, end: int) -> Placed:
    """Finds that were found in the span."""
    here = and_(finds.c.found_at >= start, finds.c.found_at < end)
    meets = and_(spans.c.found_last >= start, spans.c.found_first < end)
    wholly = and_(spans.c.found_first >= start, spans.c.found_last < end)
    return Placed(finds, here, wholly, not_(sums.c.placed), and_(meets, not_(wholly)))


def made_on(start: int, end: int) -> Placed:
    """Finds that were made in the span for sure: their batch came to its operation in it, and left in it."""
    # Where a batch has other finds beside, those with a time of making are summed once more by themselves.
    these = sums.c.placed == (spans.c.unplaced > 0)
    partly = _some_across(start, end)
    return Placed(_WITH_SPAN, _within(start, end), _all_within(start, end), these, partly)


def perhaps_made_on(start: int, end: int) -> Placed:
    """Finds whose batch was at its operation across an end of the span."""
    meets = and_(_SPAN.c.ended_at >= start, _SPAN.c.started_at < end)
    here = and_(meets, not_(_within(start, end)))
    return Placed(_WITH_SPAN, here, false(), false(), _some_across(start, end))


def not_placed(start: int) -> Placed:
    """Finds that may be of any span from its start on: nothing is recorded of when they were made."""
    span = exists().where(is_of_find(_SPAN, "span"))
    here = and_(finds.c.found_at >= start, not_(span))
    some, first = spans.c.unplaced > 0, spans.c.found_first
    partly = and_(some, first < start, spans.c.found_last >= start)
    return Placed(finds, here, and_(some, first >= start), false(), partly)


def _within(start: int, end: int) -> ColumnElement[bool]:
    return and_(_SPAN.c.ended_at >= start, _SPAN.c.ended_at < end, _SPAN.c.started_at >= start)


def _all_within(start: int, end: int) -> ColumnElement[bool]:
    return and_(spans.c.made_first >= start, spans.c.made_last < end, spans.c.made_last > 0)


def _some_across(start: int, end: int) -> ColumnElement[bool]:
    return and_(spans.c.made_last >= start, spans.c.made_first < end, not_(_all_within(start, end)))
