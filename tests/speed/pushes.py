# SPDX-License-Identifier: Apache-2.0
"""Push bodies of a busy bench: batches with trays of finds, composed and signed before anything is timed."""

from __future__ import annotations

from dataclasses import dataclass

from tallywright.records.bench import BatchOpenedV1, TrayClosedV1
from tests.actors import Tablet, push_body

A_TRAY = 60
# Where on the piece each find of fifty is: one critical, which holds its batch, nine major, forty minor.
ZONES = ("inner_bow", *["outer_bow"] * 9, *["flank"] * 40)


@dataclass(frozen=True, slots=True)
class Push:
    """One body as it is sent, and the records in it."""

    body: bytes
    lines: list[bytes]


def open_batch(tablet: Tablet, number: str, pieces: int) -> None:
    """Open a batch; what comes from the tablet from now on is about it."""
    opened = tablet.add(
        BatchOpenedV1(number=number, pieces=pieces),
        sign_on=tablet.sign_on,
        definition=tablet.batch["definition"],
    )
    tablet.batch = {**tablet.batch, "batch": opened.id}


def look_on(tablet: Tablet, records: int) -> None:
    """Look at trays, a find at each place, until so many more records wait in the outbox.

    Every record a find, the worst mix there is; their classes are those of a bad batch.
    """
    end = len(tablet.outbox) + records
    while len(tablet.outbox) < end:
        number = tablet.writer.n // A_TRAY + 1
        tablet.open_tray(number)
        finds = min(A_TRAY - 2, end - len(tablet.outbox))
        for _ in range(finds):
            tablet.find("handling_scratch", zone=ZONES[len(tablet.outbox) % len(ZONES)], cavity="A")
        if len(tablet.outbox) < end:
            tablet.at_bench(closed(tablet.tray, finds))


def closed(tray: str, finds: int) -> TrayClosedV1:
    """A tray in which each find was on a piece of its own."""
    return TrayClosedV1(
        look="first", tray=tray, places=A_TRAY, empty_counted=0, accepted=A_TRAY - finds, rejected=finds,
        rework=0, query=0, all_looked_at=True,
    )  # fmt: skip


def take_push(tablet: Tablet) -> Push:
    """Sign what waits in the outbox as one push, and empty it."""
    lines = [record.line for record in tablet.outbox]
    first = tablet.outbox[0].envelope.n
    tablet.outbox = []
    return Push(push_body(tablet.writer.chain, tablet.key, lines, first), lines)


def whole_batches(tablet: Tablet, count: int, records: int, name: str) -> list[Push]:
    """That many pushes, each of a batch of its own with so many records."""
    pushes = []
    for place in range(count):
        open_batch(tablet, f"{name}-{place}", records)
        look_on(tablet, records - 1)
        pushes.append(take_push(tablet))
    return pushes


def send(tablet: Tablet, push: Push) -> None:
    """Push through the application in this process; raises AssertionError where a record was not stored."""
    answer = tablet.send(push.body)
    assert answer.status_code == 200, answer.text
    assert not answer.json["exceptions"]
