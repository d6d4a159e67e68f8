# SPDX-License-Identifier: Apache-2.0
"""The command that copies a database: what it checks, what it refuses, and what tablets hear of it."""

from __future__ import annotations

import shutil
import sqlite3
import uuid
from pathlib import Path
from random import Random

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import Connection, text

from tallywright.cli.main import tallywright
from tallywright.config import sqlite_url
from tallywright.db import open_engine, reading, writing
from tallywright.errors import WrongUse
from tallywright.log.append import newest_number
from tallywright.log.read import every_line
from tallywright.projections.rebuild import rows
from tests import postgres
from tests.actors import Works, join_works
from tests.small_disk import small_disk


def run(works: Works, *words: str) -> Result:
    return CliRunner().invoke(tallywright, [*words, "--data", str(works.config.data)])


def test_a_copy_is_read_back_and_written_down(sqlite_works: Works, tmp_path: Path) -> None:
    tablet = sqlite_works.tablet()
    tablet.open_tray()
    tablet.push()
    done = run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    assert done.exit_code == 0, done.output
    [mark] = tablet.push_lines([], 1, marks=[tablet.writer.chain])["marks"]
    assert (mark["n"], mark["safe"]) == (3, 3)


def test_a_copy_serves_as_a_works(sqlite_works: Works, tmp_path: Path) -> None:
    run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    folder = tmp_path / "put back"
    shutil.copytree(sqlite_works.config.data, folder, ignore=shutil.ignore_patterns("works.db*"))
    shutil.copy(tmp_path / "copy.db", folder / "works.db")
    again = join_works(folder, sqlite_url(folder))
    assert again.batch() == sqlite_works.batch()
    again.engine.dispose()


def test_only_its_user_may_read_a_copy(sqlite_works: Works, tmp_path: Path) -> None:
    run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    assert (tmp_path / "copy.db").stat().st_mode & 0o077 == 0
    assert [path.name for path in tmp_path.glob("copy*")] == ["copy.db"]


def test_a_copy_of_a_broken_log_is_removed_and_lets_nobody_let_go(sqlite_works: Works, tmp_path: Path) -> None:
    with writing(sqlite_works.engine) as connection:
        newest = newest_number(connection)
        connection.execute(text("UPDATE records SET line = X'7B7D' WHERE number = 5"))
    done = run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    assert done.exit_code == 1
    assert "the bytes are no record" in done.output
    assert list(tmp_path.glob("copy*")) == []
    with writing(sqlite_works.engine) as connection:
        assert newest_number(connection) == newest


def test_a_copy_never_replaces_another(sqlite_works: Works, tmp_path: Path) -> None:
    (tmp_path / "copy.db").write_text("older")
    assert isinstance(run(sqlite_works, "backup", str(tmp_path / "copy.db")).exception, WrongUse)
    assert (tmp_path / "copy.db").read_text() == "older"


def test_a_place_that_cannot_be_written_is_named(sqlite_works: Works, tmp_path: Path) -> None:
    refused = run(sqlite_works, "backup", str(tmp_path / "nowhere" / "copy.db")).exception
    assert isinstance(refused, WrongUse)
    assert "could not be written" in refused.sentence


@pytest.fixture
def named(works: Works, monkeypatch: pytest.MonkeyPatch) -> Works:
    """A works on each database that commands find by their settings."""
    monkeypatch.setenv("TALLYWRIGHT_DATA", str(works.config.data))
    monkeypatch.setenv("TALLYWRIGHT_DATABASE_URL", works.config.database_url)
    return works


def command(*words: str) -> Result:
    return CliRunner().invoke(tallywright, list(words))


def test_a_copy_of_either_database_is_read_back_and_lets_tablets_let_go(named: Works, tmp_path: Path) -> None:
    tablet = named.tablet()
    tablet.open_tray()
    tablet.push()
    done = command("backup", str(tmp_path / "copy.db"))
    assert done.exit_code == 0, done.output
    [mark] = tablet.push_lines([], 1, marks=[tablet.writer.chain])["marks"]
    assert (mark["n"], mark["safe"]) == (3, 3)


