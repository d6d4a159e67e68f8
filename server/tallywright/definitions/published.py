# SPDX-License-Identifier: Apache-2.0
"""Definitions as they were published. A version is called by the id of its record and never changes."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import Connection

from tallywright.computation.identity import ShiftCalendar
from tallywright.errors import NotReady
from tallywright.log.read import WORKS_WIDE, by_id, of_subject
from tallywright.records.decode import Record
from tallywright.records.kinds import DefinitionPublishedV1, PartDefinition, ShiftDefinition, WorksOpenedV1


def parts(connection: Connection, ids: Iterable[str]) -> dict[str, PartDefinition]:
    """Return those of the named part definitions that the log holds."""
    found = {}
    for definition in set(ids):
        record = by_id(connection, definition)
        if record is not None and isinstance(record.body, DefinitionPublishedV1):
            content = record.body.content
            if isinstance(content, PartDefinition):
                found[definition] = content
    return found


def works(connection: Connection) -> tuple[str, WorksOpenedV1]:
    """Return the works' id and body; raises NotReady before `init`."""
    for record in of_subject(connection, WORKS_WIDE):
        if isinstance(record.body, WorksOpenedV1):
            return record.id, record.body
    raise NotReady("No works was opened on this server yet. Run `tallywright init`.")


def shift_calendar(connection: Connection) -> ShiftCalendar:
    """Return the calendar published last; before any, the whole day of the works' zone is one shift."""
    newest: Record | None = None
    for record in of_subject(connection, WORKS_WIDE):
        if (
            isinstance(record.body, DefinitionPublishedV1)
            and isinstance(record.body.content, ShiftDefinition)
            and (newest is None or record.envelope.n > newest.envelope.n)
        ):
            newest = record
    if newest is None:
        return ShiftCalendar(zone=works(connection)[1].time_zone, starts=(("day", "00:00"),))
    assert isinstance(newest.body, DefinitionPublishedV1)  # noqa: S101 - chosen so above
    assert isinstance(newest.body.content, ShiftDefinition)  # noqa: S101 - chosen so above
    content = newest.body.content
    return ShiftCalendar(
        zone=content.time_zone, starts=tuple((entry.shift, entry.starts) for entry in content.shifts)
    )
