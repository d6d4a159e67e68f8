# SPDX-License-Identifier: Apache-2.0
"""A log that holds much already: finds of real bytes with their rows, in equal shifts of the demo's calendar.

Every record is a find, which is the worst mix there is for a report of finds.
"""

from __future__ import annotations

from collections.abc import Iterator

from sqlalchemy import text

from tallywright.db import insert_rows, reading, writing
from tallywright.log.append import newest_number
from tallywright.log.tables import records
from tallywright.projections.tables import finds, origins
from tests.actors import NOON, Works

A_SHIFT = 3_000  # finds: three tablets, one tap in under 30 seconds
SHIFT_MS = 8 * 60 * 60 * 1000
A_COMMIT = 50_000
BORN = ("40", "40,50")
WORDS = (
    "burn", "handling_scratch", "staining", "pitting", "underfill", "lap", "rack_mark", "trim_nick",
)  # fmt: skip
CHAIN = "s" * 26


def origin_rows(batch: str, shift: int) -> list[tuple[object, ...]]:
    """What the route says of the finds of a shift: one batch a shift, made in the same shift."""
    start = NOON - shift * SHIFT_MS - A_SHIFT
    things = [(what, f"{what} {shift % 3}", False, 0, 0) for what in ("machine", "tool", "cast", "load", "lot")]
    things.append(("span", "", False, start, start + A_SHIFT))
    return [(batch, born, cavity, *thing) for born in BORN for cavity in "AB" for thing in things]


def batch_of(shift: int) -> str:
    """The batch that is looked at in a shift."""
    return f"{CHAIN}:{shift + 1}"


def rows(first: int, last: int, begin: int, line: bytes) -> Iterator[tuple[tuple[object, ...], tuple[object, ...]]]:
    """Records and finds from one place to another, the newest first: the first A_SHIFT lie in the shift of NOON."""
    for n in range(first, last):
        shift, place = divmod(n, A_SHIFT)
        at, number = NOON - shift * SHIFT_MS - place, begin + n - first
        batch, name, defect = batch_of(shift), f"{CHAIN}:{number}", WORDS[place * place % len(WORDS)]
        record = (number, CHAIN, number, batch, "first", at, line)
        piece = f"{CHAIN}:{number - 1}" if place % 5 == 1 else name
        find = (
            *(name, batch, "first", f"{CHAIN}:{number - place % 60}", piece, defect, "minor", "flank"),
            *("AB"[place % 2], BORN[place % 3 == 0], place % 12 + 1, 12 - place % 12, "", "", at, False),
        )
        yield record, find


def fill(works: Works, first: int, last: int) -> None:
    """Store the finds from one place to another, with their rows; a works is filled from 0 on."""
    tablet = works.tablet()
    tablet.open_tray()
    line = tablet.find("handling_scratch", zone="flank", cavity="A").line
    waiting: list[tuple[tuple[object, ...], tuple[object, ...]]] = []

    def store() -> None:
        with writing(works.engine) as connection:
            insert_rows(connection, records, [record for record, _ in waiting])
            insert_rows(connection, finds, [find for _, find in waiting])
        waiting.clear()

    with writing(works.engine) as connection:
        for shift in range(-(first // -A_SHIFT), -(last // -A_SHIFT)):
            insert_rows(connection, origins, origin_rows(batch_of(shift), shift))
    with reading(works.engine) as connection:
        begin = max(1_000_000, newest_number(connection) + 1)  # of one length, as the names of one chain often are
    for pair in rows(first, last, begin, line):
        waiting.append(pair)
        if len(waiting) == A_COMMIT:
            store()
    store()
    with writing(works.engine) as connection:
        connection.execute(text("ANALYZE"))
