# SPDX-License-Identifier: Apache-2.0
"""Properties of tallywright.computation.identity."""

from __future__ import annotations

import hashlib
from datetime import UTC, date, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.computation import identity
from tallywright.computation.errors import OutOfRange

ZONES = ["Europe/Berlin", "Europe/London", "America/New_York", "Australia/Lord_Howe", "Asia/Kolkata", "UTC"]
CLOCKS = st.builds("{:02d}:{:02d}".format, st.integers(0, 23), st.integers(0, 59))
# Instants within four days of the clock changes of 2026 in Berlin, London, New York and on Lord Howe Island.
CHANGES = [
    datetime(2026, month, day, tzinfo=UTC) for month, day in ((3, 8), (3, 29), (4, 5), (10, 4), (10, 25), (11, 1))
]
INSTANTS = st.builds(
    lambda change, seconds: change + timedelta(seconds=seconds),
    st.sampled_from(CHANGES),
    st.integers(-4 * 86400, 4 * 86400),
)


@st.composite
def calendars(draw: st.DrawFn) -> identity.ShiftCalendar:
    clocks = draw(st.lists(CLOCKS, min_size=1, max_size=5, unique=True))
    return identity.ShiftCalendar(
        draw(st.sampled_from(ZONES)), [(f"s{i}", clock) for i, clock in enumerate(clocks)]
    )


@given(INSTANTS, calendars())
def test_an_instant_lies_inside_its_shift(instant: datetime, calendar: identity.ShiftCalendar) -> None:
    shift = identity.shift_of(instant, calendar)
    assert shift.start <= instant < shift.end


@given(INSTANTS, calendars())
def test_shifts_follow_one_another_without_gap_or_overlap(
    instant: datetime, calendar: identity.ShiftCalendar
) -> None:
    shift = identity.shift_of(instant, calendar)
    following = identity.shift_of(shift.end, calendar)
    assert following.start == shift.end
    assert identity.shift_of(shift.end - timedelta(microseconds=1), calendar) == shift
    assert (following.day, following.name) != (shift.day, shift.name)


@given(INSTANTS, calendars())
def test_the_day_of_a_shift_is_the_local_day_of_its_start(
    instant: datetime, calendar: identity.ShiftCalendar
) -> None:
    from zoneinfo import ZoneInfo

    shift = identity.shift_of(instant, calendar)
    assert shift.start.astimezone(ZoneInfo(calendar.zone)).date() == shift.day


def test_a_start_that_the_clock_leaves_out_is_the_moment_of_the_change() -> None:
    calendar = identity.ShiftCalendar("Europe/Berlin", (("a", "02:30"), ("b", "03:15")))
    shift = identity.shift_of(datetime(2026, 3, 29, 1, 5, tzinfo=UTC), calendar)
    assert (shift.name, shift.start) == ("a", datetime(2026, 3, 29, 1, 0, tzinfo=UTC))
    assert shift.end == datetime(2026, 3, 29, 1, 15, tzinfo=UTC)


def test_a_start_that_comes_twice_is_the_first_of_the_two() -> None:
    calendar = identity.ShiftCalendar("Europe/Berlin", (("a", "02:30"), ("b", "14:00")))
    shift = identity.shift_of(datetime(2026, 10, 25, 1, 40, tzinfo=UTC), calendar)
    assert shift.start == datetime(2026, 10, 25, 0, 30, tzinfo=UTC)


def test_a_day_that_a_zone_skips_has_no_shift() -> None:
    # Samoa went from 29 to 31 December 2011.
    calendar = identity.ShiftCalendar("Pacific/Apia", (("day", "06:00"), ("night", "18:00")))
    days = {
        identity.shift_of(datetime(2011, 12, 28, tzinfo=UTC) + timedelta(hours=hour), calendar).day
        for hour in range(120)
    }
    assert date(2011, 12, 30) not in {day for day in days if day != date(2011, 12, 30)}
    assert {date(2011, 12, 29), date(2011, 12, 31)} <= days


def test_the_order_of_the_starts_does_not_matter() -> None:
    assert identity.ShiftCalendar("UTC", [("n", "22:00"), ("e", "06:00")]) == identity.ShiftCalendar(
        "UTC", [("e", "06:00"), ("n", "22:00")]
    )


def test_a_time_without_a_zone_is_refused() -> None:
    with pytest.raises(OutOfRange, match="instant"):
        identity.shift_of(datetime(2026, 3, 29, 1, 5), identity.ShiftCalendar("UTC", (("a", "06:00"),)))  # noqa: DTZ001


@pytest.mark.parametrize(
    ("zone", "starts"),
    [
        ("Europe/Nowhere", (("a", "06:00"),)),
        ("UTC", ()),
        ("UTC", (("a", "24:00"),)),
        ("UTC", (("a", "6:00"),)),
        ("UTC", (("a", "06:00"), ("b", "06:00"))),
        ("UTC", (("a", "06:00"), ("a", "07:00"))),
    ],
)
def test_a_calendar_that_leaves_a_doubt_is_refused(zone: str, starts: tuple[tuple[str, str], ...]) -> None:
    with pytest.raises(OutOfRange, match=r"zone|starts"):
        identity.ShiftCalendar(zone, starts)


BODIES = st.text("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ", min_size=1, max_size=20)
DIGITS = st.text("0123456789", min_size=1, max_size=20)


@given(BODIES, st.data())
def test_every_single_wrong_character_shows(body: str, data: st.DataObject) -> None:
    text = body + identity.check_character(body)
    place = data.draw(st.integers(0, len(text) - 1))
    wrong = data.draw(st.sampled_from("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*"))
    mistyped = text[:place] + wrong + text[place + 1 :]
    assert identity.check_character_holds(mistyped) == (mistyped == text)


@given(
    st.one_of(BODIES.map(lambda body: (body, "mod37_2")), DIGITS.map(lambda body: (body, "mod11_2"))),
    st.data(),
)
def test_every_swap_of_two_neighbours_shows(case: tuple[str, identity.Scheme], data: st.DataObject) -> None:
    body, scheme = case
    text = body + identity.check_character(body, scheme)
    place = data.draw(st.integers(0, len(text) - 2))
    swapped = text[:place] + text[place + 1] + text[place] + text[place + 2 :]
    assert identity.check_character_holds(swapped, scheme) == (swapped == text)


def test_a_lower_case_letter_does_not_hold() -> None:
    assert not identity.check_character_holds("ht04177")
    assert identity.check_character_holds("HT04177")


def _root_by_halves(leaves: list[bytes]) -> bytes:
    """The definition of RFC 6962 word for word, as a second way to the same hash."""
    if len(leaves) < 2:
        return hashlib.sha256(b"\x00" + leaves[0] if leaves else b"").digest()
    half = 1
    while half * 2 < len(leaves):
        half *= 2
    return hashlib.sha256(b"\x01" + _root_by_halves(leaves[:half]) + _root_by_halves(leaves[half:])).digest()


@given(st.lists(st.binary(max_size=8), max_size=40))
def test_the_head_equals_the_recursive_definition(leaves: list[bytes]) -> None:
    assert identity.merkle_root(leaves) == _root_by_halves(leaves)
