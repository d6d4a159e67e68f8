# SPDX-License-Identifier: Apache-2.0
"""The body of every kind, by (kind, version). A released body never changes; a change is a new version beside."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from tallywright.records.definition import DefectClass, FileDefinition, PartDefinition, ShiftDefinition
from tallywright.records.envelope import (
    Amount,
    Body,
    ChainName,
    Count,
    Day,
    Hash,
    Label,
    Number,
    RecordId,
    SealingKey,
    Word,
)

Role = Literal["inspector", "operator", "lead", "administrator", "reader"]


class WorksOpenedV1(Body, frozen=True):
    """The works this server serves. `demo` marks invented works: their limits and classes advise nobody."""

    name: Label
    time_zone: Label
    demo: bool


class ChainOpenedV1(Body, frozen=True):
    """The first record of a store. `before` is the head of the chain it follows, where one is known."""

    why: Literal["first", "wiped", "behind", "forked", "key_lost"]
    before: Hash | UnsetType = UNSET


class DeviceEnrolledV1(Body, frozen=True):
    """A device may write chains. Its key: base64 of a DER SubjectPublicKeyInfo, P-256."""

    name: Label
    letters: Annotated[str, Meta(pattern=r"^[A-Z]{2,4}(?![\s\S])")]
    public_key: Annotated[str, Meta(pattern=r"^[A-Za-z0-9+/]{80,400}={0,2}(?![\s\S])")]


class DeviceRevokedV1(Body, frozen=True):
    """A device is the works' no more: its reads stop, and what it pushes from now on is set aside."""

    device: RecordId
    why: Label | UnsetType = UNSET


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


class DefinitionPublishedV1(Body, frozen=True):
    """A version of something people judge by. It is called by this record's id and never changes."""

    content: PartDefinition | ShiftDefinition | FileDefinition


class TrayCard(Body, frozen=True):
    """A tray as its card says it: the number on it, and how many pieces were counted into it."""

    number: Number
    pieces: Count


class PiecesCountedV1(Body, frozen=True):
    """The batch was counted in before a look, by somebody who does not look: so many pieces, in these trays.

    operation  the operation behind which the look stands; what can be seen at it depends on that
    """

    look: Word
    pieces: Count
    trays: list[TrayCard]
    operation: Number | UnsetType = UNSET


class BatchSplitV1(Body, frozen=True):
    """Part of the batch goes its own way under a number of its own, with the trays that are named.

    look  the look whose counted pieces it takes; left out where it takes of what the batch was opened with
    """

    number: Label
    pieces: Number
    trays: list[Number] | UnsetType = UNSET
    look: Word | UnsetType = UNSET


class BatchOpenedV1(Body, frozen=True):
    """A batch began. `number` is its label; the envelope's `definition` is the part revision it keeps."""

    number: Label
    pieces: Count


class TrayOpenedV1(Body, frozen=True):
    """A tray was begun in a look. `number` is the label on its card."""

    look: Word
    number: Number
    places: Number


class DefectTalliedV1(Body, frozen=True):
    """One find. Without `piece` it opens a piece, which is called by this record's id.

    quick_repeat  the same key was tapped a moment before: kept, not counted, until somebody says it was two
    round         2 is the first look behind a rework, and so on; left out it is the first of all
    """

    look: Word
    tray: RecordId
    defect: Word
    piece: RecordId | UnsetType = UNSET
    zone: Word | UnsetType = UNSET
    cavity: Label | UnsetType = UNSET
    quick_repeat: Literal[True] | UnsetType = UNSET
    round: Number | UnsetType = UNSET


class TrayClosedV1(Body, frozen=True):
    """Every place of the tray was looked at. `empty_counted` was entered before the tally was shown."""

    look: Word
    tray: RecordId
    places: Number
    empty_counted: Count
    accepted: Count
    rejected: Count
    rework: Count
    query: Count
    all_looked_at: Literal[True]


class PieceJudgedV1(Body, frozen=True):
    """Somebody judged one piece.

    settles  marks that weigh no more from here on: the judgement stands in their place
    """

    look: Word
    piece: RecordId
    verdict: Literal["accept", "rework", "query", "reject"]
    settles: list[RecordId] | UnsetType = UNSET
    round: Number | UnsetType = UNSET


