# SPDX-License-Identifier: Apache-2.0
"""The bodies of requests and of the answers to them."""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from tallywright.records.bench import SeenChain
from tallywright.records.envelope import (
    Amount,
    Body,
    ChainName,
    Hash,
    Label,
    RecordId,
    Word,
)


class HoldLiftRequestedV1(Body, frozen=True):
    """A lead asks for holds to be lifted, each by its id; evidence that comes later is another hold."""

    holds: Annotated[list[RecordId], Meta(min_length=1)]
    seen: list[SeenChain]
    why: Label


class DispositionRequestedV1(Body, frozen=True):
    """A lead asks for a verdict on one piece at one look."""

    piece: RecordId
    look: Word
    verdict: Literal["accept", "rework", "reject"]
    seen: list[SeenChain]
    why: Label | UnsetType = UNSET


class DifferenceAcceptanceRequestedV1(Body, frozen=True):
    """A lead asks for one difference to be accepted, at just this amount; at any other it is open again.

    look     left out where the difference is the batch's own
    subject  what the difference is about: a tray's number, a record's id; an empty text where it is the look
    """

    subject: Annotated[str, Meta(max_length=200)]
    difference: Word
    amount: Amount
    seen: list[SeenChain]
    why: Label
    look: Word | UnsetType = UNSET


class ReleaseRequestedV1(Body, frozen=True):
    """A lead asks for the batch to be released, on what was seen of it."""

    seen: list[SeenChain]
    why: Label | UnsetType = UNSET


class EnrolmentRequestedV1(Body, frozen=True):
    """An administrator asks for a waiting device to be enrolled, named by the SHA-256 of its public key's text."""

    name: Label
    key: Hash


class RevocationRequestedV1(Body, frozen=True):
    """An administrator asks for a device to be revoked."""

    device: RecordId
    why: Label


class AdmissionRequestedV1(Body, frozen=True):
    """A lead asks for lines that were set aside to be admitted, each named by the SHA-256 of its bytes."""

    of_chain: ChainName
    lines: Annotated[list[Hash], Meta(min_length=1, max_length=200)]
    why: Label


class RequestSecondedV1(Body, frozen=True):
    """The second name under a request, where two are due."""

    request: RecordId


class RequestGrantedV1(Body, frozen=True):
    """The server said yes: the request takes effect. Granted once is granted."""

    request: RecordId


Reason = Literal[
    "role",  # the asker's role may not ask for this
    "sign_on_not_in_force",  # the sign-on it names is not the one that was in force on its tablet
    "pin_wrong",  # the PIN of its sign-on was wrong
    "pin_not_fresh",  # it needs a PIN of its own, given for it alone
    "changed",  # something was recorded that the request had not seen
    "no_such_hold",
    "lifted_already",
    "no_such_mark",
    "on_hold",
    "no_such_person",
    "no_last_day",  # a reader, or a deputy, without the dates they need
    "last_administrator",  # nobody would be left to administer the works
    "no_such_device",
    "revoked_already",
    "not_waiting",  # no device with this key waits to be enrolled
    "no_such_line",
    "admitted_already",
    "not_admissible",  # the bytes are no record, or the gap before them is not filled
    "no_such_difference",  # the batch has no such difference, or has it at another amount
    "accepted_already",
    "not_complete",  # a look has an open point, or a hold or a query stands
    "not_understood",  # the batch has records that this version cannot judge
    "released_already",
]


class RequestDeclinedV1(Body, frozen=True):
    """The server said no, and why; the request changes nothing, and may be asked anew."""

    request: RecordId
    reasons: Annotated[list[Reason], Meta(min_length=1)]
