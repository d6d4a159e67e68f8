# SPDX-License-Identifier: Apache-2.0
"""Fold one batch once, and replace all its rows."""

from __future__ import annotations

from msgspec import UNSET
from msgspec.structs import astuple
from sqlalchemy import Connection

from tallywright.db import RowsOf, projected
from tallywright.definitions.published import parts
from tallywright.folds.bench import BenchState, fold_bench
from tallywright.folds.gathered import Gathered, found_at
from tallywright.folds.ledger import Difference, LookCount, acceptances
from tallywright.folds.look import Look
from tallywright.folds.origins import fold_origins
from tallywright.folds.route import fold_route
from tallywright.folds.whole_ledger import fold_whole_ledger
from tallywright.projections.asked import admission_rows, proven_among, request_rows
from tallywright.projections.attachment_rows import attachment_rows
from tallywright.projections.check_rows import check_rows
from tallywright.projections.find_rows import find_rows
from tallywright.projections.gauge_rows import gauge_value_rows, gauges_of
from tallywright.projections.goods_rows import issue_rows, receipts_of
from tallywright.projections.pages import BatchPage, LookPage
from tallywright.projections.sum_rows import sum_rows
from tallywright.projections.tables import (
    attachments,
    authors,
    batch_pages,
    batches,
    finds,
    gauge_values,
    holds,
    issues,
    ledgers,
    limit_lines,
    looks,
    made,
    origins,
    queries,
    spans,
    sums,
    trays,
)
from tallywright.projections.tray_rows import tray_rows
from tallywright.records.bench import BatchOpenedV1, LimitCrossedV1
from tallywright.records.compose import canonical
from tallywright.records.decode import Record
from tallywright.records.definition import PartDefinition

CROSSED = ("broken", "over")
OPEN_VERDICTS = ("rework", "query", "locked")
# Where a batch may have rows.
OF_BATCH = [table.c.batch for table in projected.sorted_tables if "batch" in table.c]


def batch_rows(connection: Connection, batch: str, records: list[Record]) -> None:
    """Replace the rows of a batch by the fold of all its records."""
    admission_rows(connection, batch, records)
    named = {str(record.envelope.definition) for record in records if record.envelope.definition is not UNSET}
    definitions = parts(connection, named)
    used = {(r.look, r.envelope.sign_on) for r in records if r.envelope.sign_on is not UNSET}
    gathered = Gathered(records, proven_among(connection, {str(sign_on) for _, sign_on in used}))
    state = fold_bench(gathered, definitions, receipts_of(connection, gathered), gauges_of(connection, gathered))
    rows_of = RowsOf(connection, batch, OF_BATCH)
    rows_of.replace(authors.c.batch, [(batch, look, sign_on) for look, sign_on in sorted(used)])
    of_finds = find_rows(batch, gathered, definitions, state)
    rows_of.replace(finds.c.batch, of_finds)
    rows_of.replace(trays.c.batch, tray_rows(batch, gathered, state))
    rows = [(h.id, batch, h.cause, h.piece, h.look, h.lifted_by, h.cause_withdrawn) for h in state.holds.holds]
    rows_of.replace(holds.c.batch, rows)
    rows_of.replace(attachments.c.batch, attachment_rows(batch, gathered))
    rows_of.replace(issues.c.batch, issue_rows(batch, gathered))
    rows_of.replace(gauge_values.c.batch, gauge_value_rows(batch, gathered, definitions))
    request_rows(rows_of, batch, gathered.known, state.holds.requests)
    part = _batch_line(rows_of, batch, gathered, definitions, state)
    route = fold_route(gathered, state.holds.requests)
    rows_of.replace(made.c.batch, [(batch, *astuple(one)) for one in route.made])
    born = fold_origins(gathered, route, [(row.born_at, row.cavity) for row in of_finds])
    rows_of.replace(origins.c.batch, [(batch, *astuple(one)) for one in born])
    of_bars, times = sum_rows(batch, part, of_finds, born)
    rows_of.replace(sums.c.batch, of_bars)
    rows_of.replace(spans.c.batch, times)
    ledger = fold_whole_ledger(gathered, state, route)
    left_open = sum(not line.accepted_by for line in ledger.lines) + len(ledger.points)
    rows_of.replace(ledgers.c.batch, [(batch, ledger.closes, left_open, canonical(ledger).decode())])
    check_rows(rows_of, batch, gathered, definitions)
    _pages(rows_of, batch, gathered, state)
    _limit_lines(rows_of, batch, gathered, state)


