# SPDX-License-Identifier: Apache-2.0
"""Published values for tallywright.computation.identity."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime, timedelta

import pytest

from tallywright.computation import identity

Table = Callable[[str], list[dict[str, str]]]

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


def test_check_characters_equal_the_table(table: Table) -> None:
    for row in table("check_characters.csv"):
        scheme: identity.Scheme = "mod37_2" if row["scheme"] == "mod37_2" else "mod11_2"
        assert identity.check_character(row["body"], scheme) == row["check"], row
        assert identity.check_character_holds(row["body"] + row["check"], scheme), row


# Source: RFC 6962, section 2.1; the leaves and the roots of 1 to 8 of them are the classic test vectors of
# certificate
# transparency (from memory); recursive and stacked computation agree.
LEAVES = ["", "00", "10", "2021", "3031", "40414243", "5051525354555657", "606162636465666768696a6b6c6d6e6f"]
ROOTS = [
    "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855",
    "6e340b9cffb37a989ca544e6bb780a2c78901d3fb33738768511a30617afa01d",
    "fac54203e7cc696cf0dfcb42c92a1d9dbaf70ad9e621f4bd8d98662f00e3c125",
    "aeb6bcfe274b70a14fb067a5e5578264db0fa9b51af5e0ba159158f329e06e77",
    "d37ee418976dd95753c1c73862b9398fa2a2cf9b4ff0fdfe8b30cd95209614b7",
    "4e3bbb1f7b478dcfe71fb631631519a3bca12c9aefca1612bfce4c13a86264d4",
    "76e67dadbcdf1e10e1b74ddc608abd2f98dfb16fbce75277b5232a127f2087ef",
    "ddb89be403809e325750d3d263cd78929c2942b7942a34b77e122c9594a74c8c",
    "5dc9da79a70659a9ad559cb701ded9a2ab9d823aad2f4960cfe370eff4604328",
]


@pytest.mark.parametrize(("count", "root"), list(enumerate(ROOTS)))
def test_the_head_of_so_many_leaves_is_the_printed_one(count: int, root: str) -> None:
    assert identity.merkle_root([bytes.fromhex(leaf) for leaf in LEAVES[:count]]).hex() == root
