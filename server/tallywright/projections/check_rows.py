# SPDX-License-Identifier: Apache-2.0
"""Rows of the checks of a batch, of those that are not as the plan asks, and of what was done about those out."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET
from msgspec.structs import astuple

from tallywright.db import RowsOf
from tallywright.folds.check_gaps import fold_check_gaps
from tallywright.folds.checks import fold_checks
from tallywright.folds.gathered import Gathered, found_at
from tallywright.projections.tables import check_gaps, checks, reactions
from tallywright.records.checks import CheckTakenV1, ReactionTakenV1
from tallywright.records.definition import PartDefinition


def check_rows(rows_of: RowsOf, batch: str, gathered: Gathered, definitions: Mapping[str, PartDefinition]) -> None:
    """Replace the rows of a batch."""
    cavities = {record.id: body.cavity for record, body in gathered.of(CheckTakenV1) if body.cavity is not UNSET}
    taken = fold_checks(gathered, definitions).checks if gathered.of(CheckTakenV1) else ()
    rows = [
        (
            one.id,
            batch,
            one.operation,
            one.characteristic,
            one.role,
            one.said,
            one.outcome,
            one.root,
            one.mistyped,
            -1 if one.made == "unknown" else one.made,
            one.gauge,
            cavities.get(one.id, ""),
            one.taken_at,
        )
        for one in taken
    ]
    rows_of.replace(checks.c.batch, rows)
    roots = {one.id: one.root for one in taken}
    done = [
        (record.id, batch, roots[body.check], body.done, body.pieces_back, found_at(record)[0])
        for record, body in gathered.of(ReactionTakenV1)
        if body.check in roots
    ]
    rows_of.replace(reactions.c.batch, done)
    gaps = []
    for gap in fold_check_gaps(gathered, definitions):
        operation, characteristic, role, kind, record, *rest = astuple(gap)
        gaps.append((record, operation, characteristic, role, kind, batch, *rest))
    rows_of.replace(check_gaps.c.batch, gaps)
