# SPDX-License-Identifier: Apache-2.0
"""What can have made the finds of one batch: for each operation of origin and cavity, one thing, or several.

A find is never split between things, and no thing is guessed: where more than one was at work, or one and something
nobody wrote down, it is several.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import msgspec
from msgspec import UNSET

from tallywright.folds.gathered import Gathered
from tallywright.folds.route import Made, Route
from tallywright.records.envelope import LARGEST_INTEGER
from tallywright.records.route import OperationStartedV1

NOT_WRITTEN_DOWN = ""


class Origin(msgspec.Struct, frozen=True, gc=False):
    """What one sort of thing says of the finds of an operation and a cavity; without one nothing is recorded.

    born_at     the operations that can have made them, as rows of finds have it
    what        machine, tool, cast, load, lot; or span, which has no value
    value       '' where it is several
    started_at  of a span, when the batch came to the first of the operations            [ms]
    ended_at    and when it left the last; the largest number while it is there          [ms]
    """

    born_at: str
    cavity: str
    what: str
    value: str
    several: bool
    started_at: int
    ended_at: int


def fold_origins(gathered: Gathered, route: Route, finds: Iterable[tuple[str, str]]) -> tuple[Origin, ...]:
    """Fold what the route says of finds.

    finds  operations of origin and cavity of the batch's finds
    """
    way = _Way(gathered, route)
    return tuple(origin for born_at, cavity in sorted(set(finds)) for origin in way.of(born_at, cavity))


class _Way:
    """The stints of a batch, its loads and its lots, by operation."""

    def __init__(self, gathered: Gathered, route: Route) -> None:
        self._starts = {record.id: start for record, start in gathered.of(OperationStartedV1)}
        self._made: dict[int, list[Made]] = {}
        for one in route.made:
            self._made.setdefault(one.operation, []).append(one)
        # A load that holds fewer than went in leaves pieces that nobody knows the load of.
        self._beside_loads = {d.operation for d in route.differences if d.kind == "loads_differ" and d.amount < 0}

    def of(self, born_at: str, cavity: str) -> list[Origin]:
        operations = [int(number) for number in born_at.split(",")] if born_at else []
        found = {
            "machine": self._named("machine", operations, cavity),
            "tool": self._named("tool", operations, cavity),
            "cast": self._casts(cavity),
            "load": self._put_into("load", operations),
            "lot": self._put_into("lot", operations),
        }
        origins = [_origin(born_at, cavity, what, values) for what, values in found.items()]
        span = self._span(operations, cavity)
        if span is not None:
            origins.append(Origin(born_at, cavity, "span", "", False, *span))
        return [origin for origin in origins if origin is not None]

    def _stints(self, operation: int, cavity: str) -> list[Made]:
        """The stints that can have made a piece of the cavity; '' is a piece of any."""
        stints = [one for one in self._made.get(operation, []) if one.what == "stint"]
        return [one for one in stints if _has(self._starts.get(one.value), cavity)]

    def _named(self, what: str, operations: Sequence[int], cavity: str) -> set[str]:
        values = set()
        for operation in operations:
            stints = self._stints(operation, cavity)
            values |= {_said(self._starts.get(one.value), what) for one in stints} or {NOT_WRITTEN_DOWN}
        return values

    def _casts(self, cavity: str) -> set[str]:
        """The metal goes with the piece from its first operation to its last, wherever a find is born."""
        starts = [start for start in self._starts.values() if _has(start, cavity)]
        return {_said(start, "cast") for start in starts} - {NOT_WRITTEN_DOWN}

    def _put_into(self, what: str, operations: Sequence[int]) -> set[str]:
        values = set()
        for operation in operations:
            here = {one.value for one in self._made.get(operation, []) if one.what == what}
            is_beside = what == "load" and operation in self._beside_loads
            values |= here | ({NOT_WRITTEN_DOWN} if is_beside or not here else set())
        return values

    def _span(self, operations: Sequence[int], cavity: str) -> tuple[int, int] | None:
        """From the first stint to the last; None where nothing is recorded of an operation."""
        spans: list[tuple[int, int]] = []
        for operation in operations:
            outside = [one for one in self._made.get(operation, []) if one.what in ("load", "lot")]
            here = self._stints(operation, cavity) or outside
            if not here:
                return None
            spans += [(one.started_at, one.ended_at or LARGEST_INTEGER) for one in here]
        return (min(start for start, _ in spans), max(end for _, end in spans)) if spans else None


def _has(start: OperationStartedV1 | None, cavity: str) -> bool:
    return start is None or start.cavities is UNSET or cavity == "" or cavity in start.cavities


def _said(start: OperationStartedV1 | None, what: str) -> str:
    value = UNSET if start is None else getattr(start, what)
    return NOT_WRITTEN_DOWN if value is UNSET else str(value)


def _origin(born_at: str, cavity: str, what: str, values: set[str]) -> Origin | None:
    known = values - {NOT_WRITTEN_DOWN}
    if not known:
        return None
    several = len(values) > 1
    return Origin(born_at, cavity, what, "" if several else known.pop(), several, 0, 0)
