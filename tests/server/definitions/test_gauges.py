# SPDX-License-Identifier: Apache-2.0
"""gauges.csv: what is read of it, and what is refused by its place."""

from __future__ import annotations

from pathlib import Path

import pytest
from msgspec import UNSET

from tallywright.config import packed_folder
from tallywright.db import reading, writing
from tallywright.definitions.gauges import measured_with, read_gauges
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.published import newest_gauges
from tallywright.definitions.report import Report
from tallywright.projections.publish import publish_gauges
from tallywright.records.definition import GaugeDefinition
from tests.actors import Works


def read(
    folder: Path, text: str, live: bool = True, plans: set[str] | None = None
) -> tuple[list[GaugeDefinition], Report]:
    (folder / "gauges.csv").write_text(text, encoding="utf-8")
    report = Report()
    return read_gauges(folder, live, report, plans or set()), report


def refused(folder: Path, text: str, live: bool = True) -> list[str]:
    found, report = read(folder, text, live)
    assert found == []
    return [str(finding) for finding in report.findings]


def test_a_gauge_has_its_number_kinds_day_and_place(tmp_path: Path) -> None:
    head = "number;kind;range;resolution;due;place"
    text = f'{head}\nM-042;"depth gauge, depth/edge gauge";0-12 mm;0.01 mm;2027-06-30;Forge\nM-1;tape;;;;\n'
    found, report = read(tmp_path, text)
    assert report.findings == []
    assert found == [
        GaugeDefinition(
            number="M-042",
            kinds=["depth gauge", "depth/edge gauge"],
            range="0-12 mm",
            resolution="0.01 mm",
            due="2027-06-30",
            place="Forge",
        ),
        GaugeDefinition(number="M-1", kinds=["tape"]),
    ]


@pytest.mark.parametrize(
    ("rows", "said"),
    [
        (",calliper,", "gauges.csv:2:number: The cell is empty"),
        ("M-1,,", "gauges.csv:2:kind: The cell is empty"),
        ('M-1,", ",', "gauges.csv:2:kind: The cell names no kind."),
        ("M-1,tape,31.3.2027", "gauges.csv:2:due: '31.3.2027' is no day. Write it as 2027-03-31."),
        ("M-1,tape,2027-02-30", "gauges.csv:2:due: '2027-02-30' is no day."),
        ("M-1,tape,\nm 1,scale,", "gauges.csv:3:number: 'm 1' is the number of a gauge in a row above, 'M-1'."),
        (f'M-1,"{",".join("k" * 21)}",', "gauges.csv:2:kind: A gauge is of 20 kinds at most."),
    ],
)
def test_what_cannot_be_taken_is_named_by_its_cell(tmp_path: Path, rows: str, said: str) -> None:
    assert any(line.startswith(said) for line in refused(tmp_path, f"number,kind,due\n{rows}\n"))


def test_a_file_without_a_gauge_and_one_without_a_column_are_refused(tmp_path: Path) -> None:
    assert refused(tmp_path, "number,kind\n") == ["gauges.csv:1:whole file: The file names no gauge."]
    assert refused(tmp_path, "number\nM-1\n") == ["gauges.csv:1:kind: The column 'kind' is missing."]


def test_a_live_works_takes_no_invented_gauge(tmp_path: Path) -> None:
    [said] = refused(tmp_path, "number,kind,note\nM-1,tape,demo\n")
    assert said.startswith("gauges.csv:2:note: This is marked as demo.")


def test_a_gauge_that_no_check_is_measured_with_is_noted(tmp_path: Path) -> None:
    found, report = read(tmp_path, "number,kind\nM-1,calliper\nM-2,ruler\n", plans={"calliper, cold piece"})
    assert [one.number for one in found] == ["M-1", "M-2"]
    [note] = report.notes
    assert str(note).startswith("gauges.csv:3:kind:")


def test_every_gauge_of_the_demo_is_named_by_a_check_plan_of_its_parts() -> None:
    folder = packed_folder("demo_seed") / "definitions"
    parts, _ = read_definitions(folder, None, None, live=False)
    report = Report()
    found = read_gauges(folder, False, report, measured_with(parts))
    assert len(found) > 10
    assert (report.findings, report.notes) == ([], [])
    assert all(one.demo for one in found)


def test_the_same_gauges_are_published_once(works: Works) -> None:
    gauges = [GaugeDefinition(number="M-1", kinds=["tape"]), GaugeDefinition(number="M-2", kinds=["scale"])]
    own = works.own
    with writing(works.engine) as connection:
        first = publish_gauges(connection, own, gauges)
        moved = [GaugeDefinition(number="m 1", kinds=["tape"], place="Saw"), gauges[1]]
        second = publish_gauges(connection, own, moved)
    assert [is_new for _, is_new in first] == [True, True]
    assert [is_new for _, is_new in second] == [True, False]
    with reading(works.engine) as connection:
        assert newest_gauges(connection)["M1"][1].place == "Saw"
        assert newest_gauges(connection)["M2"][1].place is UNSET
