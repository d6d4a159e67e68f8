# SPDX-License-Identifier: Apache-2.0
"""How long a shift's Pareto takes the server, beside the same shift in a log that holds nothing else.

    python -m tests.speed.pareto [--records 1000000] [--postgres]

The log is filled with records of the bytes of a real find, each with its row of `finds`, in equal shifts of the
demo's calendar: the worst mix there is, because every record is a find. The same shift is asked for in the full log
and in one that holds that shift alone; a query that grows with the log shows in the ratio. Wall time of the report
in one process, without HTTP; medians. The target of a shift is 20 ms with one million records stored.
"""

from __future__ import annotations

import argparse
import statistics
import tempfile
import time
from collections.abc import Iterator
from contextlib import ExitStack
from pathlib import Path

from sqlalchemy import text

from tallywright.config import sqlite_url
from tallywright.db import insert_rows, reading, writing
from tallywright.log.tables import records
from tallywright.projections.tables import finds, origins
from tallywright.reports.shift_pareto import Question, shift_pareto
from tallywright.reports.strata import STRATA, Only
from tests import postgres
from tests.actors import NOON, Works, join_works, make_demo_works

A_SHIFT = 3_000  # finds: three tablets, one tap in under 30 seconds
SHIFT_MS = 8 * 60 * 60 * 1000
A_COMMIT = 50_000
TURNS = 15
TARGET_MS = 20.0
BORN = ("40", "40,50")
WORDS = ("burn", "handling_scratch", "staining", "pitting", "underfill", "lap", "rack_mark", "trim_nick")
CHAIN = "s" * 26


def origin_rows(batch: str, shift: int) -> list[tuple[object, ...]]:
    """What the route says of the finds of a shift: one batch a shift, made in the same shift."""
    start = NOON - shift * SHIFT_MS - A_SHIFT
    things = [(what, f"{what} {shift % 3}", False, 0, 0) for what in ("machine", "tool", "cast", "load", "lot")]
    things.append(("span", "", False, start, start + A_SHIFT))
    return [(batch, born, cavity, *thing) for born in BORN for cavity in "AB" for thing in things]


def batch_of(shift: int) -> str:
    """The batch that is looked at in a shift."""
    return f"{CHAIN}:{10_000_000 + shift}"


def rows(count: int, line: bytes) -> Iterator[tuple[tuple[object, ...], tuple[object, ...]]]:
    """A record and its find, the newest first: the first A_SHIFT of them lie in the shift of NOON."""
    for n in range(1, count + 1):
        shift, place = divmod(n - 1, A_SHIFT)
        at = NOON - shift * SHIFT_MS - place
        batch, name, defect = batch_of(shift), f"{CHAIN}:{n}", WORDS[place * place % len(WORDS)]
        record = (1_000_000 + n, CHAIN, n, batch, "first", at, line)
        piece = name if place % 5 else f"{CHAIN}:{max(1, n - 1)}"
        find = (
            *(name, batch, "first", f"{CHAIN}:{n - place % 60}", piece, defect, "minor", "flank", "AB"[place % 2]),
            *(BORN[place % 3 == 0], place % 12 + 1, 12 - place % 12, "", "", at, False),
        )
        yield record, find


def fill(works: Works, count: int) -> None:
    """Store that many finds of real bytes, with their rows."""
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
        for shift in range(count // A_SHIFT + 1):
            insert_rows(connection, origins, origin_rows(batch_of(shift), shift))
    for pair in rows(count, line):
        waiting.append(pair)
        if len(waiting) == A_COMMIT:
            store()
    store()
    with writing(works.engine) as connection:
        connection.execute(text("ANALYZE"))


QUESTIONS = {
    **{f"by {name}": Question(by=name) for name in STRATA},
    "one word, by tray": Question(by="tray", only=(Only("defect", "value", "burn"),)),
    "by pieces": Question(unit="pieces"),
    "made on": Question(axis="made"),
}


def measure(works: Works) -> dict[str, float]:
    """Milliseconds of each question about the shift of now."""
    found = {}
    for name, question in QUESTIONS.items():
        times = []
        for _ in range(TURNS):
            with reading(works.engine) as connection:
                start = time.perf_counter()
                answer = shift_pareto(connection, NOON, question)
                times.append(time.perf_counter() - start)
            assert answer.marks > 0
        found[name] = statistics.median(times) * 1000
    return found


def main() -> None:
    """Read the options, fill two logs, and print a table."""
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else None)
    options.add_argument("--records", type=int, default=1_000_000)
    options.add_argument("--postgres", action="store_true")
    chosen = options.parse_args()
    figures = []
    with ExitStack() as stack:
        address = stack.enter_context(postgres.server()) if chosen.postgres else ""
        for name, count in (("full", chosen.records), ("alone", A_SHIFT)):
            folder = Path(stack.enter_context(tempfile.TemporaryDirectory()))
            url = postgres.make_database(address, f"speed_{name}") if address else sqlite_url(folder)
            make_demo_works(folder, url)
            works = join_works(folder, url)
            fill(works, count)
            figures.append(measure(works))
            works.engine.dispose()
    full, alone = figures
    print(f"a shift of {A_SHIFT} finds in a log of {chosen.records:,} records; target {TARGET_MS:.0f} ms")
    for name, spent in full.items():
        print(f"{name:22} {spent:7.1f} ms   {spent / alone[name]:.2f} times the shift alone")


if __name__ == "__main__":
    main()
