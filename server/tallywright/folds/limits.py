# SPDX-License-Identifier: Apache-2.0
"""The limit line of each look and class: how many pieces have a worst mark of the class, beside what is allowed.

static/src/folds/limits.ts gives the same lines with the state word alone; tests/vectors/bench holds both to it.
"""

from __future__ import annotations

from collections.abc import Iterable
from decimal import Decimal
from typing import Literal

import msgspec

from tallywright.computation.rate_limit import LARGEST_BATCH, LimitVerdict, limit_verdict
from tallywright.folds.ledger import Ledger, LookCount
from tallywright.folds.verdicts import WORST_MARK_FIRST, PieceVerdict
from tallywright.records.definition import DefectClass, Limit

State = Literal["uncounted", "within", "watch", "broken", "over", "met"]


class LimitLine(msgspec.Struct, frozen=True):
    """One class at one look.

    defective, with_queries  pieces of closed trays; and the same if every open query turned out to be of the class
    marked                   the first count with open trays too
    state                    uncounted while nobody proven counted the batch in
    verdict                  the numbers behind `state`; None where that is uncounted
    """

    look: str
    defect_class: DefectClass = msgspec.field(name="class")
    allowed_per_thousand: int
    defective: int
    with_queries: int
    marked: int
    looked: int
    due: int
    trays_closed: int
    state: State
    state_with_queries: State
    verdict: LimitVerdict | None


def fold_limits(limits: Iterable[Limit], verdicts: Iterable[PieceVerdict], ledger: Ledger) -> tuple[LimitLine, ...]:
    """Fold the verdicts and the ledger of one batch; in the order of the limits."""
    pages = {page.look: page for page in ledger.looks}
    verdicts = list(verdicts)
    return tuple(
        _line(limit, pages[limit.look], [one for one in verdicts if one.look == limit.look])
        for limit in limits
        if limit.look in pages
    )


def _line(limit: Limit, page: LookCount, verdicts: list[PieceVerdict]) -> LimitLine:
    closed = {opening.tray for tray in page.trays for opening in tray.openings if opening.is_closed}
    rank = WORST_MARK_FIRST.index(limit.defect_class)
    milder = ("", *WORST_MARK_FIRST[rank + 1 :])
    of_class = [one for one in verdicts if one.worst == limit.defect_class]
    may_be = [one for one in verdicts if one.open_queries and one.worst in milder]
    defective = sum(one.tray in closed for one in of_class)
    with_queries = defective + sum(one.tray in closed for one in may_be)
    first, second = (
        _verdict(limit, page, count, marked, len(closed))
        for count, marked in ((defective, len(of_class)), (with_queries, len(of_class) + len(may_be)))
    )
    return LimitLine(
        look=limit.look,
        defect_class=limit.defect_class,
        allowed_per_thousand=limit.allowed_per_thousand,
        defective=defective,
        with_queries=with_queries,
        marked=len(of_class),
        looked=page.looked,
        due=page.due,
        trays_closed=len(closed),
        state="uncounted" if first is None else first.state,
        state_with_queries="uncounted" if second is None else second.state,
        verdict=first,
    )


def _verdict(limit: Limit, page: LookCount, defective: int, marked: int, closed: int) -> LimitVerdict | None:
    """The verdict on one figure. Where more was looked at or marked than was due, that is the batch."""
    looked = max(page.looked, defective)
    due = max(page.due, looked, marked)
    if not page.counted_by or not 1 <= due <= LARGEST_BATCH:
        return None
    allowed = Decimal(limit.allowed_per_thousand) / 1000
    return limit_verdict(defective, looked, due, allowed, marked=marked, trays_closed=closed)
