# SPDX-License-Identifier: Apache-2.0
"""The rows of a batch's finds: each mark that counts, with what it can be grouped by."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET

from tallywright.folds.bench import BenchState
from tallywright.folds.gathered import Gathered
from tallywright.folds.ledger import LookCount
from tallywright.records.definition import PartDefinition

LONGEST_ORIGIN = 200


def find_rows(
    batch: str, gathered: Gathered, definitions: Mapping[str, PartDefinition], state: BenchState
) -> list[tuple[object, ...]]:
    """Return one row for each mark that counts, in the order of the columns of `finds`."""
    numbers = {tray.id: tray.number for tray in state.tally.trays}
    from_last = {count.look: _from_last(count) for count in state.ledger.looks}
    origins = {name: _origins(part) for name, part in definitions.items()}
    rows: list[tuple[object, ...]] = []
    for mark in state.tally.counted():
        definition = str(gathered.known[mark.id].envelope.definition)
        number = numbers.get(mark.tray, 0)
        rows.append(
            (
                mark.id,
                batch,
                mark.look,
                mark.tray,
                mark.piece,
                mark.defect,
                mark.weight,
                mark.zone,
                mark.cavity,
                origins[definition].get(mark.defect, ""),
                number,
                from_last.get(mark.look, {}).get(number, 0),
                mark.sign_on,
                mark.author,
                mark.found_at,
                mark.time_doubtful,
            )
        )
    return rows


def _from_last(count: LookCount) -> dict[int, int]:
    """The place of each due tray of a look, counted from the last one."""
    due = sorted((tray.number for tray in count.trays if tray.due > 0), reverse=True)
    return {number: place for place, number in enumerate(due, 1)}


def _origins(part: PartDefinition) -> dict[str, str]:
    """The operations that can make each word, rising and parted by commas; where the list says none, any can."""
    found = {}
    for word in part.defects:
        operations = set() if word.born_at is UNSET else {word.born_at}
        operations |= set() if word.also_born_at is UNSET else set(word.also_born_at)
        text = ",".join(map(str, sorted(operations)))
        # So many that they do not fit say no more than none.
        found[word.defect] = text if len(text) <= LONGEST_ORIGIN else ""
    return found
