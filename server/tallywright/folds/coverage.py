# SPDX-License-Identifier: Apache-2.0
"""How many looks each family of defects had in each zone: a look counts where it could have seen them.

static/src/folds/coverage.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec
from msgspec import UNSET

from tallywright.folds.ledger import Ledger
from tallywright.folds.look import Look
from tallywright.records.definition import DefectWord, PartDefinition


class Coverage(msgspec.Struct, frozen=True, gc=False):
    """A family of defects in a zone ('' is the piece as a whole).

    looks    complete looks that could see every word of the family there
    unknown  complete looks of which nobody wrote down behind which operation they stand
    """

    family: str
    zone: str
    looks: tuple[str, ...]
    unknown: tuple[str, ...]


def fold_coverage(definition: PartDefinition, ledger: Ledger, looks: Iterable[Look]) -> tuple[Coverage, ...]:
    """Fold the complete looks of a batch; families and zones in the order of the definition."""
    operations = {page.look: page.operation for page in ledger.looks}
    complete = [look.look for look in looks if not look.points]
    families: dict[str, list[DefectWord]] = {}
    for word in definition.defects:
        families.setdefault(word.defect if word.family is UNSET else word.family, []).append(word)
    zones = [("", 0)]
    if definition.zones is not UNSET:
        zones += [(z.zone, 0 if z.covered_after is UNSET else z.covered_after) for z in definition.zones]
    lines = []
    for family, words in families.items():
        for zone, covered_after in zones:
            seen = {look: _sees(words, covered_after, operations.get(look, 0)) for look in complete}
            lines.append(
                Coverage(
                    family=family,
                    zone=zone,
                    looks=tuple(look for look in complete if seen[look] == "yes"),
                    unknown=tuple(look for look in complete if seen[look] == "unknown"),
                )
            )
    return tuple(lines)


def _sees(words: list[DefectWord], covered_after: int, operation: int) -> str:
    """Whether a look behind an operation sees all the words in a zone that is covered after another one."""
    if any(word.seen_by_eye == "no" for word in words):
        return "no"
    first = [word.first_seen_at for word in words if word.first_seen_at is not UNSET]
    if not operation:
        return "unknown" if first or covered_after else "yes"
    if covered_after and operation > covered_after:
        return "no"
    return "yes" if all(operation >= one for one in first) else "no"
