# SPDX-License-Identifier: Apache-2.0
"""What a lead has to know at the end of a shift beside holds and batches.

Counts that differ, tablets not heard from, and at which tablets somebody's PIN was wrong too often.
"""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, and_, or_, select

from tallywright.access.devices import Heard, devices_heard
from tallywright.access.pins import waiting_pairs
from tallywright.projections.pages import every_difference, whole_ledger
from tallywright.projections.tables import batch_pages, batches, ledgers
from tallywright.reports.called import Called
from tallywright.reports.present_shift import present_shift

NOT_HEARD_MS = 30 * 60 * 1000  # as long as a tablet's own records may wait before it says so in amber


@dataclass(frozen=True, slots=True)
class OpenDifference:
    """A count that differs and that nobody accepted; `tray` is the number of the tray it names by an id, or 0."""

    batch: str
    number: str
    look: str
    kind: str
    subject: str
    amount: int
    tray: int


@dataclass(frozen=True, slots=True)
class WrongPins:
    """A person, by name, at a tablet at which no further PIN of this person is looked at."""

    person: str
    device: str
    letters: str
    name: str


@dataclass(frozen=True, slots=True)
class ShiftLines:
    """The shift of now, and its lines.

    differences  by batch, the newest first
    not_heard    tablets by when they were heard
    wrong_pins   by person and tablet
    """

    start: int
    end: int
    shift: str
    day: str
    differences: list[OpenDifference]
    not_heard: list[Heard]
    wrong_pins: list[WrongPins]


def shift_lines(connection: Connection, now_ms: int, asking: str) -> ShiftLines:
    """Return the lines of the shift that a moment belongs to.

    asking  the device that asks: it is heard at this moment
    """
    now = present_shift(connection, now_ms)
    called, tablets = Called(connection), {one.device: one for one in devices_heard(connection)}
    silent = [
        one
        for one in tablets.values()
        if one.device != asking and not one.revoked and 0 < one.heard_at < now_ms - NOT_HEARD_MS
    ]
    return ShiftLines(
        start=now.start,
        end=now.end,
        shift=now.shift,
        day=now.day,
        differences=_differences(connection, called),
        not_heard=sorted(silent, key=lambda one: (-one.heard_at, one.letters)),
        wrong_pins=[
            WrongPins(called.person(person), device, tablets[device].letters, tablets[device].name)
            for person, device in waiting_pairs(connection)
        ],
    )


def _differences(connection: Connection, called: Called) -> list[OpenDifference]:
    """Every open difference of the batches that are not released, or are open again."""
    # A batch with nothing open is not read at all.
    in_work = (
        select(batches.c.batch, batches.c.number)
        .join(batch_pages, batch_pages.c.batch == batches.c.batch)
        .join(ledgers, and_(ledgers.c.batch == batches.c.batch, ledgers.c.open > 0))
        .where(or_(batch_pages.c.released_by == "", batch_pages.c.late > 0))
        .order_by(batches.c.opened_at.desc(), batches.c.batch)
    )
    found = []
    for batch, number in connection.execute(in_work).all():
        lines = [line for line in every_difference(whole_ledger(connection, batch)) if line.accepted_by == ""]
        trays = called.trays(line.subject for line in lines if ":" in line.subject)
        for line in lines:
            tray = trays[line.subject].number if line.subject in trays else 0
            found.append(OpenDifference(batch, number, line.look, line.kind, line.subject, line.amount, tray))
    return found