class ReworkSentV1(Body, frozen=True):
    """Pieces left the look for rework, counted; `tags` names those that bear one."""

    look: Word
    pieces: Number
    tags: list[RecordId] | UnsetType = UNSET


class ReworkReturnedV1(Body, frozen=True):
    """Pieces came back from rework, counted; they are looked at as new."""

    look: Word
    pieces: Number
    tags: list[RecordId] | UnsetType = UNSET


class PieceFoundV1(Body, frozen=True):
    """Pieces of the batch turned up where none should be. It is a hold: nobody knows what they went through."""

    where: Label
    pieces: Number
    look: Word | UnsetType = UNSET


class ForeignPieceFoundV1(Body, frozen=True):
    """Pieces of another batch lay among those of this one; they are no pieces of this batch."""

    look: Word
    pieces: Number
    tray: RecordId | UnsetType = UNSET


class RecordWithdrawnV1(Body, frozen=True):
    """The author takes a record back. It erases nothing, and lifts no lock and no hold."""

    record: RecordId
    look: Word | UnsetType = UNSET
    why: Label | UnsetType = UNSET


class HoldPlacedV1(Body, frozen=True):
    """Somebody says stop: the batch, or what is named of it, goes nowhere until a lead's lift is granted."""

    why: Label
    look: Word | UnsetType = UNSET
    tray: RecordId | UnsetType = UNSET
    piece: RecordId | UnsetType = UNSET


class SeenChain(Body, frozen=True):
    """How far the asker had seen one chain that has records of the batch, without a gap."""

    chain: ChainName
    n: Number


class LookSignedV1(Body, frozen=True):
    """An inspector signs what was done at a look, as far as each chain was seen."""

    look: Word
    seen: list[SeenChain]


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
]


class RequestDeclinedV1(Body, frozen=True):
    """The server said no, and why; the request changes nothing, and may be asked anew."""

    request: RecordId
    reasons: Annotated[list[Reason], Meta(min_length=1)]


class AuthorshipConfirmedV1(Body, frozen=True):
    """A person says, under a proven sign-on of the same tablet: what an unproven one did in this tray was mine.

    of_sign_on  the sign-on whose author was not proven
    """

    look: Word
    tray: RecordId
    of_sign_on: RecordId


class Renamed(Body, frozen=True):
    """What a line calls a record that was admitted under another id, and that id."""

    was: RecordId
    now: RecordId


class LimitCrossedV1(Body, frozen=True):
    """The server saw a look above the limit of a class. It is a hold, and stays one when the line falls back."""

    look: Word
    defect_class: DefectClass = msgspec.field(name="class")


class SetAsideAdmittedV1(Body, frozen=True):
    """A line that was set aside counts from now on, as a record with this record's id.

    line   its bytes as they came, as a text
    names  records the line names that were admitted as well, and so are called otherwise here
    look   the look the line belongs to, so that it goes where its look goes
    """

    line: Annotated[str, Meta(min_length=2, max_length=12_000)]
    names: list[Renamed]
    look: Word | UnsetType = UNSET


class BackupVerifiedV1(Body, frozen=True):
    """A copy of the log was read back and found whole up to a number: tablets may let go of what it holds."""

    number: Number


class RestoredV1(Body, frozen=True):
    """The log was found older than what a tablet knows of it: a new epoch begins with this record's id.

    lost  the record that proves it: the server signed it, and its log holds it no longer
    """

    noticed_by: Literal["cursor", "head", "command"]
    lost: RecordId | UnsetType = UNSET


class Sort(StrEnum):
    """Who may write a kind, and whether it needs a yes."""

    OBSERVATION = "observation"
    REQUEST = "request"
    SERVER = "server"


@dataclass(frozen=True, slots=True)
class Kind:
    """A kind at one version: the type of its body, its sort, and the envelope members it cannot do without."""

    body: type[Body]
    sort: Sort
    needs: tuple[str, ...] = ()


OF_A_BATCH = ("batch", "sign_on", "site")
OF_THE_WORKS = ("sign_on", "site")
BENCH = ("batch", "definition", "sign_on", "site")