def _batch_line(
    rows_of: RowsOf,
    batch: str,
    gathered: Gathered,
    definitions: dict[str, PartDefinition],
    state: BenchState,
) -> str:
    """Replace the row of the batch itself; returns its part, '' where that is not known."""
    rows, name = [], ""
    opened = gathered.known.get(batch)
    if opened is not None and isinstance(opened.body, BatchOpenedV1) and batch not in gathered.dead:
        definition = str(opened.envelope.definition)
        part = definitions.get(definition)
        name = "" if part is None else f"{part.part} {part.revision}"
        said = (opened.body.number, name, definition, opened.body.pieces, found_at(opened)[0])
        rows.append((batch, *said, len(state.tally.not_understood)))
    rows_of.replace(batches.c.batch, rows)
    return name


def _pages(rows_of: RowsOf, batch: str, gathered: Gathered, state: BenchState) -> None:
    """What lists show stands in columns; what only a page shows, as canonical JSON: a rebuild gives the same."""
    # Of several releases the one that had seen the most holds.
    release = min(state.releases, key=lambda one: len(one.late), default=None)
    page = BatchPage(
        opened=state.ledger.opened,
        taken=state.ledger.taken,
        left=state.ledger.left,
        same_eyes=_same_eyes(gathered, state),
        coverage=state.coverage,
        verdicts=tuple(one for one in state.verdicts if one.verdict in OPEN_VERDICTS or one.differ),
        late=() if release is None else release.late,
        not_understood=state.tally.not_understood,
    )
    released_by, late = ("", 0) if release is None else (release.request, len(release.late))
    rows_of.replace(batch_pages.c.batch, [(batch, released_by, late, canonical(page).decode())])
    counts = {count.look: count for count in state.ledger.looks}
    rows = [_look_row(batch, place, look, counts.get(look.look)) for place, look in enumerate(state.looks)]
    rows_of.replace(looks.c.batch, rows)
    asking = [one for one in state.verdicts if one.verdict == "query"]
    rows_of.replace(queries.c.batch, [(batch, one.look, one.piece, one.open_queries[0]) for one in asking])


def _same_eyes(gathered: Gathered, state: BenchState) -> tuple[Difference, ...]:
    """The same person in two looks: open where it is a point, and what a granted request accepted."""
    accepted = acceptances(gathered.known, state.holds.requests)
    lines = {line: name for line, name in accepted.items() if line[1] == "same_eyes"}
    for look in state.looks:
        points = [point for point in look.points if point.kind == "same_eyes"]
        lines |= {(look.look, point.kind, point.subject, point.amount): "" for point in points}
    return tuple(Difference(*line, lines[line]) for line in sorted(lines))


def _look_row(batch: str, place: int, look: Look, count: LookCount | None) -> tuple[object, ...]:
    numbers = (0, 0, 0, 0, 0, 0)
    if count is not None:
        numbers = (count.due, count.looked, count.accepted, count.rejected, count.rework, count.query)
    page = canonical(LookPage(count=count, look=look)).decode()
    return (batch, look.look, place, *numbers, len(look.points), look.signed_by, page)


def _limit_lines(rows_of: RowsOf, batch: str, gathered: Gathered, state: BenchState) -> None:
    said = {(body.look, body.defect_class) for _, body in gathered.of(LimitCrossedV1)}
    rows = []
    # Where a definition has two limits for one look and class the tighter one holds.
    tightest = sorted(state.limits, key=lambda line: line.allowed_per_thousand, reverse=True)
    for line in {(line.look, line.defect_class): line for line in tightest}.values():
        is_unsaid = line.state in CROSSED and (line.look, line.defect_class) not in said
        rows.append(
            (
                batch,
                line.look,
                line.defect_class,
                state.limits.index(line),
                line.allowed_per_thousand,
                line.defective,
                line.with_queries,
                line.marked,
                line.looked,
                line.due,
                line.trays_closed,
                line.state,
                line.state_with_queries,
                is_unsaid,
            )
        )
    rows_of.replace(limit_lines.c.batch, rows)
