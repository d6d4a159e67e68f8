# SPDX-License-Identifier: Apache-2.0
"""The bodies of what is done with a batch: counted, looked at, judged, held, handed over and signed."""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, Meta, UnsetType

from tallywright.records.definition import DefectClass
from tallywright.records.envelope import (
    Body,
    ChainName,
    Count,
    Hash,
    Label,
    Number,
    RecordId,
    Word,
)

LARGEST_FILE = 20 * 1024 * 1024


class BatchOpenedV1(Body, frozen=True):
    """A batch began. `number` is its label; the envelope's `definition` is the part revision it keeps."""

    number: Label
    pieces: Count


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
    operation: Number | UnsetType = UNSET
    look: Word | UnsetType = UNSET


class ForeignPieceFoundV1(Body, frozen=True):
    """Pieces of another batch lay among those of this one; they are no pieces of this batch."""

    look: Word
    pieces: Number
    tray: RecordId | UnsetType = UNSET


class HandoverGivenV1(Body, frozen=True):
    """An inspector leaves an open tray to somebody else, looked at up to and with a place; 0 is none of them."""

    look: Word
    tray: RecordId
    place: Count


class HandoverTakenV1(Body, frozen=True):
    """An inspector goes on with an open tray that was another's.

    given       the hand-over it answers; left out where the tray was left without one
    from_first  the taker looks at it from its first place, as if nobody had
    """

    look: Word
    tray: RecordId
    given: RecordId | UnsetType = UNSET
    from_first: Literal[True] | UnsetType = UNSET


class BreakTakenV1(Body, frozen=True):
    """An inspector rested the eyes."""

    look: Word


class RecordWithdrawnV1(Body, frozen=True):
    """The author takes a record back. It erases nothing, and lifts no lock and no hold.

    receipt  the receipt of goods the record is about, where it is about one
    gauge    the number of the gauge it is about, where it is about one
    """

    record: RecordId
    receipt: RecordId | UnsetType = UNSET
    gauge: Label | UnsetType = UNSET
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


class AuthorshipConfirmedV1(Body, frozen=True):
    """A person says, under a proven sign-on of the same tablet: what an unproven one did in this tray was mine.

    of_sign_on  the sign-on whose author was not proven
    """

    look: Word
    tray: RecordId
    of_sign_on: RecordId


class PhotoAttachedV1(Body, frozen=True):
    """A picture or another file about the batch, named by the SHA-256 of its bytes, which travel behind records.

    type   what its maker took it for; what it is, its bytes say
    size   how many bytes it has
    look, tray, piece  where it is about one
    """

    file: Hash
    type: Literal["image/jpeg", "image/png", "image/webp", "application/pdf", "text/csv"]
    size: Annotated[int, Meta(ge=1, le=LARGEST_FILE)]
    look: Word | UnsetType = UNSET
    tray: RecordId | UnsetType = UNSET
    piece: RecordId | UnsetType = UNSET


class LimitCrossedV1(Body, frozen=True):
    """The server saw a look above the limit of a class. It is a hold, and stays one when the line falls back."""

    look: Word
    defect_class: DefectClass = msgspec.field(name="class")
