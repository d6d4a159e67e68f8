# SPDX-License-Identifier: Apache-2.0
"""The shift that a moment belongs to, by the site's calendar and zone."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import Connection

from tallywright.computation.identity import shift_of
from tallywright.definitions.published import shift_calendar


@dataclass(frozen=True, slots=True)
class PresentShift:
    """A shift by its name and the day it belongs to; `end` is not included [ms]."""

    start: int
    end: int
    shift: str
    day: str


def present_shift(connection: Connection, now_ms: int) -> PresentShift:
    """Return the shift of a moment."""
    found = shift_of(datetime.fromtimestamp(now_ms / 1000, UTC), shift_calendar(connection))
    start, end = (int(edge.timestamp() * 1000) for edge in (found.start, found.end))
    return PresentShift(start, end, found.name, found.day.isoformat())
