# SPDX-License-Identifier: Apache-2.0
"""Read the works' gauges from gauges.csv, or say of a cell that cannot be taken why not."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable
from datetime import date
from pathlib import Path

from msgspec import UNSET

from tallywright.definitions.csv_file import Form, Row, read_csv, shown
from tallywright.definitions.demo import is_demo, refuse_demo
from tallywright.definitions.report import WHOLE_FILE, Place, Report
from tallywright.folds.gauges import names_kind
from tallywright.records.bare_name import bare_name
from tallywright.records.definition import GaugeDefinition, PartDefinition

GAUGES_FILE = "gauges.csv"
GAUGES_FORM = Form(needed=("number", "kind"), optional=("range", "resolution", "due", "place", "note"))
MOST_KINDS = 20


def read_gauges(folder: Path, live: bool, report: Report, plans: Collection[str]) -> list[GaugeDefinition]:
    """Return the gauges; none where the folder has no file, or the report has a finding.

    live   the works is no demo: what is marked as demo is refused
    plans  what the parts' check plans measure with; a gauge that none of them names is noted
    """
    path = folder / GAUGES_FILE
    if not path.exists():
        return []
    before = len(report.findings)
    rows = read_csv(path, GAUGES_FORM, report)
    if not rows and len(report.findings) == before:
        report.refuse(Place(GAUGES_FILE, 1, WHOLE_FILE), "The file names no gauge.")
    if live:
        refuse_demo(folder, rows, report)
    is_whole_demo = is_demo(folder)
    found: dict[str, GaugeDefinition] = {}
    for row in rows:
        gauge = _gauge(row, is_whole_demo, report)
        above = found.get(bare_name(gauge.number))
        if above is not None:
            what = f"'{shown(gauge.number)}' is the number of a gauge in a row above, '{shown(above.number)}'."
            report.refuse(row.place("number"), what)
        found[bare_name(gauge.number)] = gauge
        if plans and not any(names_kind(plan, kind) for plan in plans for kind in gauge.kinds):
            report.note(row.place("kind"), "No check of the parts in this folder is measured with such a gauge.")
    return [] if len(report.findings) > before else list(found.values())


def measured_with(parts: Iterable[PartDefinition]) -> set[str]:
    """Return what the check plans of some parts measure with, in their own words."""
    lines = [line for part in parts if part.characteristics is not UNSET for line in part.characteristics]
    return {line.gauge for line in lines if line.gauge is not UNSET}


def _gauge(row: Row, is_whole_demo: bool, report: Report) -> GaugeDefinition:
    kinds = [kind.strip() for kind in row.needed("kind", report).split(",") if kind.strip()]
    if row.text("kind") and not kinds:
        report.refuse(row.place("kind"), "The cell names no kind. Write it as the check plan does: calliper.")
    if len(kinds) > MOST_KINDS:
        report.refuse(row.place("kind"), f"A gauge is of {MOST_KINDS} kinds at most.")
    due = row.text("due")
    if due and not _is_day(due):
        report.refuse(row.place("due"), f"'{shown(due)}' is no day. Write it as 2027-03-31.")
        due = ""
    return GaugeDefinition(
        number=row.needed("number", report),
        kinds=kinds,
        range=row.label("range", report) or UNSET,
        resolution=row.label("resolution", report) or UNSET,
        due=due or UNSET,
        place=row.label("place", report) or UNSET,
        demo=True if is_whole_demo or row.is_demo else UNSET,
    )


def _is_day(text: str) -> bool:
    if not re.fullmatch(r"[0-9]{4}-[0-9]{2}-[0-9]{2}", text, re.ASCII):
        return False
    try:
        date.fromisoformat(text)
    except ValueError:
        return False
    return True
