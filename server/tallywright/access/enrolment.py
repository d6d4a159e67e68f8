# SPDX-License-Identifier: Apache-2.0
"""Enrolment by a one-time code: made at the server, typed on the tablet, usable once and for ten minutes."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass

from sqlalchemy import Connection, delete, insert, select

from tallywright.access.devices import free_letters
from tallywright.access.tables import enrolment_codes, wrong_codes
from tallywright.clock import Clock
from tallywright.errors import CodeRefused, TooManyTries
from tallywright.log.own_chain import OwnChain
from tallywright.projections.refold import refold
from tallywright.projections.tables import devices
from tallywright.records.kinds import DeviceEnrolledV1
from tallywright.records.signature import read_public_key

# Eight letters of 32 carry 40 bits. No I, L, O, U: nothing that reads as a digit or as another letter.
CODE_LETTERS = "0123456789ABCDEFGHJKMNPQRSTVWXYZ"
CODE_LENGTH = 8
CODE_LIFE_MS = 10 * 60 * 1000
WRONG_CODES_A_MINUTE = 20


@dataclass(frozen=True, slots=True)
class Enrolled:
    """A device as it was enrolled: its id, its tag letters, the works it belongs to."""

    device: str
    letters: str
    site: str


def make_code(connection: Connection, clock: Clock) -> str:
    """Return a new code; only its hash is kept."""
    code = "".join(CODE_LETTERS[byte % len(CODE_LETTERS)] for byte in clock.random_bytes(CODE_LENGTH))
    now = clock.now_ms()
    connection.execute(delete(enrolment_codes).where(enrolment_codes.c.ends_at <= now))
    connection.execute(insert(enrolment_codes).values(code_hash=_hash(code), ends_at=now + CODE_LIFE_MS))
    return code


def enrol(connection: Connection, clock: Clock, own: OwnChain, code: str, public_key: str, name: str) -> Enrolled:
    """Spend a code and enrol the device that holds the key.

    raises  CodeRefused, TooManyTries, NotUnderstood for a key that is none
    """
    read_public_key(public_key)
    now = clock.now_ms()
    spent = connection.execute(
        delete(enrolment_codes).where(
            enrolment_codes.c.code_hash == _hash(normal_form(code)), enrolment_codes.c.ends_at > now
        )
    )
    if spent.rowcount != 1:
        raise CodeRefused(
            "This code is not known, was used before, or is older than ten minutes. Ask for a new one."
        )
    known = connection.execute(select(devices).where(devices.c.public_key == public_key)).first()
    if known is not None:
        # The answer to an earlier enrolment of the same key was lost on the way; the device is the same one.
        return Enrolled(known.device, known.letters, own.site(connection))
    letters = free_letters(connection)
    [record] = own.write(connection, [DeviceEnrolledV1(name=name, letters=letters, public_key=public_key)])
    refold(connection, [record.subject])
    return Enrolled(record.id, letters, own.site(connection))


def count_wrong_code(connection: Connection, clock: Clock) -> None:
    """Count a refused code; kept even though the enrolment itself was rolled back."""
    minute = clock.now_ms() // 60_000
    connection.execute(delete(wrong_codes).where(wrong_codes.c.minute < minute))
    tries = connection.scalar(select(wrong_codes.c.tries).where(wrong_codes.c.minute == minute))
    if tries is None:
        connection.execute(insert(wrong_codes).values(minute=minute, tries=1))
    else:
        connection.execute(wrong_codes.update().where(wrong_codes.c.minute == minute).values(tries=tries + 1))


def check_tries(connection: Connection, clock: Clock) -> None:
    """Refuse any code while too many were wrong in this minute: 40 bits then outlast every patience.

    raises  TooManyTries
    """
    minute = clock.now_ms() // 60_000
    tries = connection.scalar(select(wrong_codes.c.tries).where(wrong_codes.c.minute == minute))
    if (tries or 0) >= WRONG_CODES_A_MINUTE:
        raise TooManyTries("Too many wrong codes. Wait a minute, then type the code again.")


def normal_form(code: str) -> str:
    """Return what somebody typed as the code was made: capitals, no blanks or dashes, O as 0, I and L as 1."""
    letters = "".join(letter for letter in code.upper() if letter.isalnum())
    return letters.replace("O", "0").replace("I", "1").replace("L", "1")


def _hash(code: str) -> str:
    return hashlib.sha256(code.encode()).hexdigest()
