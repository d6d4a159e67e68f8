# SPDX-License-Identifier: Apache-2.0
"""The files the records of a batch name. One that was taken back is still taken: it may be asked for one day."""

from __future__ import annotations

from msgspec import UNSET, UnsetType

from tallywright.folds.gathered import Gathered, found_at
from tallywright.records.bench import PhotoAttachedV1


def attachment_rows(batch: str, gathered: Gathered) -> list[tuple[object, ...]]:
    """Return the rows of a batch's attachments, in the order of the table's columns."""
    rows: list[tuple[object, ...]] = []
    for record in gathered.known.values():
        body = record.body
        if not isinstance(body, PhotoAttachedV1):
            continue
        about = (_or_none(body.look), _or_none(body.tray), _or_none(body.piece))
        at = found_at(record)[0]
        rows.append((record.id, batch, *about, body.file, body.size, at, record.id in gathered.dead))
    return rows


def _or_none(name: str | UnsetType) -> str:
    return "" if name is UNSET else name
