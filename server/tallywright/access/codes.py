# SPDX-License-Identifier: Apache-2.0
"""One-time codes: made at the server for one purpose, typed by a hand or scanned, usable once and for a while."""

from __future__ import annotations

import hashlib

from sqlalchemy import Connection, delete, insert, select

from tallywright.access.tables import one_time_codes, wrong_codes
from tallywright.clock import Clock
from tallywright.errors import CodeRefused, TooManyTries

# Eight letters of 32 carry 40 bits. No I, L, O, U: nothing that reads as a digit or as another letter.
CODE_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH = 8
CODE_LIFE_MS = 10 * 60 * 1000
DAY_MS = 24 * 60 * 60 * 1000
WRONG_CODES_A_MINUTE = 20

# What a code is for: one made for one purpose opens no other door.
ENROLMENT, FIRST_ADMINISTRATOR = "enrolment", "first administrator"


def pin_of(person: str) -> str:
    """Return the purpose of a code with which one person sets a PIN."""
    return f"pin {person}"


def make_code(connection: Connection, clock: Clock, purpose: str = ENROLMENT, life_ms: int = CODE_LIFE_MS) -> str:
    """Return a new code; only its hash is kept."""
    code = "".join(CODE_LETTERS[byte % len(CODE_LETTERS)] for byte in clock.random_bytes(CODE_LENGTH))
    now = clock.now_ms()
    connection.execute(delete(one_time_codes).where(one_time_codes.c.ends_at <= now))
    connection.execute(insert(one_time_codes).values(code_hash=_hash(code), purpose=purpose, ends_at=now + life_ms))
    return code


def spend_code(connection: Connection, clock: Clock, code: str, purpose: str) -> None:
    """Use a code up; raises TooManyTries, or CodeRefused for one that is not known, used, too old, or for else."""
    _check_tries(connection, clock)
    spent = connection.execute(
        delete(one_time_codes).where(
            one_time_codes.c.code_hash == _hash(normal_form(code)),
            one_time_codes.c.purpose == purpose,
            one_time_codes.c.ends_at > clock.now_ms(),
        )
    )
    if spent.rowcount != 1:
        raise CodeRefused("This code is not known, was used before, or is too old. Ask for a new one.")


def count_wrong_code(connection: Connection, clock: Clock) -> None:
    """Count a refused code; kept even though what it was for was rolled back."""
    minute = clock.now_ms() // 60_000
    connection.execute(delete(wrong_codes).where(wrong_codes.c.minute < minute))
    tries = connection.scalar(select(wrong_codes.c.tries).where(wrong_codes.c.minute == minute))
    if tries is None:
        connection.execute(insert(wrong_codes).values(minute=minute, tries=1))
    else:
        connection.execute(wrong_codes.update().where(wrong_codes.c.minute == minute).values(tries=tries + 1))


def normal_form(code: str) -> str:
    """Return what somebody typed as the code was made: capitals, no blanks or dashes, O as 0, I and L as 1."""
    letters = "".join(letter for letter in code.upper() if letter.isalnum())
    return letters.replace("O", "0").replace("I", "1").replace("L", "1")


def _check_tries(connection: Connection, clock: Clock) -> None:
    """Refuse any code while too many were wrong in this minute: 40 bits then outlast every patience."""
    minute = clock.now_ms() // 60_000
    tries = connection.scalar(select(wrong_codes.c.tries).where(wrong_codes.c.minute == minute))
    if (tries or 0) >= WRONG_CODES_A_MINUTE:
        raise TooManyTries("Too many wrong codes. Wait a minute, then type the code again.")


def _hash(code: str) -> str:
    return hashlib.sha256(code.encode()).hexdigest()
