# SPDX-License-Identifier: Apache-2.0
"""The bodies of what happens to a batch along its route: operations, loads, lots, samples, components.

Whoever changes machine, tool, cast or crew finishes what was started and starts anew: each stint of an operation
was made by one of each. Loads and lots take pieces of many batches, so each is opened by itself and called by that
record's id, its number being a label; what of a batch went into it stands among the records of the batch.
"""

from __future__ import annotations

from typing import Annotated, Literal

import msgspec
from msgspec import UNSET, UnsetType

from tallywright.records.envelope import Body, Count, Decimal, Label, Number, RecordId, Word


class OperationStartedV1(Body, frozen=True):
    """A stint of an operation began; it is called by this record's id.

    look  the look that left the pieces of this stint aside, in query or for rework; left out on the route itself
    cast  the maker's name of the metal, where it is known which one went in
    """

    operation: Number
    machine: Label | UnsetType = UNSET
    tool: Label | UnsetType = UNSET
    cavities: list[Label] | UnsetType = UNSET
    cast: Label | UnsetType = UNSET
    look: Word | UnsetType = UNSET


class OperationFinishedV1(Body, frozen=True):
    """A stint of an operation ended, counted: what went in, and where each piece of it went.

    started  the stint; a stint that is finished twice was counted twice
    samples  pieces used up for tests
    inside   pieces that were seen to lie in the machine still, in its bowl or basket; left out where nobody looked
    """

    started: RecordId
    operation: Number
    pieces_in: Count = msgspec.field(name="in")
    pieces_out: Count = msgspec.field(name="out")
    scrap: Count
    set_up: Count
    samples: Count
    inside: Count | UnsetType = UNSET
    look: Word | UnsetType = UNSET


class TrayWeighed(Body, frozen=True):
    """A tray of pieces on the scale, without the tray, and the pieces that its mass makes."""

    grams: Decimal
    pieces: Count


class Weighing(Body, frozen=True):
    """Counted pieces and what they weigh, how far the mass of one piece spreads, and the trays weighed."""

    counted: Number
    grams: Decimal
    spread_percent: Decimal
    trays: Annotated[list[TrayWeighed], msgspec.Meta(min_length=1, max_length=100)]


class OperationRecountedV1(Body, frozen=True):
    """One number of a stint, counted once more or in another way; it stands beside the first and replaces nothing.

    of       what was counted: pieces in, good out, scrap, or all that were made
    how      by hand, by the machine's own counter, or by weight
    settles  counts of the same number that weigh no more, where another person counted this one
    """

    started: RecordId
    operation: Number
    of: Literal["in", "out", "scrap", "made"]
    pieces: Count
    how: Literal["hand", "counter", "weighed"]
    weighing: Weighing | UnsetType = UNSET
    settles: list[RecordId] | UnsetType = UNSET
    look: Word | UnsetType = UNSET


class LoadOpenedV1(Body, frozen=True):
    """A load of a furnace, an oven or a bowl is put together. It may take pieces of many batches."""

    operation: Number
    number: Label


class LoadFilledV1(Body, frozen=True):
    """So many pieces of the batch went into a load, counted."""

    load: RecordId
    operation: Number
    pieces: Number


class LotOpenedV1(Body, frozen=True):
    """A lot goes to a firm outside for an operation. It may take pieces of many batches."""

    operation: Number
    number: Label
    firm: Label | UnsetType = UNSET


class LotSentV1(Body, frozen=True):
    """So many pieces of the batch left for an operation outside, counted."""

    lot: RecordId
    operation: Number
    pieces: Number


class LotReturnedV1(Body, frozen=True):
    """Pieces came back with a lot, counted at an operation before the note beside them was read.

    counted  all that lay in the boxes of the batch, the foreign ones among them
    foreign  those of another batch; they are never set against pieces that are missing
    stated   what the note says
    """

    lot: RecordId
    operation: Number
    counted: Count
    foreign: Count
    stated: Count | UnsetType = UNSET


class SampleTakenV1(Body, frozen=True):
    """Pieces were taken for a test, and what became of them; those given back are in the batch again."""

    operation: Number
    pieces: Number
    test: Label
    fate: Literal["used_up", "destroyed", "given_back"]
    load: RecordId | UnsetType = UNSET


class ComponentsCountedV1(Body, frozen=True):
    """Bought-in components of one lot were counted when an operation ended: issued - left - scrapped were used."""

    operation: Number
    component: Word
    lot: Label
    issued: Count
    left: Count
    scrapped: Count


class ScrapDestroyedV1(Body, frozen=True):
    """Scrap of an operation was handed in, counted, and destroyed or kept; a second person puts a name to it.

    kept_for  what for, where pieces were kept: a use with a name
    """

    operation: Number
    handed_in: Number
    destroyed: Count
    kept: Count
    kept_for: Literal["limit_sample", "seeded_piece", "analysis", "returned_to_supplier"] | UnsetType = UNSET
