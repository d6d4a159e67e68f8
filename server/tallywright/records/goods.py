# SPDX-License-Identifier: Apache-2.0
"""The bodies of what comes in at the gate: bars of a cast, lots of components, certificates; and where bars went.

A receipt is called by the record that brought it into being, and is a subject of its own: many batches are made of
one. What was issued of it to a batch stands among the records of the batch.
"""

from __future__ import annotations

from typing import Annotated, Literal

from msgspec import UNSET, Meta, UnsetType

from tallywright.records.bench import LARGEST_FILE, SeenChain
from tallywright.records.envelope import Body, Count, Decimal, Hash, Label, Number, Printed, RecordId, Word

Section = Literal["round", "square", "hexagon", "flat", "tube"]


class MaterialReceivedV1(Body, frozen=True):
    """Bars of one cast came in, counted before the note beside them was read.

    sizes        diameter; side; across flats; width and thickness; outer and wall       [mm]
    length       of a bar, as ordered                                                    [mm]
    bars         counted
    stated       what the delivery note says; left out where it says none
    certificate  the type of certificate that came or was ordered, by EN 10204
    """

    alloy: Label
    temper: Label
    cast: Label
    section: Section
    sizes: Annotated[list[Decimal], Meta(min_length=1, max_length=2)]
    bars: Count
    certificate: Literal["none", "2.1", "2.2", "3.1", "3.2"]
    stated: Count | UnsetType = UNSET
    length: Decimal | UnsetType = UNSET
    bay: Label | UnsetType = UNSET
    colour: Label | UnsetType = UNSET
    supplier: Label | UnsetType = UNSET
    order: Label | UnsetType = UNSET
    note: Label | UnsetType = UNSET


class ComponentsReceivedV1(Body, frozen=True):
    """A lot of bought-in components came in, counted before the note beside it was read."""

    component: Word
    lot: Label
    counted: Count
    stated: Count | UnsetType = UNSET
    supplier: Label | UnsetType = UNSET
    order: Label | UnsetType = UNSET
    note: Label | UnsetType = UNSET


class CertificateAttachedV1(Body, frozen=True):
    """A certificate's file: a picture of it or the PDF, named by the SHA-256 of its bytes."""

    receipt: RecordId
    file: Hash
    type: Literal["image/jpeg", "image/png", "image/webp", "application/pdf"]
    size: Annotated[int, Meta(ge=1, le=LARGEST_FILE)]


class PrintedValue(Body, frozen=True):
    """What a certificate prints for one element, in percent by mass."""

    element: Label
    value: Printed


class CertificateJudgedV1(Body, frozen=True):
    """Somebody typed a certificate's values as printed; the envelope's `definition` has the limits for them.

    cast    as the certificate prints it
    number  of the certificate
    """

    receipt: RecordId
    cast: Label
    values: Annotated[list[PrintedValue], Meta(max_length=60)]
    number: Label | UnsetType = UNSET


class CastMarkReadV1(Body, frozen=True):
    """Somebody read the marks on so many bar ends, and says whether every one of them names the receipt's cast.

    read  what stands on those that name another
    """

    receipt: RecordId
    bars: Number
    agrees: bool
    read: Label | UnsetType = UNSET


class BarsIssuedV1(Body, frozen=True):
    """Bars of a receipt went to the batch and are cut.

    seen            how far whoever issued them had each chain that says something of the receipt: what was known of
                    certificate and cast mark before the first cut
    pieces_per_bar  as counted at the saw
    length, piece   of a bar and of what is cut from it                                  [mm]
    kept_apart      another cast lies in the batch already: its bin was closed and a new one begun, or not
    """

    receipt: RecordId
    bars: Number
    seen: list[SeenChain]
    pieces_per_bar: Number | UnsetType = UNSET
    length: Decimal | UnsetType = UNSET
    piece: Decimal | UnsetType = UNSET
    kept_apart: bool | UnsetType = UNSET


class RemnantReturnedV1(Body, frozen=True):
    """What is left of bars went back to the rack.

    length  of each                                                                      [mm]
    marked  the cast stands on every one of them again
    """

    receipt: RecordId
    bars: Number
    length: Decimal
    marked: bool


class BarEndsCollectedV1(Body, frozen=True):
    """Bar ends of one alloy went into their container, weighed or counted."""

    alloy: Label
    container: Label
    pieces: Number | UnsetType = UNSET
    mass_g: Number | UnsetType = UNSET
