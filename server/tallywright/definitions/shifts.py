# SPDX-License-Identifier: Apache-2.0
"""Read the shifts of the works from shifts.csv, or say of every cell that cannot be taken why not."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path
from zoneinfo import ZoneInfo

from tallywright.definitions.csv_file import Form, Row, read_csv, shown
from tallywright.definitions.demo import refuse_demo
from tallywright.definitions.report import WHOLE_FILE, Place, Report
from tallywright.records.definition import ShiftDefinition, ShiftStart

SHIFTS_FILE = "shifts.csv"
SHIFTS = Form(needed=("shift", "starts"), optional=("time_zone", "note"))
CLOCK = re.compile(r"([01][0-9]|2[0-3]):[0-5][0-9]", re.ASCII)


def read_shifts(folder: Path, works_zone: str, live: bool, report: Report) -> ShiftDefinition | None:
    """Return the shifts of a folder; None where it has none, or where the report says why they cannot be taken.

    works_zone  the zone whose clock the shifts follow, where no row names one
    live        the works is no demo: what is marked as demo is refused
    """
    path = folder / SHIFTS_FILE
    if not path.exists():
        return None
    before = len(report.findings)
    rows = read_csv(path, SHIFTS, report)
    if not rows and len(report.findings) == before:
        report.refuse(Place(SHIFTS_FILE, 1, WHOLE_FILE), "The file names no shift.")
    if live:
        refuse_demo(folder, rows, report)
    zone = _zone(rows, works_zone, report)
    starts = [_start(row, report) for row in rows]
    _once("shift", "shift", rows, report)
    _once("starts", "start", rows, report)
    if len(report.findings) > before:
        return None
    in_order = sorted((start for start in starts if start is not None), key=lambda start: start.starts)
    return ShiftDefinition(time_zone=zone, shifts=in_order)


def _start(row: Row, report: Report) -> ShiftStart | None:
    name, clock = row.needed("shift", report), row.needed("starts", report)
    if clock and CLOCK.fullmatch(clock) is None:
        report.refuse(row.place("starts"), f"'{shown(clock)}' is no time of day. Write it as 06:00, up to 23:59.")
        return None
    return ShiftStart(shift=name, starts=clock) if name and clock else None


def _zone(rows: Sequence[Row], works_zone: str, report: Report) -> str:
    """The one zone that rows name, or the works' own."""
    named: str | None = None
    for row in rows:
        zone = row.label("time_zone", report)
        if not zone:
            continue
        if not _is_zone(zone):
            reason = f"'{shown(zone)}' is no time zone. Write its name in the IANA data, as Europe/Berlin."
            report.refuse(row.place("time_zone"), reason)
        elif named is not None and zone != named:
            reason = f"A row above names the zone '{named}'. The shifts of a works follow one clock."
            report.refuse(row.place("time_zone"), reason)
        named = named or zone
    return named or works_zone


def _is_zone(name: str) -> bool:
    try:
        ZoneInfo(name)
    except (ValueError, OSError, KeyError):
        return False
    return True


def _once(column: str, what: str, rows: Sequence[Row], report: Report) -> None:
    """Two shifts of one name, or that start together, cannot be told apart; each of them is named."""
    texts = [row.text(column) for row in rows]
    for row, text in zip(rows, texts, strict=True):
        if text and texts.count(text) > 1:
            report.refuse(row.place(column), f"The {what} '{shown(text)}' is in the list more than once.")
