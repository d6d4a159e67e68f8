# SPDX-License-Identifier: Apache-2.0
"""Shifts from a file: what is taken, what is refused at which cell, and that they are in force afterwards."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from tallywright.cli.main import tallywright
from tallywright.computation.identity import ShiftCalendar
from tallywright.db import reading, writing
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.published import shift_calendar
from tallywright.definitions.report import Report
from tallywright.definitions.shifts import read_shifts
from tallywright.log.read import every_line
from tallywright.projections.publish import publish_shifts
from tallywright.records.definition import ShiftDefinition, ShiftStart
from tests.actors import Works

THREE = "shift,starts\nlate,14:00\nnight,22:00\nearly,06:00\n"
ZONE = "Europe/Berlin"


def folder(at: Path, text: str) -> Path:
    at.joinpath("shifts.csv").write_text(text, encoding="utf-8")
    return at


def findings(at: Path, text: str, *, live: bool = False) -> list[str]:
    report = Report()
    found = read_shifts(folder(at, text), ZONE, live, report)
    assert (found is None) == (report.findings != [])
    return [str(finding) for finding in report.findings]


def test_shifts_are_read_in_the_order_of_the_day_on_the_works_clock(tmp_path: Path) -> None:
    report = Report()
    found = read_shifts(folder(tmp_path, THREE), ZONE, live=True, report=report)
    starts = [("early", "06:00"), ("late", "14:00"), ("night", "22:00")]
    shifts = [ShiftStart(shift=name, starts=clock) for name, clock in starts]
    assert found == ShiftDefinition(time_zone=ZONE, shifts=shifts)
    assert report.findings == []


def test_a_zone_that_is_named_replaces_the_works_own(tmp_path: Path) -> None:
    text = "shift;starts;time_zone\nday;06:00;Europe/Warsaw\nnight;18:00;\n"
    found = read_shifts(folder(tmp_path, text), ZONE, live=True, report=Report())
    assert found is not None
    assert found.time_zone == "Europe/Warsaw"


@pytest.mark.parametrize(
    ("rows", "expected"),
    [
        ("day,6:00,\n", "shifts.csv:2:starts: '6:00' is no time of day."),
        ("day,24:00,\n", "shifts.csv:2:starts: '24:00' is no time of day."),
        (",06:00,\n", "shifts.csv:2:shift: The cell is empty"),
        ("day,,\n", "shifts.csv:2:starts: The cell is empty"),
        ("day,06:00,\nday,18:00,\n", "shifts.csv:3:shift: The shift 'day' is in the list more than once."),
        ("day,06:00,\nlate,06:00,\n", "shifts.csv:2:starts: The start '06:00' is in the list more than once."),
        ("day,06:00,Atlantis\n", "shifts.csv:2:time_zone: 'Atlantis' is no time zone."),
        ("day,06:00,../x\n", "shifts.csv:2:time_zone: '../x' is no time zone."),
        ("a,06:00,UTC\nb,18:00,Europe/Berlin\n", "shifts.csv:3:time_zone: A row above names the zone 'UTC'."),
        ("", "shifts.csv:1:whole file: The file names no shift."),
    ],
)
def test_what_cannot_be_taken_is_named_by_its_cell(tmp_path: Path, rows: str, expected: str) -> None:
    found = findings(tmp_path, "shift,starts,time_zone\n" + rows)
    assert any(finding.startswith(expected) for finding in found), found


def test_a_live_works_refuses_shifts_marked_as_demo(tmp_path: Path) -> None:
    text = "shift,starts,note\nday,06:00,demo\n"
    assert findings(tmp_path, text) == []
    assert findings(tmp_path, text, live=True)[0].startswith("shifts.csv:2:note: This is marked as demo.")
    (tmp_path / "DEMO").touch()
    assert findings(tmp_path, THREE, live=True)[0].startswith("DEMO:1:whole file: This is marked as demo.")


def test_a_folder_with_shifts_alone_has_no_part_and_no_finding(tmp_path: Path) -> None:
    found, report = read_definitions(folder(tmp_path, THREE), None, None, live=True)
    assert (found, report.findings, report.notes) == ([], [], [])


def test_shifts_published_are_in_force_and_are_not_written_twice(works: Works, tmp_path: Path) -> None:
    shifts = read_shifts(folder(tmp_path, THREE), "UTC", live=False, report=Report())
    assert shifts is not None
    with writing(works.engine) as connection:
        definition, is_new = publish_shifts(connection, works.own, shifts)
        before = list(every_line(connection))
        assert is_new
        assert publish_shifts(connection, works.own, shifts) == (definition, False)
        assert list(every_line(connection)) == before
    with reading(works.engine) as connection:
        starts = (("early", "06:00"), ("late", "14:00"), ("night", "22:00"))
        assert shift_calendar(connection) == ShiftCalendar(zone="UTC", starts=starts)


def imported(works: Works, at: Path) -> Result:
    words = ["definitions", "import", str(at), "--data", str(works.config.data)]
    return CliRunner().invoke(tallywright, words)


def test_the_command_prints_the_shifts_it_published(sqlite_works: Works, tmp_path: Path) -> None:
    done = imported(sqlite_works, folder(tmp_path, THREE.replace("06:00", "05:30")))
    assert done.exit_code == 0, done.output
    assert "shifts: early 05:30, late 14:00, night 22:00 (Europe/Berlin)" in done.stdout


def test_the_command_publishes_nothing_where_a_shift_cannot_be_taken(sqlite_works: Works, tmp_path: Path) -> None:
    with reading(sqlite_works.engine) as connection:
        before = list(every_line(connection))
    done = imported(sqlite_works, folder(tmp_path, THREE.replace("22:00", "late")))
    assert done.exit_code == 1
    assert "shifts.csv:3:starts: 'late' is no time of day." in done.stdout
    with reading(sqlite_works.engine) as connection:
        assert list(every_line(connection)) == before
