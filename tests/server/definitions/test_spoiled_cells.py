# SPDX-License-Identifier: Apache-2.0
"""Any one cell of the demo's files may be spoiled: it is taken, or named where it stands; never half loaded."""

from __future__ import annotations

import csv
import io
import random
import re
import shutil
from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tallywright.config import packed_folder
from tallywright.db import reading, writing
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.names import id_of
from tallywright.definitions.part_file import read_part_file
from tallywright.definitions.report import Place, Report
from tallywright.log.read import every_line
from tallywright.projections.publish import publish_parts
from tests.actors import Works

DEMO = packed_folder("demo_seed") / "definitions"
NAMES = sorted(path.name for path in DEMO.glob("*.csv"))
TABLES = {name: list(csv.reader(io.StringIO((DEMO / name).read_text(encoding="utf-8")))) for name in NAMES}
NASTY = [
    "", " ", "-1", "0", "1e3", "4,5", "999999999", "٣", "lap", "LAP", "inner bow", "40", "none", "a" * 201, "\x00",
    "\x07", 'say "so"', "a;b,c", "two\nlines", "=1+1",
    "\u202e", "é", "漢字", "critical, major", "demo", "any", "\ufeff",
]  # fmt: skip


def write(folder: Path, name: str, table: list[list[str]]) -> None:
    text = io.StringIO(newline="")
    csv.writer(text, lineterminator="\n", quoting=csv.QUOTE_ALL).writerows(table)
    (folder / name).write_text(text.getvalue(), encoding="utf-8", newline="")


def spoil(folder: Path, name: str, row: int, column: int, text: str) -> tuple[Place, str]:
    """Put another text into one cell; returns where it stands now, and what stood there."""
    table = [list(cells) for cells in TABLES[name]]
    old, table[row][column] = table[row][column], text
    write(folder, name, table)
    head = " ".join(text.split()) if row == 0 else table[0][column]
    return Place(name, row + 1, head or str(column + 1)), old


def lowered(place: Place) -> tuple[str, int, str]:
    """A place whatever the case of its column: only the names of zones keep theirs."""
    return place.file, place.row, place.column.lower()


def tells_of(reason: str, old: str, new: str) -> bool:
    """True where a reason at another place says what is missing there, or is doubled with it."""
    for text in (old, new):
        for word in [text, *re.split(r"[,\s]+", text)]:
            if len(word) > 1 and (f"'{word}'" in reason or f" {word} " in reason or f" {word}," in reason):
                return True
        if id_of(text) and (f"'{id_of(text)}'" in reason):
            return True
    return False


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A copy of the demo's files that is put right after each spoiling."""
    copy = tmp_path_factory.mktemp("spoiled") / "demo"
    shutil.copytree(DEMO, copy)
    return copy


@st.composite
def spoilings(draw: st.DrawFn) -> tuple[str, int, int, str]:
    name = draw(st.sampled_from(NAMES))
    row = draw(st.integers(0, len(TABLES[name]) - 1))
    column = draw(st.integers(0, len(TABLES[name][0]) - 1))
    # A text of the same column is the slip that looks right.
    neighbours = [cells[column] for cells in TABLES[name]]
    strange = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)
    return name, row, column, draw(st.one_of(st.sampled_from(NASTY), st.sampled_from(neighbours), strange))


@settings(max_examples=250, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(spoiling=spoilings())
def test_a_spoiled_cell_is_taken_or_named_where_it_stands(
    folder: Path, spoiling: tuple[str, int, int, str]
) -> None:
    name, row, column, text = spoiling
    place, old = spoil(folder, name, row, column, text)
    try:
        found, report = read_definitions(folder, None, None, live=False)
    finally:
        write(folder, name, TABLES[name])
    if not report.findings:
        assert [one.part for one in found] == [
            text.strip() if (name, row) == ("part.csv", 1) and column == 0 else "SK-70"
        ]
        return
    assert found == []
    here = [finding for finding in report.findings if lowered(finding.place) == lowered(place)]
    if place.column == "seen_by_eye":  # whether a word needs a key stands there, and the key is what is missing
        here += [
            finding for finding in report.findings if finding.place.row == place.row and "'key'" in finding.reason
        ]
    assert here or all(tells_of(finding.reason, old, text) for finding in report.findings), report.findings
    assert all(re.match(r"[A-Z'].*\.$", finding.reason, re.DOTALL) for finding in report.findings)


def test_spoiled_files_are_never_half_loaded(sqlite_works: Works, folder: Path) -> None:
    """Through the whole import: what was refused wrote nothing, what was taken wrote one record a part."""
    chance = random.Random(4)
    outcomes = set()
    for _ in range(40):
        name = chance.choice(NAMES)
        row, column = chance.randrange(len(TABLES[name])), chance.randrange(len(TABLES[name][0]))
        spoil(folder, name, row, column, chance.choice(NASTY))
        with reading(sqlite_works.engine) as connection:
            before = list(every_line(connection))
        found, report = read_definitions(folder, None, None, live=False)
        write(folder, name, TABLES[name])
        with writing(sqlite_works.engine) as connection:
            is_new = [new for _, new in publish_parts(connection, sqlite_works.own, found)]
        with reading(sqlite_works.engine) as connection:
            after = list(every_line(connection))
        assert after[: len(before)] == before
        assert len(after) - len(before) == is_new.count(True)
        assert (found == []) == (report.findings != [])
        outcomes.add(bool(found))
    assert outcomes == {True, False}


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(data=st.data())
def test_files_with_bytes_changed_never_stop_the_import(folder: Path, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    content = bytearray((DEMO / name).read_bytes())
    place = data.draw(st.integers(0, len(content) - 1))
    content[place : place + data.draw(st.integers(0, 3))] = data.draw(st.binary(max_size=3))
    (folder / name).write_bytes(bytes(content))
    try:
        found, report = read_definitions(folder, None, None, live=False)
    finally:
        write(folder, name, TABLES[name])
    assert (found == []) == (report.findings != [])


@settings(max_examples=150, deadline=None, derandomize=True, suppress_health_check=list(HealthCheck))
@given(
    content=st.binary(max_size=40) | st.from_regex(r'\{("part"|"looks"|"zones"|"demo"):.{0,20}\}').map(str.encode)
)
def test_no_bytes_whatever_stop_the_import_of_a_json_file(folder: Path, content: bytes) -> None:
    (folder / "any.json").write_bytes(content)
    report = Report()
    found = read_part_file(folder / "any.json", None, None, False, report)
    assert (found == []) == (report.findings != [])
