# SPDX-License-Identifier: Apache-2.0
"""Read what the works orders of each alloy from materials.csv, or say of a cell that cannot be taken why not."""

from __future__ import annotations

import re
from collections.abc import Iterable
from decimal import Decimal
from pathlib import Path
from typing import Any, cast

from msgspec import UNSET

from tallywright.definitions.csv_file import Form, Row, read_csv, shown
from tallywright.definitions.demo import is_demo, refuse_demo
from tallywright.definitions.report import WHOLE_FILE, Place, Report
from tallywright.records.definition import ElementLimit, MaterialDefinition

MATERIALS_FILE = "materials.csv"
MATERIALS = Form(needed=("alloy", "element", "low", "high"), optional=("order", "rounding", "source", "note"))
SHARE = re.compile(r"(0|[1-9][0-9]{0,2})(\.[0-9]{1,9})?", re.ASCII)
MOST_ELEMENTS = 60
LARGEST_SHARE = Decimal(100)


def read_materials(folder: Path, live: bool, report: Report) -> list[MaterialDefinition]:
    """Return the limits of each alloy and order; none where the folder has no file, or the report has a finding.

    live  the works is no demo: what is marked as demo is refused
    """
    path = folder / MATERIALS_FILE
    if not path.exists():
        return []
    before = len(report.findings)
    rows = read_csv(path, MATERIALS, report)
    if not rows and len(report.findings) == before:
        report.refuse(Place(MATERIALS_FILE, 1, WHOLE_FILE), "The file names no alloy.")
    if live:
        refuse_demo(folder, rows, report)
    by_order: dict[tuple[str, str], list[Row]] = {}
    for row in rows:
        named = row.needed("alloy", report), row.label("order", report)
        by_order.setdefault(named, []).append(row)
    found = [_material(*named, these, is_demo(folder), report) for named, these in by_order.items()]
    return [] if len(report.findings) > before else found


def _material(alloy: str, order: str, rows: list[Row], is_whole_demo: bool, report: Report) -> MaterialDefinition:
    limits: dict[str, ElementLimit] = {}
    for row in rows:
        element = row.needed("element", report)
        if element in limits:
            report.refuse(row.place("element"), f"'{shown(element)}' has its limits in a row above.")
        limits[element] = _limit(row, element, report)
    if len(limits) > MOST_ELEMENTS:
        report.refuse(rows[0].place("alloy"), f"An alloy has {MOST_ELEMENTS} elements at most.")
    rounding = _one("rounding", rows, report)
    if rounding not in ("", "half_even", "half_up"):
        what = f"'{shown(rounding)}' is no way to round. Write half_even or half_up."
        report.refuse(rows[0].place("rounding"), what)
    return MaterialDefinition(
        alloy=alloy,
        order=order or UNSET,
        limits=list(limits.values()),
        rounding=cast(Any, rounding) or UNSET,
        source=_one("source", rows, report) or UNSET,
        demo=True if is_whole_demo or any(row.is_demo for row in rows) else UNSET,
    )


def _limit(row: Row, element: str, report: Report) -> ElementLimit:
    ends = {column: row.text(column) for column in ("low", "high")}
    for column, text in ends.items():
        if text and (SHARE.fullmatch(text) is None or Decimal(text) > LARGEST_SHARE):
            report.refuse(
                row.place(column), f"'{shown(text)}' is no share in percent. Write it as 0.40, up to 100."
            )
            ends[column] = ""
    low, high = ends["low"], ends["high"]
    if not row.text("low") and not row.text("high"):
        report.refuse(row.place("high"), "The element has no limit. Write a lowest or a highest share.")
    if low and high and Decimal(low) > Decimal(high):
        report.refuse(row.place("low"), f"The lowest share {low} is above the highest, {high}.")
    return ElementLimit(element=element, low=low or UNSET, high=high or UNSET)


def _one(column: str, rows: Iterable[Row], report: Report) -> str:
    """What the rows of one alloy and order say of it as a whole: the same, or nothing."""
    said = ""
    for row in rows:
        text = row.label(column, report)
        if said and text and text != said:
            report.refuse(row.place(column), f"A row above says '{shown(said)}' for the same alloy and order.")
        said = said or text
    return said
