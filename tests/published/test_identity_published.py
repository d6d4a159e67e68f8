# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.identity."""

from __future__ import annotations

from datetime import date, datetime, timedelta

import pytest

from tallywright.computation import identity

# Source: IANA time zone data 2026.6; offsets checked by hand (7 h in spring, 9 h in autumn, 8 h otherwise).
# Columns: zone, local day the night starts on, start in UTC, end in UTC, elapsed hours.
NIGHTS = [
    ("Europe/London", "2026-03-28", "2026-03-28T22:00:00+00:00", "2026-03-29T05:00:00+00:00", 7),
    ("Europe/London", "2026-10-24", "2026-10-24T21:00:00+00:00", "2026-10-25T06:00:00+00:00", 9),
    ("Europe/Berlin", "2026-03-28", "2026-03-28T21:00:00+00:00", "2026-03-29T04:00:00+00:00", 7),
    ("Europe/Berlin", "2026-10-24", "2026-10-24T20:00:00+00:00", "2026-10-25T05:00:00+00:00", 9),
    ("America/New_York", "2026-03-07", "2026-03-08T03:00:00+00:00", "2026-03-08T10:00:00+00:00", 7),
    ("America/New_York", "2026-10-31", "2026-11-01T02:00:00+00:00", "2026-11-01T11:00:00+00:00", 9),
    ("Europe/London", "2026-11-24", "2026-11-24T22:00:00+00:00", "2026-11-25T06:00:00+00:00", 8),
    ("Asia/Kolkata", "2026-03-28", "2026-03-28T16:30:00+00:00", "2026-03-29T00:30:00+00:00", 8),
]
STARTS = (("early", "06:00"), ("late", "14:00"), ("night", "22:00"))


@pytest.mark.parametrize(("zone", "day", "start", "end", "hours"), NIGHTS)
def test_a_night_over_a_clock_change_has_its_true_length(
    zone: str, day: str, start: str, end: str, hours: int
) -> None:
    inside = datetime.fromisoformat(start) + timedelta(hours=5)
    shift = identity.shift_of(inside, identity.ShiftCalendar(zone, STARTS))
    assert (shift.name, shift.day) == ("night", date.fromisoformat(day))
    assert (shift.start, shift.end) == (datetime.fromisoformat(start), datetime.fromisoformat(end))
    assert shift.end - shift.start == timedelta(hours=hours)


def test_a_check_at_two_in_the_morning_belongs_to_the_day_before() -> None:
    # Convention stated in the module: the production day of a night is the local date of its start.
    calendar = identity.ShiftCalendar("Europe/London", STARTS)
    shift = identity.shift_of(datetime.fromisoformat("2026-11-25T02:00:00+00:00"), calendar)
    assert (shift.name, shift.day) == ("night", date(2026, 11, 24))
