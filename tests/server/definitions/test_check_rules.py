# SPDX-License-Identifier: Apache-2.0
"""When a check is due, as a team writes it: understood, or refused by its line."""

from __future__ import annotations

import csv
from pathlib import Path
from typing import Any

import msgspec
import pytest
from msgspec import UNSET

from tallywright.config import packed_folder
from tallywright.definitions.check_rules import rule_of
from tallywright.definitions.imported import read_definitions
from tests.server.definitions.importing import only

DEMO = packed_folder("demo_seed") / "definitions"
PLAN = {"first_off_n": "first_off", "in_process": "in_process", "last_off_n": "last_off"}


@pytest.mark.parametrize(
    ("cell", "rule"),
    [
        ("3", {"at": "events", "pieces": 3}),
        ("1", {"at": "events"}),
        ("1 each 25", {"at": "pieces", "every": 25}),
        ("5 each 100", {"at": "pieces", "pieces": 5, "every": 100}),
        ("1 per 40", {"at": "pieces", "every": 40}),
        ("each tray", {"at": "events", "events": ["tray"]}),
        ("tray", {"at": "events", "events": ["tray"]}),
        ("bar change", {"at": "events", "events": ["bar"]}),
        ("die change", {"at": "events", "events": ["die"]}),
        ("after break", {"at": "events", "events": ["break"]}),
        ("each re-heat", {"at": "events", "events": ["reheat"]}),
        ("each 60 min", {"at": "minutes", "every": 60}),
        ("all", {"at": "each_piece"}),
        ("all boxes", {"at": "events", "events": ["box"]}),
        ("continuous", {"at": "logger"}),
        ("each load", {"at": "events", "events": ["load"]}),
        ("20 per load", {"at": "events", "pieces": 20, "events": ["load"]}),
        ("5 per load: 4 corners + centre", {"at": "events", "pieces": 5, "events": ["load"]}),
        ("1 per die/cast change", {"at": "events", "events": ["die", "cast"]}),
        ("3 bars x 2 places", {"at": "events", "pieces": 3, "places": 2}),
        ("1 etched + 5 looked", {"at": "events", "pieces": 6}),
    ],
)
def test_a_cell_is_understood(cell: str, rule: dict[str, Any]) -> None:
    found = rule_of(cell)
    assert found is not None
    assert msgspec.to_builtins(found) == {**rule, "cell": cell}


@pytest.mark.parametrize(
    "cell", ["0", "1 each 0", "30 each 25", "each 0 min", "sometimes", "each moon", "1.5", "-3", "each 5", "per"]
)
def test_a_cell_that_says_no_time_is_none(cell: str) -> None:
    assert rule_of(cell) is None


def test_every_cell_of_the_demo_plan_is_a_rule_or_none_and_keeps_its_words() -> None:
    part = only(DEMO)
    assert part.characteristics is not UNSET
    with (DEMO / "characteristics.csv").open(encoding="utf-8", newline="") as file:
        rows = list(csv.DictReader(file))
    assert len(rows) == len(part.characteristics) == 163
    for row, check in zip(rows, part.characteristics, strict=True):
        assert (str(check.operation), str(check.characteristic)) == (row["op_no"], row["seq"])
        for column, member in PLAN.items():
            rule = getattr(check, member)
            if row[column] == "-":
                assert rule is UNSET
            elif row[column] != "same":
                assert rule.cell == row[column]


def test_same_is_the_rule_of_the_row_above() -> None:
    checks = {(one.operation, one.characteristic): one for one in only(DEMO).characteristics or []}
    assert checks[110, 4].first_off == checks[110, 3].first_off


def test_a_cell_that_is_not_understood_is_refused_by_its_line(tmp_path: Path) -> None:
    for name in ("operations.csv", "defects.csv", "zones.csv", "class_by_zone.csv", "limits.csv", "part.csv"):
        (tmp_path / name).write_bytes((DEMO / name).read_bytes())
    text = (DEMO / "characteristics.csv").read_text(encoding="utf-8")
    (tmp_path / "characteristics.csv").write_text(
        text.replace("1 each 50,1,saw", "now and then,1,saw", 1).replace("1 each 100,1,saw", "7,1,saw", 1),
        encoding="utf-8",
    )
    _, report = read_definitions(tmp_path, None, None, live=False)
    assert [str(found.place) for found in report.findings] == [
        "characteristics.csv:18:in_process",
        "characteristics.csv:20:in_process",
    ]
