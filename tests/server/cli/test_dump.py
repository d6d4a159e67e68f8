# SPDX-License-Identifier: Apache-2.0
"""Dump, restore, pull all: a works that was put back gives a tablet every record, and goes on."""

from __future__ import annotations

import random
import shutil
import subprocess
import uuid
from pathlib import Path

import pytest

from tallywright.access.devices import every_public_key
from tallywright.config import sqlite_url
from tallywright.db import reading
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rows
from tests import postgres
from tests.actors import Tablet, Works, join_works, open_session
from tests.command import run


def pull_all(tablet: Tablet) -> list[bytes]:
    """All that a tablet gets that begins with nothing and carries the batch."""
    pair = f"{tablet.batch['batch']}/first"
    head, lines = tablet.pull(carry=[pair])
    while head["more"]:
        head, page = tablet.pull(after=head["cursor"], carry=[f"{pair}@{head['cursor']}"])
        lines += page
    return lines


def at_work(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.open_tray()
    for _ in range(20):
        tablet.find()
    tablet.push()
    odd = tablet.find().line.replace(b'"body":', b'"body": ')
    tablet.push_lines([odd], tablet.writer.n)
    return tablet


def goes_on(again: Works, tablet: Tablet, before: list[bytes], cursor: str) -> None:
    """The tablet finds the works as it left it, at the cursor it had, and records on."""
    tablet.client.application = again.app
    again.clock.chance = random.Random(9)  # another process than the one before
    open_session(tablet.client, tablet.writer.device, tablet.key)
    assert pull_all(tablet) == before
    tablet.pull(after=cursor)
    with reading(again.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
    newcomer = again.tablet("behind the restore")
    newcomer.open_tray(2)
    newcomer.find("burn")
    assert newcomer.push()["exceptions"] == []
    got = pull_all(tablet)
    assert got[: len(before)] == before
    assert len(got) > len(before)


@pytest.mark.parametrize("target", ["sqlite", "postgresql"])
def test_hazard_e3_all_is_pulled_from_a_copy_that_was_put_back(
    works: Works, tmp_path: Path, request: pytest.FixtureRequest, target: str
) -> None:
    tablet = at_work(works)
    before, cursor = pull_all(tablet), tablet.pull()[0]["cursor"]
    there = {"TALLYWRIGHT_DATA": str(works.config.data), "TALLYWRIGHT_DATABASE_URL": works.config.database_url}
    assert run("backup", str(tmp_path / "copy.db"), **there).returncode == 0
    folder = tmp_path / "put back"
    shutil.copytree(works.config.data, folder, ignore=shutil.ignore_patterns("works.db*"))
    url = sqlite_url(folder)
    if target == "postgresql":
        url = postgres.make_database(request.getfixturevalue("postgres_address"), f"back_{uuid.uuid4().hex}")
    here = {"TALLYWRIGHT_DATA": str(folder), "TALLYWRIGHT_DATABASE_URL": url}
    done = run("restore", str(tmp_path / "copy.db"), **here)
    assert done.returncode == 0, done.stderr
    again = join_works(folder, url)
    goes_on(again, tablet, before, cursor)
    again.engine.dispose()


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
def test_hazard_e3_all_is_pulled_from_what_pg_dump_wrote_and_pg_restore_put_back(
    works: Works, tmp_path: Path, postgres_address: str
) -> None:
    tablet = at_work(works)
    before, cursor = pull_all(tablet), tablet.pull()[0]["cursor"]
    with reading(works.engine) as connection:
        folded = rows(connection)
    dump, name = tmp_path / "works.dump", f"back_{uuid.uuid4().hex}"
    there = works.config.database_url.replace("+psycopg", "")
    subprocess.run([postgres.tool("pg_dump"), "--format=custom", f"--file={dump}", there], check=True)
    url = postgres.make_database(postgres_address, name)
    into = url.replace("+psycopg", "")
    words = [postgres.tool("pg_restore"), "--no-owner", "--exit-on-error", f"--dbname={into}", str(dump)]
    subprocess.run(words, check=True)
    again = join_works(works.config.data, url)
    with reading(again.engine) as connection:
        assert rows(connection) == folded
    goes_on(again, tablet, before, cursor)
    again.engine.dispose()
    postgres.drop_database(postgres_address, name)
