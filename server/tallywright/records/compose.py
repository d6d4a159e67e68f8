# SPDX-License-Identifier: Apache-2.0
"""Write records: the server's own chain, and the demo's and the tests' tablets, all through one writer."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Any

import msgspec
from msgspec import UNSET, UnsetType

from tallywright.records.decode import Record, decode
from tallywright.records.envelope import Body, Envelope
from tallywright.records.kinds import KINDS

_kinds_by_body = {kind.body: key for key, kind in KINDS.items()}
_encode = msgspec.json.Encoder(order="sorted").encode


def canonical(value: Any) -> bytes:
    """Return the canonical bytes of a struct, or of a plain object of the subset that records use."""
    return _encode(value)


@dataclass
class ChainWriter:
    """The head of one chain, and the act of adding to it.

    chain    its name
    device   id of the `device_enrolled` it is written by
    n        number of the newest record, 0 before the first
    head     hash of the newest record
    """

    chain: str
    device: str
    time_zone: str
    n: int = 0
    head: str | None = None
    site: str | UnsetType = field(default=UNSET)

    def add(
        self,
        body: Body,
        made_at: int,
        *,
        offset_min: int = 0,
        skew_ms: int | UnsetType = UNSET,
        sign_on: str | UnsetType = UNSET,
        batch: str | UnsetType = UNSET,
        definition: str | UnsetType = UNSET,
    ) -> Record:
        """Compose the next record of the chain and move its head.

        raises  RefusedRecord if the values do not make a record; the head has then not moved
        """
        kind, version = _kinds_by_body[type(body)]
        envelope = Envelope(
            chain=self.chain,
            n=self.n + 1,
            device=self.device,
            previous=self.head if self.head is not None else UNSET,
            made_at=made_at,
            offset_min=offset_min,
            time_zone=self.time_zone,
            skew_ms=skew_ms,
            sign_on=sign_on,
            kind=kind,
            v=version,
            site=self.site,
            batch=batch,
            definition=definition,
            body=msgspec.Raw(_encode(body)),
        )
        record = decode(_encode(envelope))
        self.n, self.head = envelope.n, record.hash
        return record
