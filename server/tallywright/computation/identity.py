# SPDX-License-Identifier: Apache-2.0
"""Names that can be trusted: check characters, the shift of an instant, the head of a list of records.

May import the standard library and the room's own checks only: a push reaches this module.
"""

from __future__ import annotations

import hashlib
import re
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from functools import lru_cache
from typing import Literal
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from tallywright.computation import require
from tallywright.computation.errors import OutOfRange

__all__ = ["Shift", "ShiftCalendar", "check_character", "check_character_holds", "merkle_root", "shift_of"]

Scheme = Literal["mod37_2", "mod11_2"]

# Characters in the order of their value; the last one is a check character only.
_ALPHABETS = {"mod37_2": "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ*", "mod11_2": "0123456789X"}

_CLOCK = re.compile(r"([01][0-9]|2[0-3]):([0-5][0-9])", re.ASCII)


@dataclass(frozen=True, slots=True)
class ShiftCalendar:
    """When shifts start, every day, on the clock of one time zone.

    zone        name in the IANA time zone data, as 'Europe/Berlin'
    starts      (name, 'HH:MM') pairs, any order; names and times each once. A shift lasts until the next
                start.
    """

    zone: str
    starts: Sequence[tuple[str, str]]

    def __post_init__(self) -> None:
        """Refuse a calendar that does not cut time into shifts without a doubt."""
        _zone(self.zone)
        # A tuple in the order of the day, so that equal calendars are equal and can be remembered by value.
        pairs = tuple(sorted(((name, clock) for name, clock in self.starts), key=lambda pair: pair[1]))
        require.holds("starts", "at least one (name, 'HH:MM') pair", self.starts, len(pairs) > 0)
        for name, clock in pairs:
            sound = name != "" and _CLOCK.fullmatch(clock) is not None
            require.holds("starts", "(name, 'HH:MM') pairs with 00:00 to 23:59", (name, clock), sound)
        for column in zip(*pairs, strict=True):
            require.holds(
                "starts", "pairs with each name and each time once", pairs, len(set(column)) == len(pairs)
            )
        object.__setattr__(self, "starts", pairs)


@dataclass(frozen=True, slots=True)
class Shift:
    """One shift: its name, the local day it starts on, and its two ends in UTC (start included, end not).

    The ends are in UTC because the difference of two local times of one zone ignores a clock change
    between them.
    """

    name: str
    day: date
    start: datetime
    end: datetime


def shift_of(instant: datetime, calendar: ShiftCalendar) -> Shift:
    """The shift an instant belongs to; a night belongs to the day it starts on.

    instant     any time with its zone (naive times are refused)
    calendar    when shifts start, on the clock of one zone
    returns     Shift; start <= instant < end
    valid       years 2 to 9998. A start on a clock time that a change leaves out is the moment of the
                change; a start on a time that comes twice is the first of the two. So shifts cut time
                without gap or overlap, and a night is an hour shorter or longer when the clock changes.
    formula     the last start at or before the instant, of the starts put on the local clock of each day
    source      clock changes: IANA time zone data; the day of a night shift is a convention, stated here
    checked     tests/published/test_identity_published.py
    """
    require.holds(
        "instant",
        "a time with its zone",
        instant,
        instant.tzinfo is not None and instant.utcoffset() is not None,
    )
    require.holds("instant", "in the years 2 to 9998", instant, 2 <= instant.year <= 9998)
    moment = instant.astimezone(UTC)
    starts, labels = _starts_around(calendar, moment.astimezone(_zone(calendar.zone)).date())
    place = bisect_right(starts, moment)
    name, day = labels[place - 1]
    return Shift(name, day, starts[place - 1], starts[place])


def check_character(body: str, scheme: Scheme = "mod37_2") -> str:
    """The character that makes a mistyped or misread name show.

    body        the name without it: digits and capital letters (mod37_2), digits (mod11_2); at least one
                [characters]
    scheme      'mod37_2' or 'mod11_2'
    returns     one character of the body's alphabet, or '*' (mod37_2), or 'X' (mod11_2)
    valid       finds every single wrong character and every swap of two neighbours; says nothing on who
                wrote it
    formula     the sum of value x 2^place, check character at place 0, is 1 modulo 37 (or 11)
    source      ISO/IEC 7064:2003, pure systems MOD 37-2 and MOD 11-2
    checked     tests/published/test_identity_published.py
    """
    alphabet = _ALPHABETS[require.one_of("scheme", scheme, _ALPHABETS)]
    wanted = f"one or more of {alphabet[:-1]}"
    require.holds("body", wanted, body, body != "" and set(body) <= set(alphabet[:-1]))
    modulus = len(alphabet)
    remainder = 0
    for character in body:
        remainder = (remainder + alphabet.index(character)) * 2 % modulus
    return alphabet[(1 - remainder) % modulus]


