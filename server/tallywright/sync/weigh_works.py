# SPDX-License-Identifier: Apache-2.0
"""Weigh what is asked about the works: its people, its devices. What a grant brings about is written behind it."""

from __future__ import annotations

from msgspec import UNSET
from sqlalchemy import Connection, select

from tallywright.access.devices import free_letters
from tallywright.access.enrolment import waiting_now
from tallywright.definitions.people import people
from tallywright.log.own_chain import SERVER_LETTERS
from tallywright.projections.tables import devices
from tallywright.records.asked import EnrolmentRequestedV1, RevocationRequestedV1
from tallywright.records.decode import Record
from tallywright.records.kinds import DeviceEnrolledV1, DeviceRevokedV1
from tallywright.records.people import PersonChangedV1, PersonRequestedV1
from tallywright.sync.weigh import Weighed


def weigh_person(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against a person being added or changed."""
    body = request.body
    assert isinstance(body, PersonRequestedV1)  # noqa: S101 - chosen by its kind
    everybody = people(connection)
    known = None if body.person is UNSET else everybody.get(body.person)
    if known is None and body.person is not UNSET:
        weighed.against.append("no_such_person")
    if known is not None and known.newest != body.newest:
        weighed.against.append("changed")
    deputy = body.deputy
    if ("reader" in body.roles and body.last_day is UNSET) or (
        deputy is not UNSET and deputy.last_day < deputy.first_day
    ):
        weighed.against.append("no_last_day")
    changed = PersonChangedV1(
        name=body.name,
        roles=body.roles,
        person=body.person,
        last_day=body.last_day,
        deputy=body.deputy,
        request=request.id,
    )
    # Somebody without a last day must be left who may add people.
    left = [one.said for one in everybody.values() if one.id != body.person] + [changed]
    if not any("administrator" in said.roles and said.last_day is UNSET for said in left):
        weighed.against.append("last_administrator")
    weighed.brings.append(changed)


def weigh_enrolment(connection: Connection, request: Record, weighed: Weighed) -> None:
    """A device is enrolled that spent a code and waits, by the key whose number the administrator compared."""
    body = request.body
    assert isinstance(body, EnrolmentRequestedV1)  # noqa: S101 - chosen by its kind
    waiting = waiting_now(connection, weighed.now, body.key)
    if not waiting:
        weighed.against.append("not_waiting")
        return
    letters = free_letters(connection)
    weighed.brings.append(DeviceEnrolledV1(name=body.name, letters=letters, public_key=waiting[0].public_key))


def weigh_revocation(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Any device but the server's own can be revoked, once."""
    body = request.body
    assert isinstance(body, RevocationRequestedV1)  # noqa: S101 - chosen by its kind
    found = connection.execute(select(devices).where(devices.c.device == body.device)).first()
    if found is None or found.letters == SERVER_LETTERS:
        weighed.against.append("no_such_device")
    elif found.revoked:
        weighed.against.append("revoked_already")
    weighed.brings.append(DeviceRevokedV1(device=body.device, why=body.why))
