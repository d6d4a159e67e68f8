# SPDX-License-Identifier: Apache-2.0
"""Check the form of characteristics.csv. Nothing is loaded from it yet: a later version takes what passes here."""

from __future__ import annotations

import re
from collections.abc import Iterable

from tallywright.definitions.csv_file import Form, Row, shown
from tallywright.definitions.report import Place, Report
from tallywright.definitions.rows import CLASSES

CHARACTERISTICS = Form(
    needed=("op_no", "seq", "characteristic", "kind", "class"),
    optional=(
        "product", "nominal", "lower", "upper", "unit", "gauge_or_method", "first_off_n", "in_process",
        "last_off_n", "who", "reaction", "note",
    ),
)  # fmt: skip
# Value from a gauge, GO or NOT-GO, yes or no, process value, document, count.
KINDS = ("v", "g", "a", "p", "d", "c")
DECIMAL = re.compile(r"-?[0-9]{1,9}(\.[0-9]{1,9})?")


def check_characteristics(rows: Iterable[Row], operations: set[int] | None, report: Report) -> None:
    """Refuse what has not the form of a characteristic.

    operations  numbers of the route; None where it could not be read as a whole
    """
    seen: dict[tuple[int, int], Row] = {}
    number = 0
    for row in rows:
        number += 1
        for column in ("op_no", "seq", "characteristic", "kind", "class"):
            row.needed(column, report)
        operation, place = row.number_in("op_no", report), row.number_in("seq", report)
        if operation is not None and operations is not None and operation not in operations:
            report.refuse(row.place("op_no"), f"Operation {operation} is not in operations.csv.")
        if operation is not None and place is not None:
            first = seen.setdefault((operation, place), row)
            for one, other in ((row, first), (first, row)) if first is not row else ():
                reason = f"Operation {operation} has another characteristic {place}, row {other.number}."
                report.refuse(one.place("op_no"), reason)
                report.refuse(one.place("seq"), reason)
        kind = row.choice("kind", KINDS, "kind", report)
        row.choice("class", CLASSES, "class", report)
        _check_limits(row, kind, report)
        reaction = row.text("reaction")
        if reaction and not re.fullmatch(r"R[0-9]{1,2}", reaction):
            report.refuse(
                row.place("reaction"), f"'{shown(reaction)}' names no reaction plan. Write R and a number."
            )
    if number:
        what = f"{number} characteristics were checked for form; this version loads none of them."
        report.note(Place("characteristics.csv", 1, "characteristic"), what)


def _check_limits(row: Row, kind: str, report: Report) -> None:
    values = {}
    for column in ("lower", "upper"):
        text = row.text(column)
        if text and not DECIMAL.fullmatch(text):
            report.refuse(row.place(column), f"'{shown(text)}' is no number. Write it with a point, as 13.20.")
        elif text:
            values[column] = float(text)
    if kind == "v" and not row.text("lower") and not row.text("upper"):
        reason = "A value from a gauge has a lower limit, an upper limit or both."
        for column in ("kind", "lower", "upper"):
            report.refuse(row.place(column), reason)
    if len(values) == len(("lower", "upper")) and values["lower"] > values["upper"]:
        reason = f"The lower limit {row.text('lower')} is above the upper limit {row.text('upper')}."
        report.refuse(row.place("lower"), reason)
        report.refuse(row.place("upper"), reason)
