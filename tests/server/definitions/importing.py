# SPDX-License-Identifier: Apache-2.0
"""Read definitions as the import does, for tests: what was found, and what was refused."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from tallywright.definitions.imported import read_definitions
from tallywright.definitions.report import Report
from tallywright.records.definition import DefectWord, PartDefinition


def read(source: Path, **named: Any) -> tuple[list[PartDefinition], Report]:
    named = {"part": None, "revision": "A", "live": False, **named}
    return read_definitions(source, named["part"], named["revision"], live=named["live"])


def only(source: Path, **named: Any) -> PartDefinition:
    found, report = read(source, **named)
    assert report.findings == []
    assert len(found) == 1
    return found[0]


def word(part: PartDefinition, defect: str) -> DefectWord:
    return next(entry for entry in part.defects if entry.defect == defect)


def findings(source: Path, **named: Any) -> list[str]:
    found, report = read(source, **named)
    assert (found == []) == (report.findings != [])
    return [str(finding) for finding in report.findings]
