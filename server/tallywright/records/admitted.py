# SPDX-License-Identifier: Apache-2.0
"""Unfold an admission: the record that a line set aside is from then on, under the admission's id.

static/src/records/admitted.ts is the same function; tests/vectors/admitted holds both to the same answers. The log
holds the admission's own bytes, and inside them the line's; what is unfolded is only ever read by folds.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import msgspec
from msgspec import UNSET

from tallywright.records.compose import canonical
from tallywright.records.decode import Record, read
from tallywright.records.kinds import KINDS, SetAsideAdmittedV1


def unfold(record: Record) -> Record:
    """Return the admitted record, called by its admission; any other record as it is.

    The envelope stays the line's: who made it, when, and in which chain. What the line calls by an id that another
    record has is called by the id under which it was admitted, in `sign_on`, `batch` and body.
    """
    admission = record.body
    if not isinstance(admission, SetAsideAdmittedV1):
        return record
    inner = read(admission.line.encode())
    names = {one.was: one.now for one in admission.names}
    envelope, body = inner.envelope, inner.body
    if names:
        renamed = msgspec.Raw(canonical(_renamed(msgspec.json.decode(envelope.body), names)))
        sign_on = envelope.sign_on if envelope.sign_on is UNSET else names.get(envelope.sign_on, envelope.sign_on)
        batch = envelope.batch if envelope.batch is UNSET else names.get(envelope.batch, envelope.batch)
        envelope = msgspec.structs.replace(envelope, sign_on=sign_on, batch=batch, body=renamed)
        if body is not None:
            body = msgspec.json.decode(renamed, type=KINDS[envelope.kind, envelope.v].body)
    return Record(record.id, record.line, envelope, body, record.subject, record.look)


def names_in(record: Record) -> set[str]:
    """Return the ids of its own chain that a record names besides its own place."""
    own = re.compile(rf"{record.envelope.chain}:[1-9][0-9]{{0,15}}")
    said = [*_texts(msgspec.json.decode(record.envelope.body)), record.envelope.sign_on, record.envelope.batch]
    return {text for text in said if isinstance(text, str) and own.fullmatch(text)}


def _renamed(value: Any, names: Mapping[str, str]) -> Any:
    if isinstance(value, str):
        return names.get(value, value)
    if isinstance(value, list):
        return [_renamed(entry, names) for entry in value]
    if isinstance(value, dict):
        return {name: _renamed(entry, names) for name, entry in value.items()}
    return value


def _texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    entries = value.values() if isinstance(value, dict) else value if isinstance(value, list) else ()
    for entry in entries:
        yield from _texts(entry)
