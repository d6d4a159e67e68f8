# SPDX-License-Identifier: Apache-2.0
"""The body of every kind, by (kind, version). A released body never changes; a change is a new version beside."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from tallywright.records.asked import (
    AdmissionRequestedV1,
    DifferenceAcceptanceRequestedV1,
    DispositionRequestedV1,
    EnrolmentRequestedV1,
    HoldLiftRequestedV1,
    ReleaseRequestedV1,
    RequestDeclinedV1,
    RequestGrantedV1,
    RequestSecondedV1,
    RevocationRequestedV1,
)
from tallywright.records.bench import (
    AuthorshipConfirmedV1,
    BatchOpenedV1,
    BatchSplitV1,
    BreakTakenV1,
    DefectTalliedV1,
    ForeignPieceFoundV1,
    HandoverGivenV1,
    HandoverTakenV1,
    HoldPlacedV1,
    LimitCrossedV1,
    LookSignedV1,
    PhotoAttachedV1,
    PieceFoundV1,
    PieceJudgedV1,
    PiecesCountedV1,
    RecordWithdrawnV1,
    ReworkReturnedV1,
    ReworkSentV1,
    TrayClosedV1,
    TrayOpenedV1,
)
from tallywright.records.checks import (
    CheckMissedV1,
    CheckTakenV1,
    GaugeCheckedV1,
    OperationChangedV1,
    PiecesMadeV1,
    ReactionTakenV1,
)
from tallywright.records.definition import (
    FileDefinition,
    GaugeDefinition,
    MaterialDefinition,
    PartDefinition,
    ShiftDefinition,
)
from tallywright.records.envelope import (
    Body,
    ChainName,
    Hash,
    Label,
    Number,
    RecordId,
    Word,
)
from tallywright.records.goods import (
    BarEndsCollectedV1,
    BarsIssuedV1,
    CastMarkReadV1,
    CertificateAttachedV1,
    CertificateJudgedV1,
    ComponentsReceivedV1,
    MaterialReceivedV1,
    RemnantReturnedV1,
)
from tallywright.records.people import PersonChangedV1, PersonRequestedV1, SignedOnV1, SignOnJudgedV1
from tallywright.records.route import (
    ComponentsCountedV1,
    LoadFilledV1,
    LoadOpenedV1,
    LotOpenedV1,
    LotReturnedV1,
    LotSentV1,
    OperationFinishedV1,
    OperationRecountedV1,
    OperationStartedV1,
    SampleTakenV1,
    ScrapDestroyedV1,
)


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


class DefinitionPublishedV1(Body, frozen=True):
    """A version of something people judge by. It is called by this record's id and never changes."""

    content: PartDefinition | ShiftDefinition | MaterialDefinition | GaugeDefinition | FileDefinition


class Renamed(Body, frozen=True):
    """What a line calls a record that was admitted under another id, and that id."""

    was: RecordId
    now: RecordId


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
    ("handover_given", 1): Kind(HandoverGivenV1, Sort.OBSERVATION, OF_A_BATCH),
    ("handover_taken", 1): Kind(HandoverTakenV1, Sort.OBSERVATION, OF_A_BATCH),
    ("break_taken", 1): Kind(BreakTakenV1, Sort.OBSERVATION, OF_A_BATCH),
    ("operation_started", 1): Kind(OperationStartedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("operation_finished", 1): Kind(OperationFinishedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("load_opened", 1): Kind(LoadOpenedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("load_filled", 1): Kind(LoadFilledV1, Sort.OBSERVATION, OF_A_BATCH),
    ("lot_opened", 1): Kind(LotOpenedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("lot_sent", 1): Kind(LotSentV1, Sort.OBSERVATION, OF_A_BATCH),
    ("lot_returned", 1): Kind(LotReturnedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("sample_taken", 1): Kind(SampleTakenV1, Sort.OBSERVATION, OF_A_BATCH),
    ("operation_recounted", 1): Kind(OperationRecountedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("scrap_destroyed", 1): Kind(ScrapDestroyedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("components_counted", 1): Kind(ComponentsCountedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("record_withdrawn", 1): Kind(RecordWithdrawnV1, Sort.OBSERVATION, ("sign_on", "site")),
    ("photo_attached", 1): Kind(PhotoAttachedV1, Sort.OBSERVATION, OF_A_BATCH),
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
    ("check_taken", 1): Kind(CheckTakenV1, Sort.OBSERVATION, BENCH),
    ("check_missed", 1): Kind(CheckMissedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("reaction_taken", 1): Kind(ReactionTakenV1, Sort.OBSERVATION, OF_A_BATCH),
    ("pieces_made", 1): Kind(PiecesMadeV1, Sort.OBSERVATION, OF_A_BATCH),
    ("operation_changed", 1): Kind(OperationChangedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("gauge_checked", 1): Kind(GaugeCheckedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("material_received", 1): Kind(MaterialReceivedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("components_received", 1): Kind(ComponentsReceivedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("certificate_attached", 1): Kind(CertificateAttachedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("certificate_judged", 1): Kind(CertificateJudgedV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("cast_mark_read", 1): Kind(CastMarkReadV1, Sort.OBSERVATION, OF_THE_WORKS),
    ("bars_issued", 1): Kind(BarsIssuedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("remnant_returned", 1): Kind(RemnantReturnedV1, Sort.OBSERVATION, OF_A_BATCH),
    ("bar_ends_collected", 1): Kind(BarEndsCollectedV1, Sort.OBSERVATION, OF_THE_WORKS),
}

SERVER_KINDS = frozenset(kind for (kind, _), meaning in KINDS.items() if meaning.sort is Sort.SERVER)


def chain_of(record_id: str) -> ChainName:
    """Return the chain part of a record's id."""
    return record_id.split(":", 1)[0]


def number_of(record_id: str) -> int:
    """Return the counter part of a record's id."""
    return int(record_id.split(":", 1)[1])
