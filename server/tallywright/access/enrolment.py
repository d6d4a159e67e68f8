# SPDX-License-Identifier: Apache-2.0
"""Enrolment: a tablet spends a code and waits; an administrator compares a number and says yes."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, delete, insert, select

from tallywright.access.codes import ENROLMENT, FIRST_ADMINISTRATOR, spend_code
from tallywright.access.devices import free_letters
from tallywright.access.pins import set_pin
from tallywright.access.tables import waiting_devices
from tallywright.definitions.people import people
from tallywright.errors import CodeRefused, NotFound
from tallywright.log.own_chain import OwnChain
from tallywright.projections.refold import refold
from tallywright.projections.tables import devices
from tallywright.records.decode import sha256
from tallywright.records.kinds import DeviceEnrolledV1
from tallywright.records.people import PersonChangedV1
from tallywright.records.signature import read_public_key

WAITS_MS = 60 * 60 * 1000


@dataclass(frozen=True, slots=True)
class Enrolled:
    """A device as it was enrolled: its id, its tag letters, the works it belongs to."""

    device: str
    letters: str
    site: str


@dataclass(frozen=True, slots=True)
class Waiting:
    """A device that spent its code. `key` names its public key, `number` is what both screens show."""

    key: str
    public_key: str
    name: str
    number: str
    asked_at: int


def number_of_key(key: str) -> str:
    """Return the six digits by which people compare a key: its SHA-256 read as a number, its last six digits."""
    return f"{int(key, 16) % 1_000_000:06}"


def ask_with_code(
    connection: Connection, own: OwnChain, code: str, public_key: str, name: str
) -> Enrolled | Waiting:
    """Spend a code for a device; it is enrolled once an administrator said yes.

    raises  CodeRefused, TooManyTries, NotUnderstood for a key that is none
    """
    read_public_key(public_key)
    spend_code(connection, own.clock, code, ENROLMENT)
    known = _known(connection, own, public_key)
    if known is not None:
        # The answer to an earlier enrolment of the same key was lost on the way; the device is the same one.
        return known
    key, now = sha256(public_key.encode()), own.clock.now_ms()
    here = waiting_devices.c.key_hash == key
    connection.execute(delete(waiting_devices).where(here | (waiting_devices.c.ends_at <= now)))
    connection.execute(
        insert(waiting_devices).values(
            key_hash=key, public_key=public_key, name=name, asked_at=now, ends_at=now + WAITS_MS
        )
    )
    return Waiting(key, public_key, name, number_of_key(key), now)


def how_it_stands(connection: Connection, own: OwnChain, public_key: str) -> Enrolled | Waiting:
    """Return what became of a device that asked; raises NotFound for one that waits no more."""
    known = _known(connection, own, public_key)
    if known is not None:
        return known
    waiting = waiting_now(connection, own.clock.now_ms(), sha256(public_key.encode()))
    if not waiting:
        raise NotFound("No device with this key waits to be enrolled. Ask for a new code.")
    return waiting[0]


def waiting_now(connection: Connection, now: int, key: str | None = None) -> list[Waiting]:
    """Return the devices that wait, the one that asked first at the top; or the one of a key.

    Who was let in stands in the log, and waits no more: a rebuild of the log needs no row here to go.
    """
    let_in = select(devices.c.public_key)
    here = (waiting_devices.c.ends_at > now) & waiting_devices.c.public_key.not_in(let_in)
    rows = select(waiting_devices).where(here).order_by(waiting_devices.c.asked_at)
    if key is not None:
        rows = rows.where(waiting_devices.c.key_hash == key)
    return [
        Waiting(row.key_hash, row.public_key, row.name, number_of_key(row.key_hash), row.asked_at)
        for row in connection.execute(rows)
    ]


def turn_away(connection: Connection, now: int, key: str) -> None:
    """Let a device wait no more; it may come back with a new code. raises NotFound for one that does not wait."""
    if not waiting_now(connection, now, key):
        raise NotFound("No device with this key waits to be let in.")
    connection.execute(delete(waiting_devices).where(waiting_devices.c.key_hash == key))


def enrol(connection: Connection, own: OwnChain, public_key: str, name: str) -> Enrolled:
    """Write the enrolment of a device that waits for nobody's yes: at the console, in a demo, the first one."""
    known = _known(connection, own, public_key)
    if known is not None:
        return known
    letters = free_letters(connection)
    [record] = own.write(connection, [DeviceEnrolledV1(name=name, letters=letters, public_key=public_key)])
    refold(connection, [record.subject])
    return Enrolled(record.id, letters, own.site(connection))


def enrol_first(
    connection: Connection, own: OwnChain, code: str, public_key: str, device_name: str, name: str, pin: str
) -> Enrolled:
    """Spend the link that `init` printed: the first administrator, and the browser that opened it.

    raises  CodeRefused once there is an administrator, PinRefused
    """
    read_public_key(public_key)
    spend_code(connection, own.clock, code, FIRST_ADMINISTRATOR)
    if any("administrator" in one.said.roles for one in people(connection).values()):
        raise CodeRefused("This works has an administrator. Ask one to let this device in.")
    [person] = own.write(connection, [PersonChangedV1(name=name, roles=["administrator"])])
    refold(connection, [person.subject])
    set_pin(connection, own.clock.now_ms(), person.id, ["administrator"], pin)
    return enrol(connection, own, public_key, device_name)


def _known(connection: Connection, own: OwnChain, public_key: str) -> Enrolled | None:
    known = connection.execute(select(devices).where(devices.c.public_key == public_key)).first()
    return None if known is None else Enrolled(known.device, known.letters, own.site(connection))
