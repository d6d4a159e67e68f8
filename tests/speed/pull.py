# SPDX-License-Identifier: Apache-2.0
"""A new tablet fetches a batch, page by page, in this process; to whoever made the rows they do not come back."""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from sqlalchemy import select

from tallywright.config import sqlite_url
from tallywright.db import reading
from tallywright.log.tables import records
from tests.actors import Tablet, Works, join_works, make_demo_works
from tests.speed.figures import Figure, Floor, median, timed
from tests.speed.pushes import look_on, open_batch

A_PUSH, RECORDS, TURNS = 500, 5_000, 9
LEAST = 50_000


def measure(folder: Path) -> Iterator[Figure]:
    """Fetch the records of one batch, and ask how many of them come back to the tablet that made them."""
    make_demo_works(folder, sqlite_url(folder))
    works = join_works(folder, sqlite_url(folder))
    giver, taker = works.tablet("giver"), works.tablet("taker")
    for tablet in (taker, giver):
        tablet.push()
    open_batch(giver, "PULLED", RECORDS)
    look_on(giver, RECORDS - 1)
    for start in range(0, RECORDS, A_PUSH):
        giver.push(giver.outbox[start : start + A_PUSH])
    batch = giver.batch["batch"]
    wide = _fetch(taker, "")
    assert _fetch(taker, batch) == wide + RECORDS
    spent = median(timed(partial(_fetch, taker, batch)) for _ in range(TURNS))
    floor = median(timed(partial(_read, works, batch)) for _ in range(TURNS))
    echoed = _fetch(giver, batch) - wide
    works.engine.dispose()
    yield Figure(
        f"pull of a batch of {RECORDS:,}, SQLite", RECORDS / spent.wall, "records/s", at_least=LEAST,
        floor=Floor("select of the lines", RECORDS / floor.wall, floor.cpu * 1000 / RECORDS),
        cpu=spent.cpu * 1000 / RECORDS,
    )  # fmt: skip
    yield Figure("own records that come back", echoed, "records", at_most=0)


def _fetch(asker: Tablet, batch: str) -> int:
    """Pull until there is no more; returns how many lines came."""
    count, after, more = 0, "", True
    while more:
        query = {"chain": asker.writer.chain}
        if after:
            query["after"] = after
        if batch:
            query["carry"] = f"{batch}/first@{after}" if after else f"{batch}/first"
        head, lines = asker.pull(**query)
        count, after, more = count + len(lines), head["cursor"], head["more"]
    return count


def _read(works: Works, batch: str) -> None:
    with reading(works.engine) as connection:
        wanted = select(records.c.line).where(records.c.subject == batch).order_by(records.c.number)
        assert len(list(connection.scalars(wanted))) == RECORDS
