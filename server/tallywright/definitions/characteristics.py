# SPDX-License-Identifier: Apache-2.0
"""Turn the rows of characteristics.csv into the checks of each operation."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import Any, cast

from tallywright.definitions.check_rules import rule_of
from tallywright.definitions.csv_file import Form, Row, shown
from tallywright.definitions.report import Report
from tallywright.definitions.rows import CLASSES, Entry, Places
from tallywright.records.definition import Characteristic, CheckKind, CheckRule

CHARACTERISTICS = Form(
    needed=("op_no", "seq", "characteristic", "kind", "class"),
    optional=(
        "product", "nominal", "lower", "upper", "unit", "gauge_or_method", "first_off_n", "in_process",
        "last_off_n", "who", "reaction", "note",
    ),
    translated=("characteristic",),
)  # fmt: skip
KINDS: dict[str, CheckKind] = {
    "v": "value",
    "g": "go_not_go",
    "a": "yes_no",
    "p": "process",
    "d": "document",
    "c": "count",
}
DECIMAL = re.compile(r"-?(0|[1-9][0-9]{0,8})(\.[0-9]{1,9})?")
# The columns of a plan, and what each is in a definition.
PLAN = {"first_off_n": "first_off", "in_process": "in_process", "last_off_n": "last_off"}
MEMBERS = {
    "operation": "op_no",
    "characteristic": "seq",
    "kind": "kind",
    "class": "class",
    "lower": "lower",
    "upper": "upper",
    "reaction": "reaction",
    "words": "characteristic",
    **{member: column for column, member in PLAN.items()},
}


def characteristics(rows: Iterable[Row], report: Report) -> list[Entry[Characteristic]]:
    """The checks, in the order of the file; each cell of a plan is understood, or refused where it stands."""
    found = []
    above: dict[str, CheckRule | None] = {}
    operation_above = None
    for row in rows:
        for column in ("op_no", "seq", "characteristic", "kind", "class"):
            row.needed(column, report)
        operation, place = row.number_in("op_no", report), row.number_in("seq", report)
        kind = row.choice("kind", tuple(KINDS), "kind", report)
        check_class = row.choice("class", CLASSES, "class", report)
        words, columns = row.translations("characteristic", report)
        limits = {column: _decimal(row, column, report) for column in ("lower", "upper")}
        reaction = row.text("reaction")
        if reaction and not re.fullmatch(r"R[1-9]", reaction):
            what = f"'{shown(reaction)}' names no reaction plan. Write R and a number from 1 to 9."
            report.refuse(row.place("reaction"), what)
        if operation != operation_above:
            above, operation_above = {}, operation
        above = {column: _rule(row, column, above, report) for column in PLAN}
        more: dict[str, Any] = {
            "nominal": row.label("nominal", report),
            "unit": row.label("unit", report),
            "gauge": row.label("gauge_or_method", report),
            "who": row.label("who", report),
            "reaction": reaction,
            **limits,
        }
        plan: dict[str, Any] = {PLAN[column]: rule for column, rule in above.items() if rule is not None}
        if None in (operation, place) or not kind or not check_class or not words:
            continue
        value = Characteristic(
            operation=cast(int, operation),
            characteristic=cast(int, place),
            words=words,
            kind=KINDS[kind],
            defect_class=cast(Any, check_class),
            **{member: text for member, text in more.items() if text},
            **plan,
        )
        places: Places = {(member,): row.place(column) for member, column in MEMBERS.items()}
        places |= {("words", language): row.place(column) for language, column in columns.items()}
        found.append(Entry(row, value, places))
    return found


def _decimal(row: Row, column: str, report: Report) -> str:
    text = row.text(column)
    if text and not DECIMAL.fullmatch(text):
        report.refuse(row.place(column), f"'{shown(text)}' is no number. Write it with a point, as 13.20.")
        return ""
    return text


def _rule(row: Row, column: str, above: dict[str, CheckRule | None], report: Report) -> CheckRule | None:
    """The rule of a cell; 'same' is the rule in the row above, of the same operation."""
    cell = row.label(column, report)
    if cell in ("", "-"):
        return None
    if cell.lower() == "same" and column in above:
        return above[column]
    rule = rule_of(cell)
    if rule is None:
        reason = f"'{shown(cell)}' is no rule for a check. Write for example 3, 1 each 25, each tray, all or -."
        report.refuse(row.place(column), reason)
    elif rule.at == "events" and cell.lower() == "each":
        report.note(row.place(column), f"'{cell}' does not say what of each, so the check is due at the start.")
    return rule
