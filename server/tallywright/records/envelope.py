# SPDX-License-Identifier: Apache-2.0
"""The envelope every record shares, and the forms of its values."""

from __future__ import annotations

from typing import Annotated

import msgspec
from msgspec import UNSET, Meta, UnsetType

LARGEST_INTEGER = 2**53 - 1
LONGEST_RECORD = 16 * 1024

# A `$` would let a line feed through at the end; the look-ahead means the very end in both languages.
ChainName = Annotated[str, Meta(pattern=r"^[a-z2-7]{26}(?![\s\S])")]
RecordId = Annotated[str, Meta(pattern=r"^[a-z2-7]{26}:[1-9][0-9]{0,15}(?![\s\S])")]
Hash = Annotated[str, Meta(pattern=r"^[0-9a-f]{64}(?![\s\S])")]
SealingKey = Annotated[str, Meta(pattern=r"^[0-9a-f]{16}(?![\s\S])")]
Word = Annotated[str, Meta(pattern=r"^[a-z][a-z0-9_]{0,63}(?![\s\S])")]
Language = Annotated[str, Meta(pattern=r"^[a-z]{2,3}(?![\s\S])")]
Day = Annotated[str, Meta(pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])-(0[1-9]|[12][0-9]|3[01])(?![\s\S])")]
# A number as a gauge shows it: its zeros are kept, and it is compared digit by digit.
Decimal = Annotated[str, Meta(pattern=r"^-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?(?![\s\S])")]
# A share as a certificate prints it, in percent; '<' says less than.
Printed = Annotated[str, Meta(pattern=r"^<?(0|[1-9][0-9]{0,2})(\.[0-9]{1,9})?(?![\s\S])")]
Share = Annotated[str, Meta(pattern=r"^(0|[1-9][0-9]{0,2})(\.[0-9]{1,9})?(?![\s\S])")]
Label = Annotated[str, Meta(min_length=1, max_length=200)]
Number = Annotated[int, Meta(ge=1, le=LARGEST_INTEGER)]
Count = Annotated[int, Meta(ge=0, le=LARGEST_INTEGER)]
Amount = Annotated[int, Meta(ge=-LARGEST_INTEGER, le=LARGEST_INTEGER)]
Milliseconds = Annotated[int, Meta(ge=-LARGEST_INTEGER, le=LARGEST_INTEGER)]
OffsetMinutes = Annotated[int, Meta(ge=-1080, le=1080)]
Translations = dict[Language, Label]


class Body(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False, kw_only=True):
    """Base of all bodies: frozen values, no unknown members."""


class Envelope(msgspec.Struct, frozen=True, forbid_unknown_fields=True, gc=False, kw_only=True):
    """One record as it stands in a line; `body` holds the bytes of the kind's own object.

    chain, n       the store that made it and its gap-free counter; `chain:n` is the record's id
    device         id of the `device_enrolled` that enrolled the store's device
    previous       SHA-256 of the bytes of n-1 in the same chain; left out at n = 1
    made_at        the device's clock                                            [ms since 1970, UTC]
    offset_min     the device's offset from UTC                                  [min]
    time_zone      the device's IANA zone
    skew_ms        estimated server time minus made_at; left out if no server was heard   [ms]
    sign_on        id of a `signed_on`: the author is the person in it
    kind, v        noun and past participle, and the version of its body
    site, batch    ids of what it is about
    definition     id of the `definition_published` it was judged by
    """

    chain: str
    n: int
    device: str
    made_at: int
    offset_min: int
    time_zone: str
    kind: str
    v: int
    body: msgspec.Raw
    previous: str | UnsetType = UNSET
    skew_ms: int | UnsetType = UNSET
    sign_on: str | UnsetType = UNSET
    site: str | UnsetType = UNSET
    batch: str | UnsetType = UNSET
    definition: str | UnsetType = UNSET

    @property
    def id(self) -> str:
        """The record's id; what it brings into being is called by it for ever."""
        return f"{self.chain}:{self.n}"


class NumberedEnvelope(Envelope, frozen=True, forbid_unknown_fields=True, gc=False, kw_only=True):
    """An envelope of which that is held to its form which is another in each record of a chain."""

    n: Number
    made_at: Milliseconds
    offset_min: OffsetMinutes
    v: Annotated[int, Meta(ge=1, le=1000)]
    previous: Hash | UnsetType = UNSET
    skew_ms: Milliseconds | UnsetType = UNSET


class CheckedEnvelope(NumberedEnvelope, frozen=True, forbid_unknown_fields=True, gc=False, kw_only=True):
    """An envelope whose values are held to their forms: for bytes that were never checked.

    The patterns cost more than all the rest of the reading, so what lies in the log is read without them.
    """

    chain: ChainName
    device: RecordId
    time_zone: Label
    kind: Word
    body: msgspec.Raw
    sign_on: RecordId | UnsetType = UNSET
    site: RecordId | UnsetType = UNSET
    batch: RecordId | UnsetType = UNSET
    definition: RecordId | UnsetType = UNSET
