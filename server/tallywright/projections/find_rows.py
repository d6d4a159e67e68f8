# SPDX-License-Identifier: Apache-2.0
"""The rows of a batch's finds: each mark that counts, with what it can be grouped by."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from msgspec import UNSET

from tallywright.folds.bench import BenchState
from tallywright.folds.gathered import Gathered
from tallywright.projections.tray_rows import from_last
from tallywright.records.definition import PartDefinition

LONGEST_ORIGIN = 200


class FindRow(NamedTuple):
    """One row, in the order of the columns of `finds`."""

    id: str
    batch: str
    look: str
    tray: str
    piece: str
    defect: str
    weight: str
    zone: str
    cavity: str
    born_at: str
    tray_number: int
    tray_from_last: int
    sign_on: str
    author: str
    found_at: int
    time_doubtful: bool


def find_rows(
    batch: str, gathered: Gathered, definitions: Mapping[str, PartDefinition], state: BenchState
) -> list[FindRow]:
    """Return one row for each mark that counts."""
    numbers = {tray.id: tray.number for tray in state.tally.trays}
    places = {count.look: from_last(count) for count in state.ledger.looks}
    origins = {name: _origins(part) for name, part in definitions.items()}
    rows = []
    for mark in state.tally.counted():
        definition = str(gathered.known[mark.id].envelope.definition)
        number = numbers.get(mark.tray, 0)
        rows.append(
            FindRow(
                id=mark.id,
                batch=batch,
                look=mark.look,
                tray=mark.tray,
                piece=mark.piece,
                defect=mark.defect,
                weight=mark.weight,
                zone=mark.zone,
                cavity=mark.cavity,
                born_at=origins[definition].get(mark.defect, ""),
                tray_number=number,
                tray_from_last=places.get(mark.look, {}).get(number, 0),
                sign_on=mark.sign_on,
                author=mark.author,
                found_at=mark.found_at,
                time_doubtful=mark.time_doubtful,
            )
        )
    return rows


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
