# SPDX-License-Identifier: Apache-2.0
"""Definitions as they were published. A version is called by the id of its record and never changes."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from typing import TypeVar

import msgspec
from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.computation.identity import ShiftCalendar
from tallywright.errors import NotReady
from tallywright.log.files import read_file
from tallywright.log.own_chain import WORKS_NUMBER
from tallywright.log.read import WORKS_WIDE, as_written, by_id, id_at, of_subject
from tallywright.records.bare_name import bare_name
from tallywright.records.compose import canonical
from tallywright.records.decode import sha256
from tallywright.records.definition import (
    FileDefinition,
    GaugeDefinition,
    MaterialDefinition,
    PartDefinition,
    ShiftDefinition,
)
from tallywright.records.envelope import LONGEST_RECORD
from tallywright.records.kinds import DefinitionPublishedV1, WorksOpenedV1

ENVELOPE_ROOM = 1024  # bytes of a record that its body leaves to the envelope
Content = TypeVar("Content", MaterialDefinition, GaugeDefinition, ShiftDefinition)
_read_part = lru_cache(maxsize=64)(
    msgspec.json.Decoder(PartDefinition).decode
)  # each fold of a batch reads its own


def parts(connection: Connection, ids: Iterable[str]) -> dict[str, PartDefinition]:
    """Return those of the named part definitions that the server holds, in a record or in a file."""
    found = {}
    for definition in set(ids):
        record = by_id(connection, definition)
        if record is not None and isinstance(record.body, DefinitionPublishedV1):
            part = part_in(connection, record.body)
            if part is not None:
                found[definition] = part
    return found


def materials(connection: Connection, ids: Iterable[str]) -> dict[str, MaterialDefinition]:
    """Return those of the named publications that hold the limits of an alloy."""
    found = {}
    for definition in set(ids):
        record = by_id(connection, definition)
        content = record.body.content if record and isinstance(record.body, DefinitionPublishedV1) else None
        if isinstance(content, MaterialDefinition):
            found[definition] = content
    return found


def _in_order(connection: Connection, of: type[Content]) -> list[tuple[str, Content]]:
    """The id and the content of each publication of one sort, the newest last."""
    records = of_subject(connection, WORKS_WIDE)
    return [
        (record.id, record.body.content)
        for record in sorted(records, key=as_written(records))
        if isinstance(record.body, DefinitionPublishedV1) and isinstance(record.body.content, of)
    ]


def newest_materials(connection: Connection) -> dict[tuple[str, str], tuple[str, MaterialDefinition]]:
    """Return the id and the content of the newest limits of each (alloy, order); the order is '' for any."""
    return {
        (content.alloy, "" if content.order is UNSET else content.order): (name, content)
        for name, content in _in_order(connection, MaterialDefinition)
    }


def newest_gauges(connection: Connection) -> dict[str, tuple[str, GaugeDefinition]]:
    """Return the id and the content of the newest definition of each gauge, by its bare number."""
    return {bare_name(content.number): (name, content) for name, content in _in_order(connection, GaugeDefinition)}


def part_in(connection: Connection, published: DefinitionPublishedV1) -> PartDefinition | None:
    """Return the part definition a publication holds or names; None where it is none, or its file is missing."""
    content = published.content
    if isinstance(content, PartDefinition):
        return content
    if not isinstance(content, FileDefinition):
        return None
    file = read_file(connection, content.file)
    if file is None:
        return None
    try:
        return _read_part(file)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        # The file is what its name says and yet no part definition this version understands: never guessed at.
        return None


def as_published(part: PartDefinition) -> tuple[DefinitionPublishedV1, bytes | None]:
    """Return the body that publishes a part, and the file it names where the part is too large for a record."""
    file = canonical(part)
    if len(file) <= LONGEST_RECORD - ENVELOPE_ROOM:
        return DefinitionPublishedV1(content=part), None
    named = FileDefinition(of="part", part=part.part, revision=part.revision, file=sha256(file))
    return DefinitionPublishedV1(content=named), file


def newest_publications(connection: Connection) -> dict[tuple[str, str], tuple[str, DefinitionPublishedV1]]:
    """Return the id and body of the newest publication of each (part, revision)."""
    found: dict[tuple[str, str], tuple[str, DefinitionPublishedV1]] = {}
    records = of_subject(connection, WORKS_WIDE)
    for record in sorted(records, key=as_written(records)):
        body = record.body
        if isinstance(body, DefinitionPublishedV1) and isinstance(body.content, PartDefinition | FileDefinition):
            found[body.content.part, body.content.revision] = (record.id, body)
    return found


def is_definition(connection: Connection, file: str) -> bool:
    """True for a file that a publication names."""
    bodies = (record.body for record in of_subject(connection, WORKS_WIDE))
    contents = (body.content for body in bodies if isinstance(body, DefinitionPublishedV1))
    return any(isinstance(content, FileDefinition) and content.file == file for content in contents)


def works(connection: Connection) -> tuple[str, WorksOpenedV1]:
    """Return the works' id and body; raises NotReady before `init`."""
    first = id_at(connection, WORKS_NUMBER)
    record = None if first is None else by_id(connection, first)
    if record is None or not isinstance(record.body, WorksOpenedV1):
        raise NotReady("No works was opened on this server yet. Run `tallywright init`.")
    return record.id, record.body


def newest_shifts(connection: Connection) -> tuple[str, ShiftDefinition] | None:
    """Return the id and the content of the shifts published last; None before any."""
    found = _in_order(connection, ShiftDefinition)
    return found[-1] if found else None


def shift_calendar(connection: Connection) -> ShiftCalendar:
    """Return the calendar published last; before any, the whole day of the works' zone is one shift."""
    newest = newest_shifts(connection)
    if newest is None:
        return ShiftCalendar(zone=works(connection)[1].time_zone, starts=(("day", "00:00"),))
    content = newest[1]
    return ShiftCalendar(
        zone=content.time_zone, starts=tuple((entry.shift, entry.starts) for entry in content.shifts)
    )
