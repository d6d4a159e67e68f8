# SPDX-License-Identifier: Apache-2.0
"""A push of 500 records, and of ten into a batch that grows, beside what the database alone does with the bytes.

One process, no network: the WSGI application takes pushes of records of about 620 bytes with every check on:
canonical form, hash, links, one signature a push, numbering under the lock, the whole batch folded anew, one commit
flushed to disk. The floor inserts the same lines into the same table, one commit a push, and does nothing else.
Medians over the pushes; CPU is of this process, so that of PostgreSQL is not in it.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from tallywright.config import sqlite_url
from tallywright.db import insert_rows, open_engine, writing
from tallywright.log.tables import records
from tests import postgres
from tests.actors import join_works, make_demo_works
from tests.speed.figures import Figure, Floor, Spent, median, timed
from tests.speed.pushes import Push, look_on, open_batch, send, take_push, whole_batches

A_PUSH, PUSHES = 500, 40
A_SMALL_PUSH = 10
# Records in the batch when a small push has come, and how many batches are brought so far.
SIZES = {60: 20, 300: 12, 3_000: 5}
CPU_A_RECORD_MS = 0.05


def on_sqlite(folder: Path) -> Iterator[Figure]:
    """Pushes of 500 into SQLite, every commit flushed."""
    yield from _large(folder, sqlite_url(folder), f"sqlite:///{folder / 'floor.db'}", "SQLite", 20_000)


def on_postgres(folder: Path) -> Iterator[Figure]:
    """Pushes of 500 into PostgreSQL, a server of the tests' own: it flushes nothing."""
    with postgres.server() as address:
        urls = [postgres.make_database(address, name) for name in ("speed", "floor")]
        yield from _large(folder, urls[0], urls[1], "PostgreSQL", 8_000)


def small(folder: Path) -> Iterator[Figure]:
    """The everyday push: ten records more of a batch that is being looked at."""
    make_demo_works(folder, sqlite_url(folder))
    works = join_works(folder, sqlite_url(folder))
    tablet = works.tablet()
    tablet.push()
    spent, pushes = {}, list[Push]()
    for size, count in SIZES.items():
        times = []
        for place in range(count):
            open_batch(tablet, f"SMALL-{size}-{place}", size)
            while len(tablet.outbox) < size - A_SMALL_PUSH:
                look_on(tablet, min(A_PUSH, size - A_SMALL_PUSH - len(tablet.outbox)))
            for start in range(0, len(tablet.outbox), A_PUSH):
                tablet.push(tablet.outbox[start : start + A_PUSH])
            tablet.outbox = []
            look_on(tablet, A_SMALL_PUSH)
            pushes.append(take_push(tablet))
            times.append(timed(partial(send, tablet, pushes[-1])))
        spent[size] = median(times)
    works.engine.dispose()
    floor = median(_floor(f"sqlite:///{folder / 'floor.db'}", pushes))
    beside = Floor("insert of the ten lines", floor.wall * 1000, floor.cpu * 1000 / A_SMALL_PUSH)
    for size, one in spent.items():
        yield Figure(
            f"push of {A_SMALL_PUSH} into a batch of {size:,}", one.wall * 1000, "ms", floor=beside,
            cpu=one.cpu * 1000 / A_SMALL_PUSH,
        )  # fmt: skip


def _large(folder: Path, url: str, floor_url: str, name: str, target: float) -> Iterator[Figure]:
    make_demo_works(folder, url)
    works = join_works(folder, url)
    tablet = works.tablet()
    tablet.push()
    pushes = whole_batches(tablet, PUSHES, A_PUSH, "LARGE")
    first = median(timed(partial(send, tablet, push)) for push in pushes)
    again = median(timed(partial(send, tablet, push)) for push in pushes)
    works.engine.dispose()
    floor = median(_floor(floor_url, pushes))
    beside = Floor("insert of the lines", A_PUSH / floor.wall, floor.cpu * 1000 / A_PUSH)

    def figure(what: str, spent: Spent, least: float) -> Figure:
        rate, cpu = A_PUSH / spent.wall, spent.cpu / A_PUSH * 1000
        return Figure(f"{what}, {name}", rate, "records/s", at_least=least, floor=beside, cpu=cpu)

    yield figure(f"push of {A_PUSH}", first, target)
    yield figure("the same push again", again, A_PUSH / first.wall)
    yield Figure(f"CPU of a push of {A_PUSH}, {name}", first.cpu / A_PUSH * 1000, "ms a record", CPU_A_RECORD_MS)


def _floor(url: str, pushes: list[Push]) -> Iterator[Spent]:
    """Insert the lines of each push into the log's table and nothing else, one commit each."""
    engine = open_engine(url)
    records.create(engine)
    number = 0

    def fill(rows: list[tuple[object, ...]]) -> None:
        with writing(engine) as connection:
            insert_rows(connection, records, rows)

    for place, push in enumerate(pushes):
        rows: list[tuple[object, ...]] = []
        for line in push.lines:
            number += 1
            rows.append((number, "a" * 26, number, str(place), "first", 0, line))
        yield timed(partial(fill, rows))
    engine.dispose()
