# SPDX-License-Identifier: Apache-2.0
"""The command that copies a database: what it checks, what it refuses, and what tablets hear of it."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from sqlalchemy import text

from tallywright.cli.main import tallywright
from tallywright.config import sqlite_url
from tallywright.db import writing
from tallywright.errors import WrongUse
from tallywright.log.append import newest_number
from tests.actors import Works, join_works


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


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
def test_a_works_on_postgresql_is_refused_in_one_sentence_that_names_the_tool(
    works: Works, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("TALLYWRIGHT_DATA", str(works.config.data))
    monkeypatch.setenv("TALLYWRIGHT_DATABASE_URL", works.config.database_url)
    refused = CliRunner().invoke(tallywright, ["backup", str(tmp_path / "copy")]).exception
    assert isinstance(refused, WrongUse)
    assert "pg_dump" in refused.sentence
