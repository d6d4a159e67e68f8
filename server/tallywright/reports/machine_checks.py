# SPDX-License-Identifier: Apache-2.0
"""The checks at the machines over a shift or some days: what is missing, late, repeated, out, and worth a look."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from msgspec import UNSET
from sqlalchemy import ColumnElement, Connection, and_, exists, func, or_, select

from tallywright.db import in_parts
from tallywright.definitions.published import parts
from tallywright.folds.check_outcome import Known, characteristics_of
from tallywright.projections.tables import batches, check_gaps, checks, reactions
from tallywright.records.definition import PartDefinition
from tallywright.reports.check_patterns import first_readings, is_number, patterns
from tallywright.reports.present_shift import present_shift

MOST_LINES = 300  # of each sort; how many there are is said besides
DAY_MS = 24 * 60 * 60 * 1000
LONGEST_SPAN_MS = 35 * DAY_MS


@dataclass(frozen=True, slots=True)
class MachineChecks:
    """Lines by operation and batch; `shift` and `day` are named where the span is the shift of now.

    taken      checks in the span, those beside an earlier one among them
    gaps       missed, left out and delayed checks, and operations without any
    repeated   checks with those that stand beside them
    out        checks out of their limits, with what was done
    worth_a_look  patterns; looked_at, too_few: rows that were looked at, and rows with too few readings
    more       lines that are not among these, because there are too many of a sort
    """

    start: int
    end: int
    shift: str
    day: str
    taken: int
    gaps: list[dict[str, Any]]
    repeated: list[dict[str, Any]]
    out: list[dict[str, Any]]
    worth_a_look: list[dict[str, Any]]
    looked_at: int
    too_few: int
    more: int


def machine_checks(
    connection: Connection, now_ms: int, start: int | None = None, end: int | None = None
) -> MachineChecks:
    """Return the checks of a span, or of the shift that now belongs to; its end is not included [ms]."""
    shift = day = ""
    if start is None or end is None:
        now = present_shift(connection, now_ms)
        start, end, shift, day = now.start, now.end, now.shift, now.day
    plans = _Plans(connection)
    in_span = and_(checks.c.taken_at >= start, checks.c.taken_at < end)
    readings = connection.execute(first_readings().where(in_span).order_by(checks.c.taken_at, checks.c.id)).all()
    plans.read(row.definition for row in readings)
    known = {row.batch: plans.known(row.definition) for row in readings}
    seen = patterns(connection, [row for row in readings if is_number(row.said)], known, end)
    numbers = {row.batch: (row.number, row.definition) for row in readings}
    parts_of = {row.part: row.definition for row in readings}
    gaps = _gaps(connection, plans, start, end)
    repeated = _sets(connection, plans, and_(in_span, checks.c.root != checks.c.id))
    out = _sets(connection, plans, and_(in_span, checks.c.outcome == "out", checks.c.mistyped.is_(False)))
    sorts = (gaps, repeated, out)
    return MachineChecks(
        start=start,
        end=end,
        shift=shift,
        day=day,
        taken=connection.scalar(select(func.count()).select_from(checks).where(in_span)) or 0,
        gaps=gaps[:MOST_LINES],
        repeated=repeated[:MOST_LINES],
        out=out[:MOST_LINES],
        worth_a_look=[
            {name: getattr(one, name) for name in one.__slots__}
            | {"number": numbers[one.batch][0] if one.batch else ""}
            | plans.names(parts_of[one.part], one.operation, one.characteristic)
            for one in seen.found
        ],
        looked_at=seen.looked_at,
        too_few=seen.too_few,
        more=sum(max(0, len(lines) - MOST_LINES) for lines in sorts),
    )


class _Plans:
    """What operations and characteristics are called, by the definition of their batch; each is read once."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._parts: dict[str, PartDefinition | None] = {}
        self._known: dict[str, Known] = {}

    def read(self, definitions: Iterable[str]) -> None:
        asked = set(definitions) - self._parts.keys()
        found = parts(self._connection, asked)
        self._parts |= {name: found.get(name) for name in asked}
        self._known |= {name: characteristics_of(found.get(name)) for name in asked}

    def known(self, definition: str) -> Known:
        return self._known.get(definition, {})

    def names(self, definition: str, operation: int, characteristic: int) -> dict[str, Any]:
        part = self._parts.get(definition)
        operations = [] if part is None or part.operations is UNSET else part.operations
        one = self.known(definition).get((operation, characteristic))
        return {
            "operation_words": next((step.words for step in operations if step.operation == operation), {}),
            "words": {} if one is None else one.words,
            "unit": "" if one is None or one.unit is UNSET else one.unit,
            "lower": "" if one is None or one.lower is UNSET else one.lower,
            "upper": "" if one is None or one.upper is UNSET else one.upper,
        }


