# SPDX-License-Identifier: Apache-2.0
"""The limit line of each look and class: how many pieces have a worst mark of the class, beside what is allowed.

static/src/folds/limits.ts is the same function; tests/vectors/bench holds both to the same answers. The numbers
behind the word are worked out where a lead reads them.
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


def fold_limits(limits: Iterable[Limit], verdicts: Iterable[PieceVerdict], ledger: Ledger) -> tuple[LimitLine, ...]:
    """Fold the verdicts and the ledger of one batch; in the order of the limits."""
    pages = {page.look: page for page in ledger.looks}
    verdicts = list(verdicts)
    return tuple(
        _line(limit, pages[limit.look], [one for one in verdicts if one.look == limit.look])
        for limit in limits
        if limit.look in pages
    )


def numbers_behind(line: LimitLine) -> LimitVerdict | None:
    """The numbers behind a line's state; None where nobody counted the batch in."""
    if line.state == "uncounted":
        return None
    return _verdict(
        line.allowed_per_thousand, line.looked, line.due, line.defective, line.marked, line.trays_closed
    )


def _line(limit: Limit, page: LookCount, verdicts: list[PieceVerdict]) -> LimitLine:
    closed = {opening.tray for tray in page.trays for opening in tray.openings if opening.is_closed}
    rank = WORST_MARK_FIRST.index(limit.defect_class)
    milder = ("", *WORST_MARK_FIRST[rank + 1 :])
    of_class = [one for one in verdicts if one.worst == limit.defect_class]
    may_be = [one for one in verdicts if one.open_queries and one.worst in milder]
    defective = sum(one.tray in closed for one in of_class)
    with_queries = defective + sum(one.tray in closed for one in may_be)
    marked = len(of_class)

    def state(count: int, marked: int) -> State:
        if not page.counted_by:
            return "uncounted"
        found = _verdict(limit.allowed_per_thousand, page.looked, page.due, count, marked, len(closed))
        return "uncounted" if found is None else found.state

    first = state(defective, marked)
    return LimitLine(
        look=limit.look,
        defect_class=limit.defect_class,
        allowed_per_thousand=limit.allowed_per_thousand,
        defective=defective,
        with_queries=with_queries,
        marked=marked,
        looked=page.looked,
        due=page.due,
        trays_closed=len(closed),
        state=first,
        state_with_queries=state(with_queries, marked + len(may_be)) if may_be else first,
    )


def _verdict(
    allowed_per_thousand: int, looked: int, due: int, defective: int, marked: int, closed: int
) -> LimitVerdict | None:
    """The verdict on one figure. Where more was looked at or marked than was due, that is the batch."""
    looked = max(looked, defective)
    due = max(due, looked, marked)
    if not 1 <= due <= LARGEST_BATCH:
        return None
    allowed = Decimal(allowed_per_thousand) / 1000
    return limit_verdict(defective, looked, due, allowed, marked=marked, trays_closed=closed)
