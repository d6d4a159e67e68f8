# SPDX-License-Identifier: Apache-2.0
"""A gauge, and what a value that was taken with it is worth: by all that was said of the gauge, before and after.

static/src/folds/gauges.ts is the same function; tests/vectors/gauges holds both to the same answers. A gauge is no
batch's. What was said of it holds by when it was said, never by when it came here.
"""

from __future__ import annotations

import re
from collections.abc import Container, Iterable, Mapping
from datetime import UTC, datetime
from typing import Literal
from zoneinfo import ZoneInfo

import msgspec
from msgspec import UNSET

from tallywright.folds.gathered import Gathered, author_of, found_at, order_of
from tallywright.records.bare_name import bare_name
from tallywright.records.checks import CheckTakenV1, GaugeCheckedV1
from tallywright.records.decode import Record
from tallywright.records.definition import GaugeDefinition
from tallywright.records.kinds import DefinitionPublishedV1

# The worst first: of several the first is said.
Standing = Literal["found_wrong", "doubtful", "not_known", "wrong_kind", "overdue", "in_order"]
Moment = tuple[int, tuple[str, int]]  # server time [ms], and the record: two of one time stand in the order of ids
# Behind all that was said: how a gauge stands now, whatever the clocks of those who said it.
LATEST: Moment = (2**54, ("~", 0))
_LAST_MOMENT_MS = 253_402_214_400_000  # a clock may say anything; a calendar ends with the year 9999
_WORDS = re.compile(r"[^ \t,;:/()+]+")


class GaugeCheck(msgspec.Struct, frozen=True, gc=False):
    """What somebody said of a gauge, as far as it counts; a doubt or a bad finding that was taken back is kept."""

    id: str
    at: int
    result: Literal["fit", "wrong", "doubtful"]
    taken_back: bool


class Due(msgspec.Struct, frozen=True, gc=False):
    """From a moment on the gauge may be used up to this day, '' is for ever: by a definition or a good check."""

    id: str
    at: int
    day: str


class Gauge(msgspec.Struct, frozen=True):
    """A gauge by the records that speak of it, each list in the order of time.

    number  on its label, as it was defined, or as whoever named it first wrote it
    known   the works has defined it
    kinds   what it is, in the words of the check plan
    """

    number: str
    known: bool
    kinds: tuple[str, ...]
    checks: tuple[GaugeCheck, ...]
    dues: tuple[Due, ...]

    def wrong_at(self, moment: Moment) -> list[tuple[str, bool]]:
        """Return the checks that found it wrong and reach a moment, and whether each was taken back.

        One reaches back to the last good check before it, and on to the first good one behind it.
        """
        good = [_when(one) for one in self.checks if one.result == "fit"]
        found = []
        for one in self.checks:
            first, last = sorted((_when(one), moment))
            if one.result == "wrong" and not any(first < between <= last for between in good):
                found.append((one.id, one.taken_back))
        return found

    def standing_at(self, moment: Moment, day: str, measured: str = "") -> Standing:
        """Say what a value is worth that was taken at a moment, on a day of the works' calendar.

        measured  what the plan measures the characteristic with; '' where it does not say
        """
        if not all(taken_back for _, taken_back in self.wrong_at(moment)):
            return "found_wrong"
        # A doubt is answered by the next good check: what was measured meanwhile was right.
        last_good = max((_when(one) for one in self.checks if one.result == "fit"), default=None)
        doubts = [_when(one) for one in self.checks if one.result == "doubtful" and not one.taken_back]
        if any(doubt <= moment and (last_good is None or last_good < doubt) for doubt in doubts):
            return "doubtful"
        if not self.known:
            return "not_known"
        if measured and not any(names_kind(measured, kind) for kind in self.kinds):
            return "wrong_kind"
        due = self.due_at(moment)
        return "overdue" if due and day > due else "in_order"

    def due_at(self, moment: Moment) -> str:
        """Return the last day it may be used, as it stood at a moment; '' for a gauge that is never due."""
        said = [one.day for one in self.dues if (one.at, order_of(one.id)) <= moment]
        # A value from before the gauge was written down is held to what was written down first.
        return said[-1] if said else next((one.day for one in self.dues), "")