def check_character_holds(text: str, scheme: Scheme = "mod37_2") -> bool:
    """Whether the last character of a name is the check character of the rest.

    text        name with its check character, at least two characters            [characters]
    scheme      'mod37_2' or 'mod11_2'
    returns     True or False; a character that the scheme does not know makes it False
    valid       as check_character; one wrong name in 37 (or 11) made at random passes
    formula     as check_character
    source      ISO/IEC 7064:2003, pure systems MOD 37-2 and MOD 11-2
    checked     tests/published/test_identity_published.py
    """
    alphabet = _ALPHABETS[require.one_of("scheme", scheme, _ALPHABETS)]
    require.holds("text", "at least two characters", text, len(text) >= 2)
    if not set(text[:-1]) <= set(alphabet[:-1]):
        return False
    return check_character(text[:-1], scheme) == text[-1]


def merkle_root(leaves: Sequence[bytes]) -> bytes:
    """One hash that stands for a list of records: another record, or another order, gives another hash.

    leaves      records as bytes, in order; none is allowed  (leaf,)              [bytes]
    returns     SHA-256 tree head, 32 bytes                                       [bytes]
    valid       any number of leaves; leaves and nodes are hashed with different first bytes, so neither
                can pose as the other
    formula     leaf: H(0x00, leaf); node: H(0x01, left, right), split at the largest power of two below
                the count; no leaves: H of nothing
    source      RFC 6962, section 2.1
    checked     tests/published/test_identity_published.py
    """
    # Complete subtrees wait with their heights; two of one height become one of the next.
    waiting: list[tuple[int, bytes]] = []
    for leaf in leaves:
        require.holds("leaves", "a list of bytes", leaf, isinstance(leaf, bytes))
        height, head = 0, hashlib.sha256(b"\x00" + leaf).digest()
        while waiting and waiting[-1][0] == height:
            head = hashlib.sha256(b"\x01" + waiting.pop()[1] + head).digest()
            height += 1
        waiting.append((height, head))
    if not waiting:
        return hashlib.sha256(b"").digest()
    head = waiting.pop()[1]
    while waiting:
        head = hashlib.sha256(b"\x01" + waiting.pop()[1] + head).digest()
    return head


def _zone(name: str) -> ZoneInfo:
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, TypeError, OSError):
        raise OutOfRange(f"zone must be a name of the IANA time zone data, not {name!r}") from None


@lru_cache(maxsize=512)
def _starts_around(calendar: ShiftCalendar, day: date) -> tuple[list[datetime], list[tuple[str, date]]]:
    """Starts (UTC, never falling) with labels, two days before to two after: a zone may skip a day."""
    zone = _zone(calendar.zone)
    starts: list[datetime] = []
    labels: list[tuple[str, date]] = []
    for offset in range(-2, 3):
        start_day = day + timedelta(days=offset)
        for name, clock in calendar.starts:
            starts.append(_instant_of(datetime.combine(start_day, time.fromisoformat(clock), zone)))
            labels.append((name, start_day))
    return starts, labels


def _instant_of(wall: datetime) -> datetime:
    """The first instant at which the local clock shows this time, or the change that leaves it out."""
    late = wall.replace(fold=0).astimezone(UTC)
    if late.astimezone(wall.tzinfo).replace(tzinfo=None) == wall.replace(tzinfo=None):
        return late
    # In a gap, fold=1 reads the time with the offset after the change and so lands before the change:
    # the change lies between the two readings, and halving finds it.
    early = wall.replace(fold=1).astimezone(UTC)
    before = early.astimezone(wall.tzinfo).utcoffset()
    while late - early > timedelta(seconds=1):
        middle = early + timedelta(seconds=(late - early) // timedelta(seconds=2))
        if middle.astimezone(wall.tzinfo).utcoffset() == before:
            early = middle
        else:
            late = middle
    return late
