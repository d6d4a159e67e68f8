# SPDX-License-Identifier: Apache-2.0
"""Publish what people judge by: a record in the server's chain, its file beside it, and the rows that waited."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

from msgspec import UNSET
from sqlalchemy import Connection, or_, select

from tallywright.definitions.published import (
    as_published,
    newest_gauges,
    newest_materials,
    newest_publications,
    newest_shifts,
)
from tallywright.log.files import put_file, read_file
from tallywright.log.own_chain import OwnChain
from tallywright.projections.refold import refold
from tallywright.projections.tables import batches
from tallywright.records.bare_name import bare_name
from tallywright.records.decode import sha256
from tallywright.records.definition import GaugeDefinition, MaterialDefinition, PartDefinition, ShiftDefinition
from tallywright.records.kinds import DefinitionPublishedV1

Content = TypeVar("Content", MaterialDefinition, GaugeDefinition)


def publish_parts(connection: Connection, own: OwnChain, parts: Sequence[PartDefinition]) -> list[tuple[str, bool]]:
    """Write one `definition_published` a part, all or none; expects a transaction of db.writing().

    A part that says what its newest publication says already is not written again; but a file that this server
    lost comes back so.

    returns  in the order of `parts`: the id of the publication, and whether it is new
    raises   NotReady before the works was opened
    """
    published = [as_published(part) for part in parts]
    newest = newest_publications(connection)
    known = [newest.get((part.part, part.revision)) for part in parts]
    is_new = [old is None or old[1] != body for old, (body, _) in zip(known, published, strict=True)]
    for _, file in published:
        if file is not None:
            take_file(connection, file)
    bodies = [body for (body, _), new in zip(published, is_new, strict=True) if new]
    written = own.write(connection, bodies) if bodies else []
    refold(connection, {record.subject for record in written})
    ids = iter(record.id for record in written)
    return [(next(ids) if new else str(old and old[0]), new) for old, new in zip(known, is_new, strict=True)]


def publish_shifts(connection: Connection, own: OwnChain, shifts: ShiftDefinition) -> tuple[str, bool]:
    """Write the works' shifts, unless those in force say the same; expects a transaction of db.writing().

    returns  the id of the publication, and whether it is new
    """
    newest = newest_shifts(connection)
    if newest is not None and newest[1] == shifts:
        return newest[0], False
    [written] = own.write(connection, [DefinitionPublishedV1(content=shifts)])
    refold(connection, {written.subject})
    return written.id, True


def publish_materials(
    connection: Connection, own: OwnChain, materials: Sequence[MaterialDefinition]
) -> list[tuple[str, bool]]:
    """Write the limits of each alloy and order, unless those in force say the same; as publish_parts does.

    returns  in the order of `materials`: the id of the publication, and whether it is new
    """
    newest = newest_materials(connection)
    known = [newest.get((one.alloy, "" if one.order is UNSET else one.order)) for one in materials]
    return _publish_new(connection, own, materials, known)


def publish_gauges(
    connection: Connection, own: OwnChain, gauges: Sequence[GaugeDefinition]
) -> list[tuple[str, bool]]:
    """Write each gauge, unless its newest definition says the same; as publish_parts does.

    returns  in the order of `gauges`: the id of the publication, and whether it is new
    """
    newest = newest_gauges(connection)
    return _publish_new(connection, own, gauges, [newest.get(bare_name(one.number)) for one in gauges])


def _publish_new(
    connection: Connection,
    own: OwnChain,
    contents: Sequence[Content],
    known: Sequence[tuple[str, Content] | None],
) -> list[tuple[str, bool]]:
    is_new = [old is None or old[1] != one for old, one in zip(known, contents, strict=True)]
    bodies = [DefinitionPublishedV1(content=one) for one, new in zip(contents, is_new, strict=True) if new]
    written = own.write(connection, bodies) if bodies else []
    refold(connection, {record.subject for record in written})
    ids = iter(record.id for record in written)
    return [(next(ids) if new else str(old and old[0]), new) for old, new in zip(known, is_new, strict=True)]


def take_file(connection: Connection, content: bytes) -> str:
    """Keep a file and fold again the batches that may have waited for it; returns its hash."""
    if read_file(connection, sha256(content)) is not None:
        return sha256(content)
    name = put_file(connection, content)
    refold(connection, undefined_batches(connection))
    return name


def undefined_batches(connection: Connection) -> Sequence[str]:
    """Return the batches that may wait for a definition: they have marks not understood, or no part at all."""
    waiting = select(batches.c.batch).where(or_(batches.c.not_understood > 0, batches.c.part == ""))
    return connection.scalars(waiting).all()
