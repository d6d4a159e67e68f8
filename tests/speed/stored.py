# SPDX-License-Identifier: Apache-2.0
"""A log that holds much already: finds of real bytes with their rows, in equal shifts of the demo's calendar.

Every record is a find, which is the worst mix there is for a report of finds. The numbers of finds that a works is
filled to are whole batches. SQLite is given no statistics of its tables: a server never gives it any.
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import islice

from msgspec.structs import astuple
from sqlalchemy import Connection

from tallywright.db import insert_rows, reading, writing
from tallywright.folds.origins import Origin
from tallywright.log.append import newest_number
from tallywright.log.tables import records
from tallywright.projections.find_rows import FindRow
from tallywright.projections.sum_rows import sum_rows
from tallywright.projections.tables import finds, origins, spans, sums
from tests.actors import NOON, Works

A_SHIFT = 3_000  # finds: three tablets, one tap in under 30 seconds
A_BATCH = 250  # finds, of several hundred pieces
SHIFT_MS = 8 * 60 * 60 * 1000
A_COMMIT = 50_000
BORN = ("40", "40,50")
WORDS = (
    "burn", "handling_scratch", "staining", "pitting", "underfill", "lap", "rack_mark", "trim_nick",
)  # fmt: skip
CHAIN = "s" * 26


def born(place: int) -> list[Origin]:
    """What the route says of the finds of the batch at a place: made in the shift that it is looked at in."""
    shift = place // A_SHIFT
    start = NOON - shift * SHIFT_MS - A_SHIFT
    things = [(what, f"{what} {shift % 3}", False, 0, 0) for what in ("machine", "tool", "cast", "load", "lot")]
    things.append(("span", "", False, start, start + A_SHIFT))
    return [Origin(born_at, cavity, *thing) for born_at in BORN for cavity in "AB" for thing in things]


def batch_of(place: int) -> str:
    """The batch that a find is of."""
    return f"{CHAIN}:{place // A_BATCH + 1}"


def rows(first: int, last: int, begin: int, line: bytes) -> Iterator[tuple[tuple[object, ...], FindRow]]:
    """Records and finds from one place to another, the newest first: the first A_SHIFT lie in the shift of NOON."""
    for n in range(first, last):
        shift, place = divmod(n, A_SHIFT)
        at, number = NOON - shift * SHIFT_MS - place, begin + n - first
        batch, name, defect = batch_of(n), f"{CHAIN}:{number}", WORDS[place * place % 23 % len(WORDS)]
        record = (number, CHAIN, number, batch, "first", at, line)
        piece = f"{CHAIN}:{number - 1}" if place % 5 == 1 else name
        find = FindRow(
            *(name, batch, "first", f"{CHAIN}:{number - place % 60}", piece, defect, "minor", "flank"),
            *("AB"[place % 2], BORN[place % 3 == 0], place % 12 + 1, 12 - place % 12, "", "", at, False),
        )
        yield record, find


def fill(works: Works, first: int, last: int) -> None:
    """Store the finds from one place to another, with their rows; a works is filled from 0 on, by whole batches."""
    tablet = works.tablet()
    tablet.open_tray()
    line = tablet.find("handling_scratch", zone="flank", cavity="A").line
    with reading(works.engine) as connection:
        begin = max(1_000_000, newest_number(connection) + 1)  # of one length, as the names of one chain often are
    pairs = rows(first, last, begin, line)
    for at in range(first, last, A_COMMIT):
        told = list(islice(pairs, A_COMMIT))
        with writing(works.engine) as connection:
            insert_rows(connection, records, [record for record, _ in told])
            insert_rows(connection, finds, [find for _, find in told])
            for place in range(at, at + len(told), A_BATCH):
                _store_sums(connection, place, [find for _, find in told[place - at : place - at + A_BATCH]])


def _store_sums(connection: Connection, place: int, of_batch: list[FindRow]) -> None:
    batch, what_is_said = of_batch[0].batch, born(place)
    insert_rows(connection, origins, [(batch, *astuple(origin)) for origin in what_is_said])
    of_bars, times = sum_rows(batch, "", of_batch, what_is_said)
    insert_rows(connection, sums, of_bars)
    insert_rows(connection, spans, times)