def test_hazard_e3_a_copy_that_is_put_back_is_the_same_works(
    named: Works, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = named.tablet()
    tablet.open_tray()
    tablet.find()
    tablet.push()
    odd = tablet.find().line.replace(b'"body":', b'"body": ')
    tablet.push_lines([odd], tablet.writer.n)
    command("backup", str(tmp_path / "copy.db"))
    with reading(named.engine) as connection:
        before = rows(connection), log(connection)
    folder = tmp_path / "put back"
    shutil.copytree(named.config.data, folder, ignore=shutil.ignore_patterns("works.db*"))
    monkeypatch.setenv("TALLYWRIGHT_DATA", str(folder))
    monkeypatch.setenv("TALLYWRIGHT_DATABASE_URL", sqlite_url(folder))
    done = command("restore", str(tmp_path / "copy.db"))
    assert done.exit_code == 0, done.output
    again = join_works(folder, sqlite_url(folder))
    with reading(again.engine) as connection:
        # The note that the copy was verified came behind it.
        [behind] = [line for line in before[1] if line not in log(connection)]
        assert b"backup_verified" in behind
        assert rows(connection) == before[0]
    assert not (folder / ".restoring").exists()
    again.engine.dispose()


def test_a_copy_goes_back_into_postgresql_and_the_works_goes_on(
    sqlite_works: Works, postgres_address: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = sqlite_works.tablet()
    tablet.open_tray()
    tablet.push()
    odd = tablet.find().line.replace(b'"body":', b'"body": ')
    tablet.push_lines([odd], tablet.writer.n)
    run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    url = postgres.make_database(postgres_address, f"put_back_{uuid.uuid4().hex}")
    monkeypatch.setenv("TALLYWRIGHT_DATA", str(sqlite_works.config.data))
    monkeypatch.setenv("TALLYWRIGHT_DATABASE_URL", url)
    done = command("restore", str(tmp_path / "copy.db"))
    assert done.exit_code == 0, done.output
    again = join_works(sqlite_works.config.data, url)
    again.clock.chance = Random(7)  # or it would call itself and its chain as the tablet in the copy
    newcomer = again.tablet()
    newcomer.open_tray()
    newcomer.find()
    assert newcomer.push()["exceptions"] == []
    # Another line is set aside behind those that came with the copy.
    other = newcomer.find().line.replace(b'"body":', b'"body": ')
    assert newcomer.push_lines([other], newcomer.writer.n)["exceptions"][0]["code"] == "not-canonical"
    again.engine.dispose()


def test_a_disk_without_room_for_a_copy_is_named_and_nothing_of_it_stays(named: Works, tmp_path: Path) -> None:
    with reading(named.engine) as connection:
        newest = newest_number(connection)
    with small_disk(tmp_path / "disk", 2) as disk:
        disk.fill(200_000)
        refused = command("backup", str(disk.folder / "copy.db")).exception
        assert isinstance(refused, WrongUse)
        assert "could not be written" in refused.sentence
        assert [path.name for path in disk.folder.iterdir()] == ["ballast"]
    with reading(named.engine) as connection:
        assert newest_number(connection) == newest


def test_a_copy_that_finds_no_room_is_not_put_back_by_half(sqlite_works: Works, tmp_path: Path) -> None:
    run(sqlite_works, "backup", str(tmp_path / "copy.db"))
    with small_disk(tmp_path / "disk", 8) as disk:
        disk.fill(800_000)
        folder = disk.folder / "put back"
        words = ["restore", str(tmp_path / "copy.db"), "--data", str(folder)]
        assert isinstance(CliRunner().invoke(tallywright, words).exception, WrongUse)
        disk.make_room()
        done = CliRunner().invoke(tallywright, words)
        assert done.exit_code == 0, done.output


@pytest.mark.usefixtures("named")
def test_a_copy_is_not_put_over_a_works(tmp_path: Path) -> None:
    command("backup", str(tmp_path / "copy.db"))
    refused = command("restore", str(tmp_path / "copy.db")).exception
    assert isinstance(refused, WrongUse)
    assert "holds a works already" in refused.sentence


@pytest.mark.parametrize("damage", ["a record", "no database"])
def test_a_broken_copy_is_not_put_back(sqlite_works: Works, tmp_path: Path, damage: str) -> None:
    copy = tmp_path / "copy.db"
    run(sqlite_works, "backup", str(copy))
    if damage == "a record":
        with sqlite3.connect(copy) as connection:
            connection.execute("UPDATE records SET line = X'7B7D' WHERE number = 5")
    else:
        copy.write_text("no database at all")
    folder = tmp_path / "put back"
    done = CliRunner().invoke(tallywright, ["restore", str(copy), "--data", str(folder)])
    if damage == "a record":
        assert done.exit_code == 1
        assert "the bytes are no record" in done.output
    else:
        assert isinstance(done.exception, WrongUse)
    with reading(open_engine(sqlite_url(folder))) as connection:
        assert newest_number(connection) == 0


def log(connection: Connection) -> list[bytes]:
    return [line for _, line in every_line(connection)]