def _gaps(connection: Connection, plans: _Plans, start: int, end: int) -> list[dict[str, Any]]:
    """By operation and batch. An operation without a check is told only where such checks are recorded at all."""
    recorded = checks.alias("recorded")
    elsewhere = exists().where(recorded.c.operation == check_gaps.c.operation)
    asked = (
        select(check_gaps, batches.c.number, batches.c.definition, checks.c.said)
        .join(batches, batches.c.batch == check_gaps.c.batch)
        .outerjoin(checks, checks.c.id == check_gaps.c.record)
        .where(check_gaps.c.at >= start, check_gaps.c.at < end, or_(check_gaps.c.kind != "none", elsewhere))
        .order_by(
            check_gaps.c.operation,
            batches.c.number,
            check_gaps.c.batch,
            check_gaps.c.characteristic,
            check_gaps.c.at,
            check_gaps.c.record,
            check_gaps.c.role,
            check_gaps.c.kind,
        )
    )
    rows = connection.execute(asked).all()
    plans.read(row.definition for row in rows)
    members = ("batch", "number", "operation", "characteristic", "role", "kind", "record", "checks", "pieces", "ms")
    return [
        {name: getattr(row, name) for name in (*members, "why", "at")}
        | {"said": row.said or "" if row.kind == "delayed" else ""}
        | plans.names(row.definition, row.operation, row.characteristic)
        for row in rows
    ]


def _sets(connection: Connection, plans: _Plans, which: ColumnElement[bool]) -> list[dict[str, Any]]:
    """Checks, each with all that stand beside it and what was done; by operation and batch."""
    roots = connection.scalars(select(checks.c.root).where(which))
    rows: list[Any] = []
    done: dict[str, list[dict[str, Any]]] = defaultdict(list)
    for names in in_parts(roots):
        of_batch = select(*checks.c, batches.c.number, batches.c.definition)
        joined = of_batch.join(batches, batches.c.batch == checks.c.batch)
        rows += connection.execute(joined.where(checks.c.root.in_(names))).all()
        told = select(reactions).where(reactions.c.root.in_(names)).order_by(reactions.c.at, reactions.c.record)
        for one in connection.execute(told):
            done[one.root].append({"done": one.done, "pieces_back": one.pieces_back, "at": one.at})
    plans.read(row.definition for row in rows)
    sets: dict[str, list[Any]] = defaultdict(list)
    for row in sorted(rows, key=lambda row: (row.operation, row.number, row.batch, row.taken_at, row.id)):
        sets[row.root].append(row)
    found = []
    for root, beside in sets.items():
        first = next((row for row in beside if row.id == root), beside[0])
        others = [row for row in beside if row is not first]
        found.append(
            {name: getattr(first, name) for name in ("batch", "number", "operation", "characteristic", "role")}
            | plans.names(first.definition, first.operation, first.characteristic)
            | {"check": root, "first": _said(first), "beside": [_said(row) for row in others], "done": done[root]}
        )
    return found


def _said(row: Any) -> dict[str, Any]:
    names = ("said", "outcome", "mistyped", "made", "gauge", "cavity", "taken_at")
    return {name: getattr(row, name) for name in names}
