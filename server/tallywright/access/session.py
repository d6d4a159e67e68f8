# SPDX-License-Identifier: Apache-2.0
"""Sessions of enrolled devices: opened at enrolment, and again by signing a challenge with the device's key."""

from __future__ import annotations

import base64
import hashlib

from sqlalchemy import Connection, bindparam, delete, insert, select

from tallywright.access.devices import public_keys, revoked
from tallywright.access.tables import challenges, sessions
from tallywright.clock import Clock
from tallywright.definitions.people import roles_of, site_day
from tallywright.errors import NotEnrolled
from tallywright.log.chains import read_heads
from tallywright.log.tables import records
from tallywright.projections.tables import sign_ons
from tallywright.records.kinds import number_of
from tallywright.records.signature import is_signed

CHALLENGE_LIFE_MS = 2 * 60 * 1000
SESSION_LIFE_MS = 7 * 24 * 60 * 60 * 1000
SIGN_ON_LIFE_MS = 12 * 60 * 60 * 1000
# Asked at every request: built once.
_DEVICE = select(sessions.c.device).where(
    sessions.c.token_hash == bindparam("token_hash"), sessions.c.ends_at > bindparam("now")
)


def open_session(connection: Connection, clock: Clock, device: str) -> str:
    """Return the token of a new session; only its hash is kept."""
    now = clock.now_ms()
    token = _random_text(clock)
    connection.execute(delete(sessions).where(sessions.c.ends_at <= now))
    connection.execute(
        insert(sessions).values(token_hash=_hash(token), device=device, ends_at=now + SESSION_LIFE_MS)
    )
    return token


def session_device(connection: Connection, clock: Clock, token: str) -> str:
    """Return the device a token belongs to; raises NotEnrolled for a token that is unknown or past its time."""
    device: str | None = connection.scalar(_DEVICE, {"token_hash": _hash(token), "now": clock.now_ms()})
    if device is None or revoked(connection, [device]):
        raise NotEnrolled("This browser has no session. It signs in again by itself, or enrol it with a new code.")
    return device


def make_challenge(connection: Connection, clock: Clock, device: str) -> str:
    """Return a text for a device to sign, usable once. Made for unknown devices too: the answer tells nothing."""
    now = clock.now_ms()
    challenge = _random_text(clock)
    connection.execute(delete(challenges).where(challenges.c.ends_at <= now))
    connection.execute(
        insert(challenges).values(challenge_hash=_hash(challenge), device=device, ends_at=now + CHALLENGE_LIFE_MS)
    )
    return challenge


def answer_challenge(connection: Connection, clock: Clock, device: str, challenge: str, signature: str) -> str:
    """Spend a challenge and return the token of a new session; raises NotEnrolled."""
    spent = connection.execute(
        delete(challenges).where(
            challenges.c.challenge_hash == _hash(challenge),
            challenges.c.device == device,
            challenges.c.ends_at > clock.now_ms(),
        )
    )
    key = public_keys(connection, [device]).get(device)
    text = f"tallywright-session-1|{device}|{challenge}".encode()
    if spent.rowcount != 1 or key is None or revoked(connection, [device]) or not is_signed(key, text, signature):
        raise NotEnrolled("The device could not prove that it is enrolled. Enrol it with a new code.")
    return open_session(connection, clock, device)


def roles_at(connection: Connection, clock: Clock, device: str, sign_on: str) -> frozenset[str]:
    """Return the roles of whoever is signed on at a device; none unless the sign-on is theirs to name.

    It must stand in a chain of this device, be the newest there, be proven, and have come within a working day:
    so a tablet that somebody left behind opens nothing the next morning, and naming an old sign-on opens nothing.
    """
    row = connection.execute(select(sign_ons).where(sign_ons.c.sign_on == sign_on)).first()
    if row is None or not row.proven:
        return frozenset()
    head = read_heads(connection, [row.chain])[row.chain]
    newest = max(
        map(number_of, connection.scalars(select(sign_ons.c.sign_on).where(sign_ons.c.chain == row.chain)))
    )
    came = connection.scalar(
        select(records.c.received_at).where(records.c.chain == row.chain, records.c.n == number_of(sign_on))
    )
    now = clock.now_ms()
    if head.device != device or number_of(sign_on) != newest or came is None or now - came > SIGN_ON_LIFE_MS:
        return frozenset()
    return roles_of(connection, row.person, site_day(connection, now))


def _random_text(clock: Clock) -> str:
    return base64.urlsafe_b64encode(clock.random_bytes(24)).decode()


def _hash(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()
