# SPDX-License-Identifier: Apache-2.0
"""The whole piece ledger of one batch, as it is printed: the same rows that a release is judged by."""

from __future__ import annotations

from typing import Any

from sqlalchemy import Connection, Row, select

from tallywright.definitions.published import parts
from tallywright.folds.whole_ledger import Line, Step, WholeLedger
from tallywright.log.read import by_id
from tallywright.projections.pages import LookPage, look_pages, whole_ledger
from tallywright.projections.tables import batches, holds, limit_lines, loads
from tallywright.records.bench import PieceFoundV1
from tallywright.reports.batch_pages import opened
from tallywright.reports.called import Called
from tallywright.reports.goods import casts_of

# What a difference is, in a few words; the subject's own name stands behind.
WORDS = {
    "between_over": "more than left the operation before",
    "between_short": "fewer than left the operation before",
    "cards_do_not_add_up": "tray cards against the count",
    "closing_does_not_add_up": "a tray's closing does not add up",
    "closings_differ": "a tray closed with two counts",
    "components_over": "used without an assembly",
    "components_short": "assemblies without",
    "counts_differ": "two counts before the look",
    "finishes_differ": "finished with two counts",
    "foreign_pieces": "foreign pieces",
    "loads_differ": "loads against the count",
    "judged_otherwise": "rejected by verdict, not counted as scrap",
    "more_marked_than_looked_at": "more marked than looked at",
    "pieces_found": "found late",
    "pieces_over": "pieces over",
    "pieces_short": "pieces short",
    "put_aside_over": "more came to query and rework than were put aside",
    "put_aside_short": "put aside, and never came to query or rework",
    "return_without_sending": "back from rework without a sending",
    "rework_away": "away for rework",
    "rework_not_judged": "sent to rework without a verdict",
    "rework_not_sent": "rework never sent",
    "rework_over": "more back from rework than sent",
    "samples_differ": "samples against the count",
    "split_too_much": "more split off than there were",
    "recounts_differ": "counted once more with another number",
    "counter_differs": "the machine's counter against the count",
    "weighed_differs": "by weight against the count",
    "scrap_differs": "scrap handed in, and neither destroyed nor kept",
    "scrap_over": "more scrap handed in than was counted",
    "still_inside": "in the machine still",
    "start_differs": "against what the batch was opened with",
    "tray_not_due": "a tray that no card names",
    "tray_over": "tray over",
    "tray_short": "tray short",
    "tray_twice": "tray opened twice",
}


def batch_called(connection: Connection, number: str) -> list[str]:
    """Return the batches with a number: a label, so that two may have it."""
    wanted = select(batches.c.batch).where(batches.c.number == number).order_by(batches.c.opened_at)
    return list(connection.scalars(wanted))


def batch_ledger(connection: Connection, batch: str) -> dict[str, Any]:
    """Return the ledger of a batch with all that is open; raises BatchUnknown."""
    row, ledger = opened(connection, batch), whole_ledger(connection, batch)
    assert ledger is not None  # noqa: S101 - written with the batch's row
    pages = {page.look.look: page for page in look_pages(connection, batch)}
    names = _operation_names(connection, row)
    held = select(holds).where(holds.c.batch == batch, holds.c.lifted_by == "").order_by(holds.c.hold)
    standing = [{"hold": one.hold, "cause": one.cause, "look": one.look} for one in connection.execute(held)]
    looked_at = {step.operation for step in ledger.steps if step.is_look}
    split = {"split_off": ledger.taken} if ledger.taken else {}
    casts = casts_of(connection, batch)
    made_of = {"casts": casts} if casts else {}
    return {
        "batch": row.number,
        "part": row.part,
        "closes": ledger.closes,
        "in": ledger.pieces_in,
        "good": ledger.good,
        "scrap": ledger.scrap,
        "samples_and_set_up": ledger.samples_and_set_up,
        "missing_or_late_found": ledger.missing,
        **split,
        "differences": [
            {"at": line.operation or None, "what": _what(connection, line), "pieces": line.amount}
            for line in ledger.lines
        ],
        "operations": [_operation(step, names, looked_at) for step in ledger.steps],
        "looks": _looks(connection, ledger, pages),
        "limits": _limits(connection, batch),
        "holds": standing,
        **made_of,
        "open": _open(connection, ledger, pages),
    }