KINDS: dict[tuple[str, int], Kind] = {
    ("works_opened", 1): Kind(WorksOpenedV1, Sort.SERVER),
    ("chain_opened", 1): Kind(ChainOpenedV1, Sort.OBSERVATION),
    ("device_enrolled", 1): Kind(DeviceEnrolledV1, Sort.SERVER),
    ("device_revoked", 1): Kind(DeviceRevokedV1, Sort.SERVER),
    ("person_changed", 1): Kind(PersonChangedV1, Sort.SERVER),
    ("definition_published", 1): Kind(DefinitionPublishedV1, Sort.SERVER),
    ("signed_on", 1): Kind(SignedOnV1, Sort.OBSERVATION),
    ("sign_on_judged", 1): Kind(SignOnJudgedV1, Sort.SERVER),
    ("batch_opened", 1): Kind(BatchOpenedV1, Sort.OBSERVATION, ("definition", "sign_on", "site")),
    ("batch_split", 1): Kind(BatchSplitV1, Sort.OBSERVATION, OF_A_BATCH),
    ("pieces_counted", 1): Kind(PiecesCountedV1, Sort.OBSERVATION, BENCH),
    ("tray_opened", 1): Kind(TrayOpenedV1, Sort.OBSERVATION, BENCH),
    ("defect_tallied", 1): Kind(DefectTalliedV1, Sort.OBSERVATION, BENCH),
    ("tray_closed", 1): Kind(TrayClosedV1, Sort.OBSERVATION, BENCH),
    ("piece_judged", 1): Kind(PieceJudgedV1, Sort.OBSERVATION, BENCH),
    ("rework_sent", 1): Kind(ReworkSentV1, Sort.OBSERVATION, OF_A_BATCH),
    ("rework_returned", 1): Kind(ReworkReturnedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("piece_found", 1): Kind(PieceFoundV1, Sort.OBSERVATION, OF_A_BATCH),
    ("foreign_piece_found", 1): Kind(ForeignPieceFoundV1, Sort.OBSERVATION, OF_A_BATCH),
    ("look_signed", 1): Kind(LookSignedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("record_withdrawn", 1): Kind(RecordWithdrawnV1, Sort.OBSERVATION, ("sign_on", "site")),
    ("hold_placed", 1): Kind(HoldPlacedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("hold_lift_requested", 1): Kind(HoldLiftRequestedV1, Sort.REQUEST, OF_A_BATCH),
    ("disposition_requested", 1): Kind(DispositionRequestedV1, Sort.REQUEST, OF_A_BATCH),
    ("difference_acceptance_requested", 1): Kind(DifferenceAcceptanceRequestedV1, Sort.REQUEST, OF_A_BATCH),
    ("release_requested", 1): Kind(ReleaseRequestedV1, Sort.REQUEST, OF_A_BATCH),
    ("person_requested", 1): Kind(PersonRequestedV1, Sort.REQUEST, OF_THE_WORKS),
    ("enrolment_requested", 1): Kind(EnrolmentRequestedV1, Sort.REQUEST, OF_THE_WORKS),
    ("revocation_requested", 1): Kind(RevocationRequestedV1, Sort.REQUEST, OF_THE_WORKS),
    ("admission_requested", 1): Kind(AdmissionRequestedV1, Sort.REQUEST, OF_THE_WORKS),
    ("request_seconded", 1): Kind(RequestSecondedV1, Sort.REQUEST, OF_THE_WORKS),
    ("request_granted", 1): Kind(RequestGrantedV1, Sort.SERVER, ("site",)),
    ("request_declined", 1): Kind(RequestDeclinedV1, Sort.SERVER, ("site",)),
    ("limit_crossed", 1): Kind(LimitCrossedV1, Sort.SERVER, ("batch", "site")),
    ("authorship_confirmed", 1): Kind(AuthorshipConfirmedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("set_aside_admitted", 1): Kind(SetAsideAdmittedV1, Sort.SERVER, ("site",)),
    ("backup_verified", 1): Kind(BackupVerifiedV1, Sort.SERVER, ("site",)),
    ("restored", 1): Kind(RestoredV1, Sort.SERVER, ("site",)),
}

SERVER_KINDS = frozenset(kind for (kind, _), meaning in KINDS.items() if meaning.sort is Sort.SERVER)


def chain_of(record_id: str) -> ChainName:
    """Return the chain part of a record's id."""
    return record_id.split(":", 1)[0]


def number_of(record_id: str) -> int:
    """Return the counter part of a record's id."""
    return int(record_id.split(":", 1)[1])
