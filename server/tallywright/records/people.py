# SPDX-License-Identifier: Apache-2.0
"""The bodies of who works here, and of who signed on."""

from __future__ import annotations

from typing import Literal

from msgspec import UNSET, UnsetType

from tallywright.records.envelope import (
    Body,
    Day,
    Hash,
    Label,
    RecordId,
    SealingKey,
)

Role = Literal["inspector", "operator", "lead", "administrator", "reader"]


class StandIn(Body, frozen=True):
    """The days, both included, on which a person stands in for the lead in every deciding role."""

    first_day: Day
    last_day: Day


class PersonChangedV1(Body, frozen=True):
    """A person's name as it appears on signatures. Without `person` it brings the person into being.

    last_day  behind this day the person has no right any more; a reader always has one
    deputy    named deputy of the lead, with dates
    request   the granted request this follows; left out for an act at the console
    """

    name: Label
    roles: list[Role]
    person: RecordId | UnsetType = UNSET
    last_day: Day | UnsetType = UNSET
    deputy: StandIn | UnsetType = UNSET
    request: RecordId | UnsetType = UNSET


class SignedOnV1(Body, frozen=True):
    """A person signed on at this tablet; records that name this one are that person's.

    sealing_key  name of the server's key the PIN was sealed with; left out where the tablet never had one
    sealed       SHA-256 of the sealed PIN, which travels beside the record and is destroyed once judged
    """

    person: RecordId
    sealing_key: SealingKey | UnsetType = UNSET
    sealed: Hash | UnsetType = UNSET


class SignOnJudgedV1(Body, frozen=True):
    """The server opened the sealed PIN of a sign-on: whether it was the person's. Proven once is proven."""

    sign_on: RecordId
    proven: bool


class PersonRequestedV1(Body, frozen=True):
    """An administrator asks for a person to be added, or, with `person`, to be changed.

    newest  id of the newest `person_changed` about the person the asker had seen; what came later declines it
    """

    name: Label
    roles: list[Role]
    person: RecordId | UnsetType = UNSET
    newest: RecordId | UnsetType = UNSET
    last_day: Day | UnsetType = UNSET
    deputy: StandIn | UnsetType = UNSET
