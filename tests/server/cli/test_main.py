# SPDX-License-Identifier: Apache-2.0
"""The commands: what they print, and that a mistake is one sentence and exit code 2."""

from __future__ import annotations

import socket
import subprocess
import sys
from pathlib import Path

import pytest
from sqlalchemy import delete, text

from tallywright.config import sqlite_url
from tallywright.db import open_engine, projected, reading, writing
from tallywright.log.read import every_line
from tallywright.projections.rebuild import rows
from tallywright.projections.refold import refold
from tallywright.projections.tables import finds, folded_by
from tallywright.records.kinds import DeviceRevokedV1
from tests.actors import Works
from tests.command import run


@pytest.fixture
def data(sqlite_works: Works) -> Path:
    """The folder of a demo works with some finds."""
    tablet = sqlite_works.tablet()
    tablet.open_tray()
    tablet.find()
    tablet.push()
    sqlite_works.engine.dispose()
    return sqlite_works.config.data


def test_a_live_works_is_opened_and_gives_out_codes(tmp_path: Path) -> None:
    assert run("init", "--data", str(tmp_path), "--name", "Works").returncode == 0
    code = run("code", "--data", str(tmp_path))
    assert code.returncode == 0
    assert len(code.stdout.strip().replace("-", "")) == 8


def test_a_person_is_added_with_a_pin_that_is_no_record(tmp_path: Path) -> None:
    run("init", "--data", str(tmp_path), "--name", "Works")
    words = ["person", "--data", str(tmp_path), "--name", "Ada Quist", "--role", "inspector"]
    assert run(*words, stdin="zebra 4071\n").returncode == 0
    with reading(open_engine(sqlite_url(tmp_path))) as connection:
        log = b"".join(line for _, line in every_line(connection))
    assert b"Ada Quist" in log
    assert b"zebra 4071" not in log


@pytest.mark.parametrize(("role", "pin"), [("inspector", "1234"), ("lead", "4071"), ("inspector", "")])
def test_a_pin_that_is_too_easy_adds_nobody(tmp_path: Path, role: str, pin: str) -> None:
    run("init", "--data", str(tmp_path), "--name", "Works")
    words = ["person", "--data", str(tmp_path), "--name", "Ada Quist", "--role", role]
    found = run(*words, stdin=f"{pin}\n")
    assert (found.returncode, found.stderr.count("\n")) == (2, 1)
    with reading(open_engine(sqlite_url(tmp_path))) as connection:
        assert b"Ada Quist" not in b"".join(line for _, line in every_line(connection))


def test_a_works_is_opened_once(data: Path) -> None:
    again = run("init", "--data", str(data), "--name", "Works")
    assert again.returncode == 2
    assert again.stderr.count("\n") == 1


def test_a_code_needs_a_works(tmp_path: Path) -> None:
    found = run("code", "--data", str(tmp_path))
    assert found.returncode == 2
    assert "init" in found.stderr


def test_a_whole_log_is_said_to_be_whole(data: Path) -> None:
    found = run("verify", "--data", str(data))
    files = "1 files are here and whole, 0 that records name are missing."
    assert (found.returncode, found.stdout) == (0, f"{files}\nThe log is whole.\n")


def test_a_broken_log_names_the_row_and_exits_with_1(data: Path) -> None:
    with writing(open_engine(sqlite_url(data))) as connection:
        connection.execute(text("UPDATE records SET line = line || ' ' WHERE number = 5"))
    found = run("verify", "--data", str(data))
    assert found.returncode == 1
    assert "bytes" in found.stdout


def test_rows_that_differ_from_the_log_are_found_and_left(data: Path) -> None:
    assert run("rebuild", "--check", "--data", str(data)).returncode == 0
    with writing(open_engine(sqlite_url(data))) as connection:
        connection.execute(delete(finds))
    for _ in range(2):
        found = run("rebuild", "--check", "--data", str(data))
        assert found.returncode == 1
        assert "finds" in found.stdout
    assert run("rebuild", "--data", str(data)).returncode == 0
    assert run("rebuild", "--check", "--data", str(data)).returncode == 0


