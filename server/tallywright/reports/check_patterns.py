# SPDX-License-Identifier: Apache-2.0
"""Readings that are more regular than the works' own other batches: worth a look, each with its count and chance.

Nobody's name is read here, and nothing is ranked: a line says operation, characteristic, batch and gauge.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any, Literal

from msgspec import UNSET
from sqlalchemy import Connection, Row, func, select

from tallywright.computation.errors import NotEstimable
from tallywright.computation.reading_patterns import crowd, end_digits, few_near, same_run
from tallywright.folds.check_outcome import Known
from tallywright.projections.tables import batches, checks, made
from tallywright.records.decimal import billionths
from tallywright.records.definition import Characteristic

# Of so many rows one shows by luck alone; the page says how many it looked at.
RARE = 0.001
WITHIN_MS = 60_000
# Nobody measures every so many pieces to the second; a gap that is as long to five seconds is as the one before.
AS_LONG_MS = 5_000
NEAR_A_LIMIT = 10  # the tenth of the tolerance that lies next to a limit
MOST_BEFORE = 500  # readings of a characteristic in other batches, the newest first

Reading = Row[Any]
Kind = Literal["same_value", "same_gap", "close_together", "end_digit", "never_near"]


@dataclass(frozen=True, slots=True)
class Pattern:
    """A fact about readings, and how rarely chance makes it.

    batch   '' where the readings are of several
    value   the reading that repeats, or the digit
    count   how many: readings or gaps in the run, checks together, readings with the digit or near a limit
    of      of how many
    chance  at most, of as many by chance
    since, until  of the readings that are counted [ms]
    """

    kind: Kind
    batch: str
    part: str
    operation: int
    characteristic: int
    cavity: str
    gauges: list[str]
    value: str
    count: int
    of: int
    chance: float
    since: int
    until: int


@dataclass(frozen=True, slots=True)
class Patterns:
    """What is worth a look; how many rows were looked at, and in how many there were too few readings."""

    found: list[Pattern]
    looked_at: int
    too_few: int


def patterns(connection: Connection, readings: Iterable[Reading], plans: Mapping[str, Known], end: int) -> Patterns:
    """Look through the readings of a span.

    readings  rows of `checks` with the batch's part, each the first of those that stand beside one another
    plans     the characteristics of each batch
    end       of the span; what was read later is not compared with  [ms]
    """
    watch = _Watch(connection, plans, end)
    of_row: dict[tuple[str, int, int], list[Reading]] = defaultdict(list)
    of_gauge: dict[tuple[str, int, int, str], list[Reading]] = defaultdict(list)
    for one in readings:
        of_row[one.batch, one.operation, one.characteristic].append(one)
        of_gauge[one.part, one.operation, one.characteristic, one.gauge].append(one)
    for row in of_row.values():
        watch.row(row)
    for row in of_gauge.values():
        watch.look("end_digit", row, _end_digit)
    found = sorted(watch.found, key=lambda one: (one.operation, one.batch, one.characteristic, one.kind))
    return Patterns(found, watch.looked_at, watch.too_few)


@dataclass(frozen=True, slots=True)
class _Seen:
    """What a look at some readings saw: `readings` are those that are counted."""

    readings: list[Reading]
    count: int
    of: int
    chance: float
    value: str = ""


class _Watch:
    def __init__(self, connection: Connection, plans: Mapping[str, Known], end: int) -> None:
        self._connection = connection
        self._plans = plans
        self._end = end
        self._before: dict[tuple[str, int, int], list[Reading]] = {}
        self.found: list[Pattern] = []
        self.looked_at = self.too_few = 0

    def row(self, row: list[Reading]) -> None:
        """Look at the readings of one characteristic in one batch, cavity by cavity where order matters."""
        others = self._others(row[0])
        streams = _streams(row)
        for stream in streams:
            self.look("same_value", stream, lambda stream: _same_value(stream, _streams(others)))
            self.look("same_gap", stream, lambda stream: _same_gap(stream, _streams(others)))
        one = self._plans.get(row[0].batch, {}).get((row[0].operation, row[0].characteristic))
        if one is None:
            return
        if one.in_process is not UNSET and one.in_process.at == "pieces":
            self.look("close_together", row, self._close_together)
        near = _near(one)
        if near is not None:
            self.look("never_near", row, lambda row: _never_near(row, others, near))

    def look(self, kind: Kind, row: list[Reading], at: Callable[[list[Reading]], _Seen | None]) -> None:
        """Look at some readings once; what is rare is kept."""
        try:
            seen = at(row)
        except NotEstimable:
            self.too_few += 1
            return
        if seen is None:
            return
        self.looked_at += 1
        if seen.chance >= RARE:
            return
        first = row[0]
        self.found.append(
            Pattern(
                kind=kind,
                batch=first.batch if len({one.batch for one in row}) == 1 else "",
                part=first.part,
                operation=first.operation,
                characteristic=first.characteristic,
                cavity=first.cavity if len({one.cavity for one in row}) == 1 else "",
                gauges=sorted({one.gauge for one in seen.readings} - {""}),
                value=seen.value,
                count=seen.count,
                of=seen.of,
                chance=seen.chance,
                since=min(one.taken_at for one in seen.readings),
                until=max(one.taken_at for one in seen.readings),
            )
        )

    def _others(self, one: Reading) -> list[Reading]:
        """The newest readings of the same characteristic of the part in other batches, in the order of time."""
        of = (one.part, one.operation, one.characteristic)
        if of not in self._before:
            newest = (
                first_readings()
                .where(
                    batches.c.part == one.part,
                    checks.c.operation == one.operation,
                    checks.c.characteristic == one.characteristic,
                    checks.c.taken_at < self._end,
                )
                .order_by(checks.c.taken_at.desc(), checks.c.id.desc())
                .limit(MOST_BEFORE)
            )
            rows = self._connection.execute(newest).all()
            self._before[of] = [row for row in reversed(rows) if is_number(row.said)]
        return [row for row in self._before[of] if row.batch != one.batch]

    def _close_together(self, row: list[Reading]) -> _Seen | None:
        """Checks that the plan sets apart by pieces, stored within a minute of one another."""
        visits = _visits(row)
        spans = select(func.min(made.c.started_at), func.max(made.c.ended_at), func.min(made.c.ended_at)).where(
            made.c.batch == row[0].batch, made.c.operation == row[0].operation, made.c.what == "stint"
        )
        began, ended, first_ended = self._connection.execute(spans).one()
        if len(visits) < 2 or began is None:
            return None
        start = min(began, visits[0].taken_at)
        end = max(visits[-1].taken_at, ended if first_ended else self._end)
        if end - start <= WITHIN_MS:
            return None
        fullest = crowd([one.taken_at - start for one in visits], WITHIN_MS, 0, end - start)
        together = visits[fullest.first - 1 : fullest.first - 1 + fullest.count]
        return _Seen(together, fullest.count, len(visits), fullest.chance if fullest.count > 1 else 1.0)


def first_readings() -> Any:
    """Rows of `checks` that stand beside no earlier one and were not mistyped, with the part of their batch."""
    of_part = select(*checks.c, batches.c.part, batches.c.number, batches.c.definition)
    joined = of_part.join(batches, batches.c.batch == checks.c.batch)
    return joined.where(checks.c.root == checks.c.id, checks.c.mistyped.is_(False))


def is_number(said: str) -> bool:
    """True for a reading of a gauge, and not for GO or yes."""
    return said[-1:].isdigit()


def _streams(row: list[Reading]) -> list[list[Reading]]:
    """Readings of one batch and cavity, in the order of time: what comes from another die half is another row."""
    found: dict[tuple[str, str], list[Reading]] = defaultdict(list)
    for one in row:
        found[one.batch, one.cavity].append(one)
    return list(found.values())


def _pairs(streams: list[list[bool]]) -> tuple[int, int]:
    return sum(map(sum, streams)), sum(map(len, streams))


def _alike(stream: list[Reading]) -> list[bool]:
    return [billionths(left.said) == billionths(right.said) for left, right in pairwise(stream)]


def _same_value(stream: list[Reading], others: list[list[Reading]]) -> _Seen | None:
    is_same = _alike(stream)
    if not is_same:
        return None
    run = same_run(is_same, *_pairs([_alike(one) for one in others]))
    counted = stream[run.first - 1 : run.first - 1 + run.length]
    return _Seen(counted, run.length, len(stream), run.chance, counted[0].said)


def _visits(row: list[Reading]) -> list[Reading]:
    """The first reading at each number of pieces made: what is read at one time stands for one check."""
    found: dict[int, Reading] = {}
    for one in row:
        if one.role == "in_process" and one.made >= 0:
            found.setdefault(one.made, one)
    return sorted(found.values(), key=lambda one: one.taken_at)


def _even(stream: list[Reading]) -> list[bool]:
    gaps = [right.taken_at - left.taken_at for left, right in pairwise(_visits(stream))]
    return [abs(left - right) <= AS_LONG_MS for left, right in pairwise(gaps)]


def _same_gap(stream: list[Reading], others: list[list[Reading]]) -> _Seen | None:
    is_even = _even(stream)
    if not is_even:
        return None
    run = same_run(is_even, *_pairs([_even(one) for one in others]))
    counted = _visits(stream)[run.first - 1 : run.first + run.length]
    return _Seen(counted, run.length, len(is_even) + 1, run.chance)


def _end_digit(row: list[Reading]) -> _Seen:
    digits = end_digits([one.said for one in row])
    return _Seen(row, digits.counts[digits.most], len(row), digits.chance, str(digits.most))


def _near(one: Characteristic) -> Callable[[str], bool] | None:
    """Whether a reading lies in the tenth next to a limit, or beyond it; None where no tolerance says how wide.

    Below an upper limit alone the tenth is of the limit itself: such a characteristic counts from 0.
    """
    lower = None if one.lower is UNSET else billionths(one.lower)
    upper = None if one.upper is UNSET else billionths(one.upper)
    if upper is None or (lower is None and upper <= 0) or (lower is not None and lower >= upper):
        return None
    tenth = (upper - (0 if lower is None else lower)) // NEAR_A_LIMIT
    return lambda said: (
        billionths(said) >= upper - tenth or (lower is not None and billionths(said) <= lower + tenth)
    )


def _never_near(row: list[Reading], others: list[Reading], is_near: Callable[[str], bool]) -> _Seen:
    near = [one for one in row if is_near(one.said)]
    usual = sum(is_near(one.said) for one in others)
    seen = few_near(len(near), len(row), usual, len(others))
    return _Seen(row, len(near), len(row), seen.chance)
