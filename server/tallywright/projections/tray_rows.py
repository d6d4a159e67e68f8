# SPDX-License-Identifier: Apache-2.0
"""The rows of a batch's closed trays: how many pieces were looked at in each, and when it was closed."""

from __future__ import annotations

from typing import NamedTuple

from tallywright.folds.bench import BenchState
from tallywright.folds.gathered import Gathered, found_at
from tallywright.folds.ledger import LookCount


class TrayRow(NamedTuple):
    """One row, in the order of the columns of `trays`."""

    tray: str
    batch: str
    look: str
    number: int
    from_last: int
    looked: int
    closed_at: int


def tray_rows(batch: str, gathered: Gathered, state: BenchState) -> list[TrayRow]:
    """Return one row for each tray that counts as looked at; closed more than once, its first closing dates it."""
    closings = {tray.id: tray.closings for tray in state.tally.trays}
    rows = []
    for count in state.ledger.looks:
        places = from_last(count)
        for tray in count.trays:
            for opening in tray.openings:
                if opening.is_closed:
                    closed_at = min(found_at(gathered.known[name])[0] for name in closings[opening.tray])
                    place = places.get(tray.number, 0)
                    row = TrayRow(opening.tray, batch, count.look, tray.number, place, opening.looked, closed_at)
                    rows.append(row)
    return rows


def from_last(count: LookCount) -> dict[int, int]:
    """The place of each due tray of a look, counted from the last one."""
    due = sorted((tray.number for tray in count.trays if tray.due > 0), reverse=True)
    return {number: place for place, number in enumerate(due, 1)}