class Gauges:
    """All gauges that are spoken of, as the folds of a batch and the reports ask for them."""

    def __init__(
        self, records: Iterable[Record], proven: Mapping[str, str], vouching: Container[str] = frozenset()
    ) -> None:
        """Take the definitions of gauges and what was said of them, in any order.

        proven    persons by the sign-ons that were proven to be theirs
        vouching  sign-ons whose word that a gauge is fit counts; what speaks against one counts from anybody
        """
        of: dict[str, list[Record]] = {}
        taken_back: list[Record] = []
        for record in records:
            number = number_said(record)
            if number is not None:
                of.setdefault(bare_name(number), []).append(record)
            else:
                taken_back.append(record)
        self._gauges = {
            name: _fold(Gathered([*found, *taken_back], proven), vouching) for name, found in of.items()
        }

    def of(self, number: str) -> Gauge:
        """Return the gauge of a number; one that nobody speaks of is not known."""
        found = self._gauges.get(bare_name(number))
        return Gauge(number, known=False, kinds=(), checks=(), dues=()) if found is None else found

    def all(self) -> list[Gauge]:
        """Return every gauge that is spoken of, by its number."""
        return [self._gauges[name] for name in sorted(self._gauges)]

    def wrong_in(self, batch: Gathered) -> dict[str, bool]:
        """Return the checks that found a gauge wrong and reach a value of a batch, by id.

        True where nothing of it is left: the check, or every value it reaches, was taken back.
        """
        found: dict[str, bool] = {}
        for record in batch.known.values():
            body = record.body
            if not isinstance(body, CheckTakenV1) or body.gauge is UNSET:
                continue
            is_dead = record.id in batch.dead
            for name, taken_back in self.of(body.gauge).wrong_at(moment_of(record)):
                found[name] = found.get(name, True) and (taken_back or is_dead)
        return found


NO_GAUGES = Gauges((), {})


def number_said(record: Record) -> str | None:
    """Return the number of the gauge a record defines or speaks of; None for any other."""
    body = record.body
    if isinstance(body, GaugeCheckedV1):
        return body.gauge
    if isinstance(body, DefinitionPublishedV1) and isinstance(body.content, GaugeDefinition):
        return body.content.number
    return None


def moment_of(record: Record) -> Moment:
    """Return when something was taken or said."""
    return found_at(record)[0], order_of(record.id)


def day_of(at: int, zone: str) -> str:
    """Return the day of the works' calendar at a server time [ms]."""
    at = min(max(at, 0), _LAST_MOMENT_MS)
    return datetime.fromtimestamp(at / 1000, UTC).astimezone(ZoneInfo(zone)).date().isoformat()


def _when(one: GaugeCheck) -> Moment:
    return one.at, order_of(one.id)


def _fold(gathered: Gathered, vouching: Container[str]) -> Gauge:
    in_order = sorted(gathered.known.values(), key=moment_of)
    checks, dues = [], []
    definition: GaugeDefinition | None = None
    for record in in_order:
        body = record.body
        at = found_at(record)[0]
        if isinstance(body, GaugeCheckedV1):
            taken_back = record.id in gathered.dead
            if body.result == "fit" and (taken_back or (author_of(record) or "") not in vouching):
                continue
            checks.append(GaugeCheck(record.id, at, body.result, taken_back))
            if body.result == "fit" and body.next_due is not UNSET:
                dues.append(Due(record.id, at, body.next_due))
        elif isinstance(body, DefinitionPublishedV1) and isinstance(body.content, GaugeDefinition):
            # One that only moves the gauge to another place says nothing new of when it is due.
            before = None if definition is None else definition.due
            definition = body.content
            if before is None or before != definition.due:
                dues.append(Due(record.id, at, "" if definition.due is UNSET else definition.due))
    named = [number for record in in_order if (number := number_said(record)) is not None]
    return Gauge(
        number=named[0] if definition is None else definition.number,
        known=definition is not None,
        kinds=() if definition is None else tuple(definition.kinds),
        checks=tuple(checks),
        dues=tuple(dues),
    )


def names_kind(measured: str, kind: str) -> bool:
    """True where the plan's words name a kind: its words stand among them, one behind the other."""
    plan, wanted = _words(measured), _words(kind)
    return any(plan[start : start + len(wanted)] == wanted for start in range(len(plan)))


def _words(text: str) -> list[str]:
    return [bare_name(word) for word in _WORDS.findall(text)]
