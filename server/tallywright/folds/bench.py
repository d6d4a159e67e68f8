# SPDX-License-Identifier: Apache-2.0
"""All folds of the bench over one batch, each on those below it.

static/src/folds/bench.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Mapping

import msgspec
from msgspec import UNSET

from tallywright.folds.coverage import Coverage, fold_coverage
from tallywright.folds.gathered import Gathered
from tallywright.folds.gauges import NO_GAUGES, Gauges
from tallywright.folds.holds import Holds, fold_holds
from tallywright.folds.ledger import Ledger, fold_ledger
from tallywright.folds.limits import LimitLine, fold_limits
from tallywright.folds.look import Look, fold_looks
from tallywright.folds.receipts import NO_RECEIPTS, Receipts
from tallywright.folds.release import Release, fold_releases
from tallywright.folds.tally import Tally, fold_tally
from tallywright.folds.verdicts import PieceVerdict, fold_verdicts
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.definition import PartDefinition


class BenchState(msgspec.Struct, frozen=True):
    """What the records of a batch say at the bench. Limits and coverage need the definition the batch keeps."""

    tally: Tally
    holds: Holds
    verdicts: tuple[PieceVerdict, ...]
    ledger: Ledger
    looks: tuple[Look, ...]
    coverage: tuple[Coverage, ...]
    limits: tuple[LimitLine, ...]
    releases: tuple[Release, ...]


def fold_bench(
    gathered: Gathered,
    definitions: Mapping[str, PartDefinition],
    receipts: Receipts = NO_RECEIPTS,
    gauges: Gauges = NO_GAUGES,
) -> BenchState:
    """Fold all records of one batch, its `batch_opened` among them.

    definitions  part definitions by the id of their publication
    receipts     what the batch is made of
    gauges       what it was measured with
    """
    part = next(
        (
            definitions.get(str(record.envelope.definition))
            for record in gathered.known.values()
            if isinstance(record.body, BatchOpenedV1)
        ),
        None,
    )
    tally = fold_tally(gathered, definitions)
    holds = fold_holds(gathered, definitions, receipts, gauges)
    verdicts = fold_verdicts(gathered, tally, holds)
    ledger = fold_ledger(gathered, tally, holds.requests, verdicts)
    looks = fold_looks(gathered, [] if part is None else part.looks, tally, holds, verdicts, ledger)
    limits = [] if part is None or part.limits is UNSET else part.limits
    return BenchState(
        tally=tally,
        holds=holds,
        verdicts=verdicts,
        ledger=ledger,
        looks=looks,
        coverage=() if part is None else fold_coverage(part, ledger, looks),
        limits=fold_limits(limits, verdicts, ledger),
        releases=fold_releases(gathered, holds.requests),
    )