def _operation_names(connection: Connection, row: Row[Any]) -> dict[int, str]:
    part = parts(connection, {row.definition}).get(row.definition)
    if part is None or not part.operations:
        return {}
    return {one.operation: one.words.get("en", next(iter(one.words.values()), "")) for one in part.operations}


def _operation(step: Step, names: dict[int, str], looked_at: set[int]) -> dict[str, Any]:
    name = names.get(step.operation, f"{step.look} look" if step.look else "")
    if step.look and not step.is_look and step.operation in looked_at:
        name = f"{name}: put aside"  # nobody counted its queries and rework at an operation of their own
    return {
        "operation": step.operation,
        "name": name,
        "in": step.pieces_in,
        "out": step.pieces_out,
        "scrap": step.scrap,
        "set_up": step.set_up,
        "samples": step.samples,
        "missing": step.missing,
    }


def _looks(connection: Connection, ledger: WholeLedger, pages: dict[str, LookPage]) -> list[dict[str, Any]]:
    lines = {line.look: line for line in ledger.looks}
    called = Called(connection)
    found = []
    for name, page in pages.items():
        line = lines.get(name)
        signature = by_id(connection, page.look.signed_by) if page.look.signed_by else None
        found.append(
            {
                "look": name,
                "due": 0 if line is None else line.due,
                "looked_at": 0 if line is None else line.looked,
                "accepted": 0 if line is None else line.accepted,
                "rework": 0 if line is None else line.rework,
                "rejected": 0 if line is None else line.rejected,
                "query": 0 if line is None else line.query,
                "complete": not page.look.points,
                "signed_by": "" if signature is None else called.person(called.author(signature)),
            }
        )
    return found


def _limits(connection: Connection, batch: str) -> list[dict[str, Any]]:
    rows = select(limit_lines).where(limit_lines.c.batch == batch).order_by(limit_lines.c.place)
    return [
        {
            "look": row.look,
            "class": row.defect_class,
            "state": row.state,
            "defective": row.defective,
            "looked": row.looked,
            "due": row.due,
            "limit": row.allowed_per_thousand * row.due // 1000,
        }
        for row in connection.execute(rows)
    ]


def _open(connection: Connection, ledger: WholeLedger, pages: dict[str, LookPage]) -> list[dict[str, Any]]:
    """What somebody has to do or to decide yet, each once."""
    found = [
        {"at": line.operation or None, "what": _what(connection, line), "pieces": line.amount}
        for line in ledger.lines
        if not line.accepted_by
    ]
    named = {(line.kind, line.subject, line.amount) for line in ledger.lines}
    points = [(point, "") for point in ledger.points]
    for name, page in pages.items():
        points += [(one, name) for one in page.look.points if (one.kind, one.subject, one.amount) not in named]
    for point, look in points:
        where = {"look": look} if look else {}
        of = point.subject
        if point.kind == "lot_away":
            of = connection.scalar(select(loads.c.number).where(loads.c.load == of)) or of
        found.append({**where, "what": point.kind.replace("_", " "), "of": of, "pieces": point.amount})
    return found


def _what(connection: Connection, line: Line) -> str:
    """A difference in words, with the name of what it is about."""
    words = WORDS.get(line.kind, line.kind.replace("_", " "))
    if line.kind.startswith("components_"):
        component = line.subject.partition(" ")[2]
        return f"{words} {component}" if line.kind == "components_short" else f"{component} {words}"
    if line.kind.startswith("tray_"):
        return f"{words}: {line.subject}"
    if line.kind == "pieces_found":
        record = by_id(connection, line.subject)
        if record is not None and isinstance(record.body, PieceFoundV1):
            return f"{words}: {record.body.where}"
    return words
