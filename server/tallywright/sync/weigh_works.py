# SPDX-License-Identifier: Apache-2.0
"""Weigh what is asked about the works: its people. What a grant brings about is written behind it."""

from __future__ import annotations

from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.definitions.people import people
from tallywright.records.decode import Record
from tallywright.records.kinds import PersonChangedV1, PersonRequestedV1
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
