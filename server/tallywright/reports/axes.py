# SPDX-License-Identifier: Apache-2.0
"""The two axes of time a find stands on: when it was found, and when its batch was where it is born."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import ColumnElement, FromClause, and_, exists, not_

from tallywright.projections.tables import finds, origins
from tallywright.reports.strata import finds_with, is_of_find

_SPAN = origins.alias("of_span")


@dataclass(frozen=True, slots=True)
class Placed:
    """Finds of a span of time: what to select from, and which rows of it. Each find stands in it once, or not."""

    source: FromClause
    where: ColumnElement[bool]


def found_on(strata: Iterable[str], start: int, end: int) -> Placed:
    """Finds that were found in the span."""
    return Placed(finds_with(strata), and_(finds.c.found_at >= start, finds.c.found_at < end))


def made_on(strata: Iterable[str], start: int, end: int) -> Placed:
    """Finds that were made in the span for sure: their batch came to its operation in it, and left in it."""
    return Placed(_with_span(strata), _within(start, end))


def perhaps_made_on(strata: Iterable[str], start: int, end: int) -> Placed:
    """Finds whose batch was at its operation across an end of the span."""
    meets = and_(_SPAN.c.ended_at >= start, _SPAN.c.started_at < end)
    return Placed(_with_span(strata), and_(meets, not_(_within(start, end))))


def not_placed(strata: Iterable[str], start: int) -> Placed:
    """Finds that may be of any span from its start on: nothing is recorded of when they were made."""
    span = exists().where(is_of_find(_SPAN, "span"))
    return Placed(finds_with(strata), and_(finds.c.found_at >= start, not_(span)))


def _with_span(strata: Iterable[str]) -> FromClause:
    return finds_with(strata).join(_SPAN, is_of_find(_SPAN, "span"))


def _within(start: int, end: int) -> ColumnElement[bool]:
    return and_(_SPAN.c.ended_at >= start, _SPAN.c.ended_at < end, _SPAN.c.started_at >= start)
