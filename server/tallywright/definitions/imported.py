# SPDX-License-Identifier: Apache-2.0
"""Read definitions that come from outside: a folder of CSV files, or a JSON file. Nothing is written here."""

from __future__ import annotations

from pathlib import Path

import msgspec

from tallywright.definitions.folder import holds_parts, read_folder
from tallywright.definitions.part_file import read_part_file
from tallywright.definitions.report import Report
from tallywright.records.definition import PartDefinition


def read_definitions(
    source: Path, part: str | None, revision: str | None, *, live: bool
) -> tuple[list[PartDefinition], Report]:
    """Return part definitions and what there is to say of them; with a finding there is no definition at all.

    source    a folder of CSV files, or one JSON file; shifts.csv alone has no part in it
    part      the part to read, or its name where the files name none
    revision  its revision
    live      the works is no demo
    """
    report = Report()
    if source.is_dir() and not holds_parts(source):
        return [], report
    read = read_folder if source.is_dir() else read_part_file
    found = read(source, part, revision, live, report)
    report.findings.sort(key=lambda finding: (finding.place.file, finding.place.row))
    if report.findings:
        return [], report
    # The rows were put together without a check of the whole; a definition that fails it must never be written.
    return [msgspec.convert(msgspec.to_builtins(one), PartDefinition) for one in found], report
