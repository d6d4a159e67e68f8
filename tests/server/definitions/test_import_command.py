# SPDX-License-Identifier: Apache-2.0
"""`tallywright definitions import`: what it prints, its exit codes, and that a refusal writes nothing."""

from __future__ import annotations

import re
import shutil
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tallywright.cli.main import tallywright
from tallywright.cli.works import open_works, prepare_data
from tallywright.config import Config, packed_folder, sqlite_url
from tallywright.db import open_engine, reading
from tallywright.errors import WrongUse
from tallywright.log.own_chain import OwnChain, load_key
from tallywright.log.read import every_line
from tallywright.records.kinds import WorksOpenedV1
from tests.actors import ScriptedClock, Works

DEMO = packed_folder("demo_seed") / "definitions"


def run(data: Path, *words: str) -> Result:
    return CliRunner().invoke(tallywright, ["definitions", "import", *words, "--data", str(data)])


def log(data: Path) -> list[tuple[int, bytes]]:
    engine = open_engine(sqlite_url(data))
    with reading(engine) as connection:
        found = list(every_line(connection))
    engine.dispose()
    return found


@pytest.fixture
def demo_data(sqlite_works: Works) -> Path:
    return sqlite_works.config.data


@pytest.fixture
def live_data(tmp_path: Path) -> Path:
    """The folder of a live works."""
    config = Config(data=tmp_path / "live", database_url=sqlite_url(tmp_path / "live"), demo=False)
    engine = prepare_data(config)
    own = OwnChain(ScriptedClock(), load_key(config.key_file))
    open_works(engine, own, WorksOpenedV1(name="Works", time_zone="UTC", demo=False))
    engine.dispose()
    return config.data


def test_a_publication_is_printed_with_its_id_and_label(demo_data: Path) -> None:
    before = log(demo_data)
    done = run(demo_data, str(DEMO))
    assert done.exit_code == 0
    assert re.search(r"^[a-z2-7]{26}:[0-9]+  SK-70 C \(demo: advice for nobody\)$", done.stdout, re.M)
    # The demo's gauges are due around the day it was opened, the folder's around the day it was written.
    new = [line for line in done.stdout.splitlines() if ":" in line and not line.endswith("nothing was written")]
    assert [line for line in new if "  gauge " not in line and not line.startswith("Note")] == [
        line for line in new if "  SK-70 C " in line
    ]
    assert len(log(demo_data)) == len(before) + len([line for line in new if not line.startswith("Note")])


def test_a_bad_cell_is_printed_and_nothing_is_written(demo_data: Path, tmp_path: Path) -> None:
    before = log(demo_data)
    shutil.copytree(DEMO, tmp_path / "files")
    limits = tmp_path / "files" / "limits.csv"
    limits.write_text(limits.read_text().replace("major,40", "major,4.0"))
    done = run(demo_data, str(tmp_path / "files"))
    assert done.exit_code == 1
    assert "limits.csv:3:allowed_per_thousand: '4.0' is no whole number from 0 to 1000." in done.stdout
    assert log(demo_data) == before


def test_a_live_works_refuses_the_demo_files(live_data: Path) -> None:
    before = log(live_data)
    done = run(live_data, str(DEMO))
    assert done.exit_code == 1
    assert "DEMO:1:whole file: This is marked as demo." in done.stdout
    assert log(live_data) == before


def test_a_folder_that_is_not_there_is_wrong_use(demo_data: Path, tmp_path: Path) -> None:
    done = run(demo_data, str(tmp_path / "nothing"))
    assert isinstance(done.exception, WrongUse)