def test_every_projected_table_that_somebody_changed_is_named(data: Path) -> None:
    engine = open_engine(sqlite_url(data))
    with writing(engine) as connection:
        filled = [table for table, found in rows(connection).items() if found and table != folded_by.name]
        for name in filled:
            key = ", ".join(column.name for column in projected.tables[name].primary_key)
            connection.execute(text(f"DELETE FROM {name} WHERE ({key}) = (SELECT {key} FROM {name} LIMIT 1)"))  # noqa: S608
    engine.dispose()
    assert len(filled) > 8
    found = run("rebuild", "--check", "--data", str(data))
    assert found.returncode == 1
    assert [line.split(":")[0] for line in found.stdout.splitlines()] == filled


def test_a_used_port_is_one_sentence(tmp_path: Path) -> None:
    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        found = run("demo", "--data", str(tmp_path), "--port", str(taken.getsockname()[1]))
    assert (found.returncode, found.stderr.count("\n")) == (2, 1)
    assert "in use" in found.stderr


def test_a_folder_that_cannot_be_made_is_one_sentence(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("")
    found = run("init", "--name", "Works", "--data", str(tmp_path / "file" / "folder"))
    assert (found.returncode, found.stderr.count("\n")) == (2, 1)


def test_a_newer_database_is_one_sentence(data: Path) -> None:
    with writing(open_engine(sqlite_url(data))) as connection:
        connection.execute(text("UPDATE alembic_version SET version_num = '9999'"))
    found = run("verify", "--data", str(data))
    assert (found.returncode, found.stderr.count("\n")) == (2, 1)
    assert "newer version" in found.stderr


def test_a_live_works_is_never_opened_as_a_demo(tmp_path: Path) -> None:
    run("init", "--data", str(tmp_path), "--name", "Works")
    found = run("demo", "--data", str(tmp_path), "--port", "1024")
    assert found.returncode == 2
    assert "live works" in found.stderr


def test_an_unknown_setting_stops_the_start(tmp_path: Path) -> None:
    found = run("verify", "--data", str(tmp_path), TALLYWRIGHT_COLOUR="red")
    assert (found.returncode, found.stderr.count("\n")) == (2, 1)
    assert "TALLYWRIGHT_COLOUR" in found.stderr


def test_an_unknown_option_exits_with_2() -> None:
    words = [sys.executable, "-m", "tallywright.cli.main", "verify", "--colour", "red"]
    assert subprocess.run(words, capture_output=True, check=False, timeout=60).returncode == 2


def test_a_tablet_is_revoked_by_its_letters_and_once(data: Path) -> None:
    listed = run("devices", "--data", str(data)).stdout.splitlines()
    letters = next(line.split()[0] for line in listed if "bench 1" in line)
    assert run("revoke", "--data", str(data), "--letters", letters).returncode == 0
    assert any(
        line.startswith(letters) and line.endswith("revoked")
        for line in run("devices", "--data", str(data)).stdout.splitlines()
    )
    assert run("revoke", "--data", str(data), "--letters", letters).returncode == 2


def test_the_server_itself_cannot_be_revoked(data: Path) -> None:
    assert run("revoke", "--data", str(data), "--letters", "ZZ").returncode == 2


def test_what_was_set_aside_is_listed_by_tablet_and_reason(sqlite_works: Works) -> None:
    tablet = sqlite_works.tablet("bench 7")
    tablet.push()
    assert run("set-aside", "--data", str(sqlite_works.config.data)).stdout == "Nothing was set aside.\n"
    with writing(sqlite_works.engine) as connection:
        [record] = sqlite_works.own.write(connection, [DeviceRevokedV1(device=tablet.writer.device)])
        refold(connection, [record.subject])
    tablet.open_tray()
    tablet.push()
    found = run("set-aside", "--data", str(sqlite_works.config.data))
    assert found.returncode == 0
    assert "bench 7" in found.stdout
    assert found.stdout.endswith("revoked-device: 1, of these admitted 0, admissible 1\n")
