# SPDX-License-Identifier: Apache-2.0
"""What is invented says so, and a live works does not take it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from tallywright.definitions.csv_file import Row
from tallywright.definitions.report import WHOLE_FILE, Place, Report

DEMO_FILE = "DEMO"
DEMO_REFUSED = (
    "This is marked as demo. Invented classes, limits and rework notes are advice for nobody: "
    "a live works takes its own."
)


def is_demo(folder: Path) -> bool:
    """True for a folder that is marked as invented, whole."""
    return (folder / DEMO_FILE).exists()


def refuse_demo(folder: Path, rows: Iterable[Row], report: Report) -> None:
    """Refuse what a folder or its rows mark as demo: for a live works."""
    if is_demo(folder):
        report.refuse(Place(DEMO_FILE, 1, WHOLE_FILE), DEMO_REFUSED)
    for row in rows:
        if row.is_demo:
            report.refuse(row.place("note"), DEMO_REFUSED)
