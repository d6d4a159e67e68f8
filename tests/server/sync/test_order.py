# SPDX-License-Identifier: Apache-2.0
"""Whatever the order, split and repetition of pushes, the rows are the same: they are folds of a set."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from sqlalchemy import delete

from tallywright.config import sqlite_url
from tallywright.db import projected, reading, writing
from tallywright.log.tables import chains, records, set_aside
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import TrayClosedV1
from tallywright.records.decode import Record
from tests.actors import Tablet, Works, join_works

Row = tuple[Any, ...]


@pytest.fixture(scope="module")
def settled(
    sqlite_template: Path, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[tuple[Works, list[Tablet]]]:
    """A works and two tablets with a shift's worth of records that nobody has pushed yet."""
    folder = tmp_path_factory.mktemp("order") / "works"
    shutil.copytree(sqlite_template, folder)
    works = join_works(folder, sqlite_url(folder))
    tablets = [works.tablet("bench 1"), works.tablet("bench 2")]
    for tablet in tablets:
        tray = tablet.open_tray(number=1)
        finds = [tablet.find(word, zone="flank") for word in ("lap", "burn", "not_sure", "handling_dent")]
        tablet.find("staining", piece=finds[0].id)
        tablet.find("lap", quick_repeat=True)
        undo = tablet.withdraw(finds[1].id)
        tablet.withdraw(undo.id)
        closed = TrayClosedV1(
            look="first", tray=tray.id, places=60, empty_counted=0, accepted=57, rejected=2, rework=0, query=1,
            all_looked_at=True,
        )  # fmt: skip
        tablet.at_bench(closed)
    # One tablet tries to take back the other's critical mark.
    tablets[1].withdraw(next(r.id for r in tablets[0].outbox if r.envelope.kind == "defect_tallied"))
    yield works, tablets
    works.engine.dispose()


def forget(works: Works, tablets: list[Tablet]) -> None:
    """Take the tablets' records out of the log again: a fresh server that knows their devices."""
    names = [tablet.writer.chain for tablet in tablets]
    with writing(works.engine) as connection:
        for table in (records, chains, set_aside):
            connection.execute(delete(table).where(table.c.chain.in_(names)))
        rebuild(connection)


def present_rows(works: Works) -> dict[str, list[Row]]:
    with reading(works.engine) as connection:
        return rows(connection)


@st.composite
def deliveries(draw: st.DrawFn, sizes: tuple[int, ...]) -> list[tuple[int, int, int]]:
    """Stretches (tablet, first, last) that cover every record at least once, in any order."""
    parts = []
    for tablet, size in enumerate(sizes):
        cuts = sorted(draw(st.sets(st.integers(1, size - 1), max_size=6)))
        edges = [0, *cuts, size]
        parts += [(tablet, a, b) for a, b in pairwise(edges)]
        parts += [(tablet, a, min(a + 3, size)) for a in draw(st.lists(st.integers(0, size - 1), max_size=3))]
    return draw(st.permutations(parts))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(data=st.data())
def test_any_order_split_and_repetition_of_pushes_gives_the_same_rows(
    settled: tuple[Works, list[Tablet]], data: st.DataObject
) -> None:
    works, tablets = settled
    forget(works, tablets)
    for tablet in tablets:
        tablet.push(tablet.outbox)
    expected = present_rows(works)
    assert expected["finds"]
    forget(works, tablets)
    for sender, first, last in data.draw(deliveries(tuple(len(t.outbox) for t in tablets))):
        tablets[sender].push(tablets[sender].outbox[first:last])
    assert present_rows(works) == expected
    with reading(works.engine) as connection:
        assert list(verify(connection, public_keys(works))) == []


def public_keys(works: Works) -> dict[str, str]:
    return {row["device"]: row["public_key"] for row in works.rows("devices")}


def test_the_tables_compared_are_all_the_projected_ones(settled: tuple[Works, list[Tablet]]) -> None:
    assert set(present_rows(settled[0])) == set(projected.tables)


def test_the_deliveries_hold_finds_withdrawals_and_a_closed_tray(settled: tuple[Works, list[Tablet]]) -> None:
    sent: list[Record] = [record for tablet in settled[1] for record in tablet.outbox]
    assert {"defect_tallied", "record_withdrawn", "tray_closed"} <= {record.envelope.kind for record in sent}
