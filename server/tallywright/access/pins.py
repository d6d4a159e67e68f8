# SPDX-License-Identifier: Apache-2.0
"""PINs: set by their person, kept as verifiers only, checked slowly, and never the same as everybody's."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError
from sqlalchemy import Connection, delete, insert, select

from tallywright.access.tables import pin_verifiers, wrong_pins
from tallywright.errors import PinRefused

# OWASP's password storage cheat sheet, argon2id: 19 MiB, two passes, one lane (from memory).
_hasher = PasswordHasher(time_cost=2, memory_cost=19 * 1024, parallelism=1)

SHORTEST = 4
SHORTEST_OF_DECIDERS = 8
DECIDERS = frozenset({"lead", "administrator"})
LONGEST = 64
WRONG_PINS = 10

# What people choose when they may: the most frequent PINs of published leaks (from memory), and years.
COMMON = frozenset(
    {"1234", "1111", "0000", "1212", "7777", "1004", "2000", "4444", "2222", "6969", "9999", "3333", "5555"}
    | {"6666", "1122", "1313", "8888", "4321", "2001", "1010", "2580", "12345678", "87654321", "11223344"}
    | {"12341234", "password"}
    | {str(year) for year in range(1940, 2031)}
)


def set_pin(connection: Connection, now: int, person: str, roles: Iterable[str], pin: str) -> None:
    """Keep a verifier of a person's PIN in place of the one before; raises PinRefused for one that is too easy."""
    shortest = SHORTEST_OF_DECIDERS if DECIDERS & set(roles) else SHORTEST
    if not shortest <= len(pin) <= LONGEST:
        raise PinRefused(
            f"This PIN has {len(pin)} characters. Choose one of {shortest} to {LONGEST}.", shortest=shortest
        )
    if pin.lower() in COMMON or len(set(pin)) == 1 or _is_row(pin):
        raise PinRefused("Too many people have this PIN. Choose another.")
    connection.execute(delete(pin_verifiers).where(pin_verifiers.c.person == person))
    connection.execute(
        insert(pin_verifiers).values(
            person=person, verifier=_hasher.hash(pin), set_at=now, is_long=len(pin) >= SHORTEST_OF_DECIDERS
        )
    )
    # A new PIN is a new beginning for every tablet that had guessed too often.
    connection.execute(delete(wrong_pins).where(wrong_pins.c.person == person))


def verifier_of(connection: Connection, person: str, roles: Iterable[str]) -> str | None:
    """Return the person's verifier, or None before a PIN was set that is long enough for these roles.

    Somebody who came to decide later has a short PIN: it proves nothing until a long one was set in its place.
    """
    here = select(pin_verifiers.c.verifier).where(pin_verifiers.c.person == person)
    if DECIDERS & set(roles):
        here = here.where(pin_verifiers.c.is_long)
    found: str | None = connection.scalar(here)
    return found


def is_right(verifier: str | None, pin: str) -> bool:
    """True when the verifier was made from this PIN. Takes tens of milliseconds: never call it in a write."""
    if verifier is None:
        return False
    try:
        return _hasher.verify(verifier, pin)
    except (VerificationError, InvalidHashError):
        return False


def wrong_tries(connection: Connection, person: str, device: str) -> int:
    """How many PINs of this person were wrong in a row on this tablet."""
    place = (wrong_pins.c.person == person) & (wrong_pins.c.device == device)
    return connection.scalar(select(wrong_pins.c.tries).where(place)) or 0


def waiting_pairs(connection: Connection) -> list[tuple[str, str]]:
    """Pairs of person and device with so many wrong PINs in a row that none is opened until a new PIN is set."""
    rows = connection.execute(
        select(wrong_pins.c.person, wrong_pins.c.device)
        .where(wrong_pins.c.tries >= WRONG_PINS)
        .order_by(wrong_pins.c.person, wrong_pins.c.device)
    )
    return [(row.person, row.device) for row in rows]


def note_try(connection: Connection, person: str, device: str, right: bool) -> None:
    """Count a wrong PIN; a right one ends the row."""
    tries = 0 if right else wrong_tries(connection, person, device) + 1
    place = (wrong_pins.c.person == person) & (wrong_pins.c.device == device)
    connection.execute(delete(wrong_pins).where(place))
    if tries:
        connection.execute(insert(wrong_pins).values(person=person, device=device, tries=tries))


def _is_row(pin: str) -> bool:
    """True for digits or letters in a row, up or down."""
    steps = {ord(b) - ord(a) for a, b in pairwise(pin)}
    return steps in ({1}, {-1})
