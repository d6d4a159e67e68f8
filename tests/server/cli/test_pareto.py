# SPDX-License-Identifier: Apache-2.0
"""The command `pareto`: what it prints for people and for programs, and how it ends."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from sqlalchemy import insert

from tallywright.db import writing
from tallywright.projections.tables import stale
from tests.actors import Works
from tests.command import run

DAY = "2026-11-25"  # the scripted day of the tests


@pytest.fixture
def data(sqlite_works: Works) -> Path:
    """The folder of a demo works with three finds of two words, one of them in cavity A."""
    tablet = sqlite_works.tablet()
    tablet.open_tray()
    tablet.find("burn")
    tablet.find("burn", cavity="A")
    tablet.find("lap")
    tablet.push()
    sqlite_works.engine.dispose()
    return sqlite_works.config.data


def test_a_day_is_printed_with_its_period_its_count_and_a_line_a_bar(data: Path) -> None:
    found = run("pareto", "--data", str(data), "--from", DAY)
    assert found.returncode == 0, found.stderr
    assert found.stdout.splitlines() == [
        "Found on: 2026-11-25 00:00 to 2026-11-26 00:00",
        "3 marks on 3 pieces",
        "       2   66.7%   66.7%  burn  too few to rank above the next",
        "       1   33.3%  100.0%  lap",
    ]


def test_a_program_gets_the_members_of_the_answer_over_http(data: Path) -> None:
    words = ("--from", DAY, "--to", DAY, "--by", "cavity", "--only", "defect:value:burn", "--json")
    found = run("pareto", "--data", str(data), *words)
    content = json.loads(found.stdout)
    assert (found.returncode, content["marks"], content["by"]) == (0, 2, "cavity")
    assert content["only"] == [{"stratum": "defect", "sort": "value", "name": "burn"}]
    assert [(bar["sort"], bar["name"], bar["count"]) for bar in content["bars"]] == [
        ("value", "A", 1),
        ("none", "", 1),
    ]


def test_days_before_the_finds_are_empty_and_the_shift_of_now_needs_no_words(data: Path) -> None:
    empty = run("pareto", "--data", str(data), "--from", "2026-11-01", "--to", "2026-11-24", "--json")
    assert json.loads(empty.stdout)["bars"] == []
    present = run("pareto", "--data", str(data))
    assert present.returncode == 0
    assert " shift of " in present.stdout


@pytest.mark.parametrize(
    "words",
    [
        ("--to", DAY),
        ("--from", DAY, "--to", "2026-11-24"),
        ("--from", "yesterday"),
        ("--by", "colour"),
        ("--only", "cavity=A"),
        ("--only", "colour:value:red"),
    ],
)
def test_wrong_use_is_told_on_standard_error_with_exit_code_2(data: Path, words: tuple[str, ...]) -> None:
    found = run("pareto", "--data", str(data), *words)
    assert (found.returncode, found.stdout) == (2, "")
    assert found.stderr.count("\n") == 1


def test_a_batch_that_could_not_be_folded_is_something_wrong_with_the_data(data: Path, sqlite_works: Works) -> None:
    with writing(sqlite_works.engine) as connection:
        connection.execute(insert(stale).values(subject="b" * 26 + ":1", why="a test"))
    sqlite_works.engine.dispose()
    found = run("pareto", "--data", str(data), "--from", DAY)
    assert (found.returncode, found.stderr.count("\n")) == (1, 1)
    assert "burn" in found.stdout
