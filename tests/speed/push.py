# SPDX-License-Identifier: Apache-2.0
"""How fast a push is, beside what the database alone could do with the same bytes in the same run.

    python -m tests.speed.push [--pushes 40] [--postgres]

One process, no network: the WSGI application takes pushes of 500 records of about 620 bytes, each push one
batch, with every check on: canonical form, hash, links, one signature a push, numbering under the lock, the
whole batch folded anew, one commit flushed to disk. The floor inserts the same lines into the same table,
500 a commit, and does nothing else. Figures are medians over the pushes; CPU is of this process.
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from collections.abc import Callable
from contextlib import ExitStack
from functools import partial
from pathlib import Path

from tallywright.config import sqlite_url
from tallywright.db import insert_rows, open_engine, writing
from tallywright.log.tables import records
from tallywright.records.bench import BatchOpenedV1
from tests import postgres
from tests.actors import Tablet, Works, join_works, make_demo_works, push_body

A_PUSH = 500


def make_pushes(works: Works, count: int) -> tuple[Tablet, list[tuple[bytes, list[bytes]]]]:
    """Return a tablet and that many push bodies, each of one batch of its own, with their lines."""
    tablet = works.tablet()
    tablet.push()
    bodies = []
    for place in range(count):
        opened = tablet.add(
            BatchOpenedV1(number=f"SPEED-{place}", pieces=A_PUSH),
            sign_on=tablet.sign_on,
            definition=tablet.batch["definition"],
        )
        tablet.batch = {**tablet.batch, "batch": opened.id}
        tablet.open_tray()
        while len(tablet.outbox) < A_PUSH:
            tablet.find("handling_scratch", zone="inner_bow", cavity="A")
        lines = [record.line for record in tablet.outbox]
        bodies.append((push_body(tablet.writer.chain, tablet.key, lines, opened.envelope.n), lines))
        tablet.outbox = []
    return tablet, bodies


def timed(act: Callable[[], None]) -> tuple[float, float]:
    """Run a call and return wall and CPU seconds."""
    wall, cpu = time.perf_counter(), time.process_time()
    act()
    return time.perf_counter() - wall, time.process_time() - cpu


def median_rate(times: list[tuple[float, float]]) -> tuple[float, float]:
    """Records a second, and CPU milliseconds a record."""
    wall = statistics.median(wall for wall, _ in times)
    cpu = statistics.median(cpu for _, cpu in times)
    return A_PUSH / wall, cpu / A_PUSH * 1000


def measure(database_url: str, folder: Path, floor_url: str, count: int) -> None:
    """Push, replay, and fill the floor; print a table."""
    make_demo_works(folder, database_url)
    works = join_works(folder, database_url)
    tablet, bodies = make_pushes(works, count)
    size = sum(len(line) for _, lines in bodies for line in lines) / (count * A_PUSH)

    def send(body: bytes) -> None:
        answer = tablet.send(body)
        assert answer.status_code == 200
        assert not answer.json["exceptions"]

    pushes = [timed(partial(send, body)) for body, _ in bodies]
    replays = [timed(partial(send, body)) for body, _ in bodies]
    floor_engine = open_engine(floor_url)
    records.create(floor_engine)
    floor = []
    for place, (_, lines) in enumerate(bodies):
        first = place * A_PUSH + 1
        rows: list[tuple[object, ...]] = [
            (first + i, "a" * 26, first + i, str(place), "first", 0, line) for i, line in enumerate(lines)
        ]

        def fill(rows: list[tuple[object, ...]] = rows) -> None:
            with writing(floor_engine) as connection:
                insert_rows(connection, records, rows)

        floor.append(timed(fill))
    floor_engine.dispose()
    works.engine.dispose()
    print(f"{count} pushes of {A_PUSH} records of {size:.0f} bytes")
    base = median_rate(floor)[0]
    for name, times in (("push", pushes), ("the same push again", replays), ("floor: insert alone", floor)):
        rate, cpu = median_rate(times)
        print(f"{name:22} {rate:9,.0f} records/s   {cpu:.4f} ms CPU a record   {rate / base:.3f} of the floor")


def main() -> None:
    """Read the options and measure."""
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    options.add_argument("--pushes", type=int, default=40)
    options.add_argument("--postgres", action="store_true")
    chosen = options.parse_args()
    with ExitStack() as stack:
        folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
        url, floor = sqlite_url(folder), f"sqlite:///{folder / 'floor.db'}"
        if chosen.postgres:
            address = stack.enter_context(postgres.server())
            url, floor = (postgres.make_database(address, name) for name in ("speed", "floor"))
        measure(url, folder, floor, chosen.pushes)


if __name__ == "__main__":
    main()
