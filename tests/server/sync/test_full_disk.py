# SPDX-License-Identifier: Apache-2.0
"""A server whose disk is full, failed or read-only: nothing is kept by halves or confirmed, all goes on later."""

from __future__ import annotations

import shutil
import tempfile
import time
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import psycopg
import pytest
from sqlalchemy import event, select, text
from werkzeug.test import TestResponse

from tallywright.access.devices import every_public_key
from tallywright.config import sqlite_url
from tallywright.db import metadata, reading, writing
from tallywright.errors import NotReady, NotWritable
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rows
from tests import postgres
from tests.actors import NOON, Tablet, Works, join_works, push_body
from tests.server.files.attaching import attached, how_far, noisy, send_part
from tests.small_disk import SmallDisk, small_disk

A_PUSH = 500


def all_rows(works: Works) -> dict[str, list[tuple[Any, ...]]]:
    with reading(works.engine) as connection:
        kept = {
            table.name: sorted(tuple(row) for row in connection.execute(select(table)))
            for table in metadata.sorted_tables
        }
        return {**kept, **rows(connection)}


def at_work(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.open_tray()
    tablet.push()
    return tablet


def send(tablet: Tablet) -> TestResponse:
    """Push the whole outbox, and keep it."""
    lines = [record.line for record in tablet.outbox]
    return tablet.send(push_body(tablet.writer.chain, tablet.key, lines, tablet.outbox[0].envelope.n))


def refused(answer: TestResponse, why: str) -> None:
    assert answer.status_code == 503, answer.text
    assert (answer.json["code"], answer.json["retry"]) == ("not-writable", True)
    assert answer.json["details"] == {"why": why}
    assert "marks" not in (answer.json or {})


def is_whole(works: Works, tablet: Tablet) -> None:
    """The same push is taken now, and the chain is whole."""
    assert tablet.push()["exceptions"] == []
    [mark] = tablet.push_lines([], 1, marks=[tablet.writer.chain])["marks"]
    assert (mark["n"], mark["held"]) == (tablet.writer.n, [])
    with reading(works.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
        assert rows(connection)["stale"] == []


@pytest.fixture
def disk(tmp_path: Path) -> Iterator[SmallDisk]:
    with small_disk(tmp_path / "disk", 8) as made:
        yield made


@pytest.fixture
def on_disk(disk: SmallDisk, sqlite_template: Path) -> Iterator[Works]:
    """A demo works on SQLite, on a disk of 8 MiB."""
    folder = disk.folder / "works"
    shutil.copytree(sqlite_template, folder)
    opened = join_works(folder, sqlite_url(folder))
    yield opened
    opened.engine.dispose()


def test_wherever_in_a_push_the_database_is_full_nothing_of_it_is_kept(sqlite_works: Works) -> None:
    tablet = at_work(sqlite_works)
    for _ in range(A_PUSH):
        tablet.find("handling_scratch", zone="inner_bow", cavity="A")
    before = all_rows(sqlite_works)
    most = [0]

    @event.listens_for(sqlite_works.engine, "begin")
    def bound(connection: Any) -> None:
        connection.exec_driver_sql(f"PRAGMA max_page_count = {most[0]}")

    with sqlite_works.engine.connect() as connection:
        pages = int(connection.exec_driver_sql("PRAGMA page_count").scalar_one())
    refusals = 0
    for more in range(0, 1000, 7):
        most[0] = pages + more
        answer = send(tablet)
        if answer.status_code == 200:
            break
        refused(answer, "full")
        assert all_rows(sqlite_works) == before
        refusals += 1
    assert refusals > 20
    is_whole(sqlite_works, tablet)


@pytest.mark.parametrize("left", [0, 64 * 1024, 512 * 1024])
def test_a_push_that_a_full_disk_cannot_take_is_taken_once_there_is_room(
    disk: SmallDisk, on_disk: Works, left: int
) -> None:
    tablet = at_work(on_disk)
    for _ in range(A_PUSH):
        tablet.find("handling_scratch", zone="inner_bow", cavity="A")
    before = all_rows(on_disk)
    disk.fill(left)
    for _ in range(2):
        refused(send(tablet), "full")
    assert all_rows(on_disk) == before
    assert tablet.pull()[1]
    disk.make_room()
    is_whole(on_disk, tablet)


def test_a_server_does_not_start_without_room_and_says_why(disk: SmallDisk, on_disk: Works) -> None:
    tablet = at_work(on_disk)
    tablet.find()
    on_disk.engine.dispose()
    disk.fill()
    with pytest.raises(NotWritable, match="The disk of the server is full"):
        join_works(on_disk.config.data, on_disk.config.database_url)
    disk.make_room()
    is_whole(on_disk, tablet)


def test_a_disk_that_became_read_only_is_said_to_be(disk: SmallDisk, on_disk: Works) -> None:
    tablet = at_work(on_disk)
    tablet.find()
    on_disk.engine.dispose()
    disk.takes_writes(False)
    answer = send(tablet)
    disk.takes_writes(True)
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (503, "not-writable", True)
    is_whole(on_disk, tablet)


def test_a_part_of_a_file_that_cannot_be_written_is_not_acknowledged(disk: SmallDisk, on_disk: Works) -> None:
    tablet = at_work(on_disk)
    photo = noisy(900)
    assert len(photo) > 400_000
    name = attached(tablet, photo)
    assert send_part(tablet, name, 0, photo[:100_000]).json["held"] == 100_000
    disk.fill(40_000)
    refused(send_part(tablet, name, 100_000, photo[100_000:300_000]), "full")
    assert how_far(tablet, name).json["held"] == 100_000
    disk.make_room()
    assert send_part(tablet, name, 100_000, photo[100_000:300_000]).json["held"] == 300_000
    # The last part finds room, the whole does not: it is put together when the part comes again.
    disk.fill(350_000)
    refused(send_part(tablet, name, 300_000, photo[300_000:]), "full")
    assert not how_far(tablet, name).json["whole"]
    disk.make_room()
    assert send_part(tablet, name, 300_000, photo[300_000:]).json["whole"]
    assert tablet.client.get(f"/api/v1/files/{name}").data == photo


def test_a_full_disk_keeps_no_tablet_from_what_others_made_because_a_sealing_key_is_due(
    disk: SmallDisk, on_disk: Works
) -> None:
    tablet = at_work(on_disk)
    before = tablet.pull()[0]["sealing"]
    disk.fill()
    on_disk.clock.now = NOON + 6 * 24 * 60 * 60 * 1000 + 23 * 60 * 60 * 1000
    tablet.pull()
    on_disk.clock.now += 2 * 60 * 60 * 1000
    assert on_disk.joined.sealing.current().name == before["name"]
    disk.make_room()
    # No half key was left behind that would be found first.
    assert on_disk.joined.sealing.current().name != before["name"]


def test_a_database_that_takes_no_writes_says_so_and_takes_the_same_push_later(
    works: Works, request: pytest.FixtureRequest
) -> None:
    tablet = at_work(works)
    tablet.find()
    before = all_rows(works)
    read_only(works, request, True)
    for _ in range(2):
        refused(send(tablet), "read-only")
    assert tablet.pull()[1]
    read_only(works, request, False)
    assert all_rows(works) == before
    is_whole(works, tablet)


def read_only(works: Works, request: pytest.FixtureRequest, yes: bool) -> None:
    if works.engine.dialect.name == "sqlite":
        with works.engine.connect() as connection:
            connection.exec_driver_sql(f"PRAGMA query_only = {'ON' if yes else 'OFF'}")
        return
    name = works.engine.url.database
    assert name is not None
    with psycopg.connect(request.getfixturevalue("postgres_address"), autocommit=True) as connection:
        setting = psycopg.sql.SQL("ALTER DATABASE {} SET default_transaction_read_only = {}")
        connection.execute(setting.format(psycopg.sql.Identifier(name), "on" if yes else "off"))
    works.engine.dispose()


@pytest.fixture
def postgres_on_disk(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[tuple[SmallDisk, Works]]:
    """A works on PostgreSQL whose records lie on a disk of 8 MiB."""
    if postgres.is_named():
        pytest.skip("the PostgreSQL server that was named cannot be given a small disk")
    address = request.getfixturevalue("postgres_address")
    template, database = request.getfixturevalue("postgres_template")
    folder = tmp_path / "works"
    shutil.copytree(template, folder)
    name, place = f"test_{uuid.uuid4().hex}", f"small_{uuid.uuid4().hex}"
    # Nobody else than root may look into the folders of tests.
    with tempfile.TemporaryDirectory() as reachable, small_disk(Path(reachable) / place, 8) as disk:
        Path(reachable).chmod(0o755)
        opened = join_works(folder, postgres.make_database(address, name, template=database))
        (disk.folder / "rows").mkdir()
        postgres.give(disk.folder / "rows")
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute(f"CREATE TABLESPACE {place} LOCATION '{disk.folder / 'rows'}'".encode())
        with opened.engine.begin() as connection:
            connection.execute(text(f"ALTER TABLE records SET TABLESPACE {place}"))
            connection.execute(text(f"ALTER TABLE file_parts SET TABLESPACE {place}"))
        yield disk, opened
        opened.engine.dispose()
        postgres.drop_database(address, name)
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute(f"DROP TABLESPACE {place}".encode())


def test_postgresql_without_room_keeps_nothing_of_a_push_and_takes_it_later(
    postgres_on_disk: tuple[SmallDisk, Works],
) -> None:
    disk, works = postgres_on_disk
    tablet = at_work(works)
    for _ in range(A_PUSH):
        tablet.find("handling_scratch", zone="inner_bow", cavity="A")
    before = all_rows(works)
    disk.fill()
    for _ in range(2):
        refused(send(tablet), "full")
    assert all_rows(works) == before
    disk.make_room()
    is_whole(works, tablet)


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
def test_a_database_server_that_ended_every_connection_is_asked_again(
    works: Works, request: pytest.FixtureRequest
) -> None:
    tablet = at_work(works)
    tablet.find()
    with psycopg.connect(request.getfixturevalue("postgres_address"), autocommit=True) as connection:
        end = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = %s"
        connection.execute(end, [works.engine.url.database])
    answer = send(tablet)
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (503, "not-ready", True)
    is_whole(works, tablet)


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
def test_a_transaction_that_was_kept_waiting_for_too_long_is_a_busy_server(works: Works) -> None:
    def wait() -> None:
        with writing(works.engine) as connection:
            connection.execute(text("SET LOCAL idle_in_transaction_session_timeout = 1"))
            time.sleep(0.2)
            connection.execute(text("SELECT 1"))

    with pytest.raises(NotReady):
        wait()
