# SPDX-License-Identifier: Apache-2.0
"""Checks of one batch that the plan asked for and that are not there, or came behind their time.

Only the lead asks for them, and with contact, so the tablet has no such fold. An operation at which nobody recorded
any check is one gap: where checks are not kept in the tool yet, a list of each of them would say nothing more.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import pairwise
from typing import Literal

import msgspec
from msgspec import UNSET

from tallywright.folds.check_due import (
    MINUTE_MS,
    Moment,
    Opened,
    Waiting,
    by_operation,
    checked_in,
    ends_at,
    moments_of,
    stopping,
    waits_at,
)
from tallywright.folds.check_outcome import Known, characteristics_of
from tallywright.folds.checks import Made, operation_pieces
from tallywright.folds.gathered import Gathered
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.checks import CheckMissedV1, CheckTakenV1, OperationChangedV1, Role
from tallywright.records.definition import Characteristic, CheckRule, PartDefinition
from tallywright.records.route import OperationFinishedV1, OperationStartedV1


class CheckGap(msgspec.Struct, frozen=True, gc=False):
    """A check that is not as the plan asks.

    kind            missed: somebody said so, and why; left_out: its time went by and nothing says anything;
                    delayed: taken behind its time; none: nobody recorded any check at the operation
    characteristic  0 where it is of kind none
    record          what says it was missed, went by or came late
    checks          how many checks; of a first-off or last-off that is left out, pieces not checked
    pieces          of one that is delayed, pieces made since it was due
    ms              of one that is delayed, server time since it was due                  [ms]
    at              server time of the record                                             [ms]
    """

    operation: int
    characteristic: int
    role: Role
    kind: Literal["missed", "left_out", "delayed", "none"]
    record: str
    checks: int
    pieces: int
    ms: int
    why: str
    at: int


def fold_check_gaps(gathered: Gathered, definitions: Mapping[str, PartDefinition]) -> tuple[CheckGap, ...]:
    """Fold all records of one batch, by the plan the batch keeps; in the order of the plan, then of time.

    definitions  part definitions by the id of their publication
    """
    moments = moments_of(gathered)
    opened = next((str(record.envelope.definition) for record, _ in gathered.of(BatchOpenedV1)), "")
    plan = characteristics_of(definitions.get(opened))
    checked = checked_in(moments)
    found: list[CheckGap] = []
    for operation, here in sorted(by_operation(moments).items()):
        found += _missed(here)
        if not any(isinstance(moment.body, CheckTakenV1 | CheckMissedV1) for moment in here):
            found += _none(here, operation, plan)
            continue
        for (at, _), characteristic in plan.items():
            if at == operation:
                found += _ends(here, characteristic, checked)
                found += _between(here, characteristic)
    return tuple(found)


def _missed(here: list[Moment]) -> Iterator[CheckGap]:
    for moment in here:
        body = moment.body
        if isinstance(body, CheckMissedV1):
            yield CheckGap(
                body.operation, body.characteristic, body.role, "missed", moment.id, 1, 0, 0, body.why, moment.at
            )


def _none(here: list[Moment], operation: int, plan: Known) -> Iterator[CheckGap]:
    """Nothing at all was checked at an operation that has checks and is done with."""
    last = _last_finish(here)
    if last is not None and any(at == operation and _is_asked(one) for (at, _), one in plan.items()):
        yield CheckGap(operation, 0, "in_process", "none", last.id, 0, 0, 0, "", last.at)


def _is_asked(characteristic: Characteristic) -> bool:
    rules = (characteristic.first_off, characteristic.in_process, characteristic.last_off)
    return any(rule is not UNSET and rule.at != "logger" for rule in rules)


def _ends(here: list[Moment], characteristic: Characteristic, checked: Mapping[str, int]) -> Iterator[CheckGap]:
    """First-offs and last-offs that another one followed, or the end, while pieces of them were not checked."""
    number, corrected = characteristic.characteristic, stopping(here, characteristic, checked)
    first, last = characteristic.first_off, characteristic.last_off
    yield from _first_offs(here, characteristic, list(ends_at(here, number, "first_off", first, corrected)))
    before: Opened | None = None
    for step in ends_at(here, number, "last_off", last, corrected):
        if step.is_opened and before is not None and before.left:
            yield _left_out(characteristic, "last_off", step.moment, before.left)
        before = step
    end = _last_finish(here)
    if before is not None and before.left and end is not None:
        yield _left_out(characteristic, "last_off", end, before.left)


def _first_offs(here: list[Moment], characteristic: Characteristic, steps: list[Opened]) -> Iterator[CheckGap]:
    opened_at: Made = 0
    before, wanted = 0, 0
    for place, step in enumerate(steps):
        body = step.moment.body
        if step.is_opened:
            made = _made_by(here[: place + 1])
            # Another change before a piece was made asks for the same first-off once more.
            if before and _less(made, opened_at) > 0:
                yield _left_out(characteristic, "first_off", step.moment, before)
            opened_at, wanted = made, step.left
        elif before and not step.left and isinstance(body, CheckTakenV1) and body.made is not UNSET:
            behind = _less(body.made, opened_at) - wanted
            if behind > 0:
                yield _delayed(characteristic, "first_off", step.moment, behind, 0)
        before = step.left
    end = _last_finish(here)
    if before and end is not None:
        yield _left_out(characteristic, "first_off", end, before)


def _between(here: list[Moment], characteristic: Characteristic) -> Iterator[CheckGap]:
    """What a check in process waited for, and what it came to when something answered or ended it."""
    rule = characteristic.in_process
    if rule is UNSET:
        return
    begun = 0
    waits = [Waiting(0, 0, 0, is_running=False), *waits_at(here, characteristic.characteristic, rule)]
    for place, (before, behind) in enumerate(pairwise(waits)):
        moment = here[place]
        begun = moment.at if behind.is_running and not before.is_running else begun
        since = max(before.since, begun)
        if rule.at == "events":
            yield from _of_events(characteristic, rule, moment, before, behind)
        elif before.since and _completes(moment, characteristic, behind):
            yield from _answered(characteristic, rule, moment, before.base, moment.at - since)
        elif before.is_running and not behind.is_running:
            # What was due with the very last piece is the last-off's.
            over = _less(_made_by(here[: place + 1]), before.base) - 1
            times = _times(rule, over, moment.at - since)
            if times > 0:
                yield _left_out(characteristic, "in_process", moment, times)


def _completes(moment: Moment, characteristic: Characteristic, behind: Waiting) -> bool:
    """True for what answered the last piece of a check: the next one counts from it."""
    body = moment.body
    is_of = isinstance(body, CheckTakenV1 | CheckMissedV1) and body.characteristic == characteristic.characteristic
    return is_of and behind.since == moment.at


def _of_events(
    characteristic: Characteristic, rule: CheckRule, moment: Moment, before: Waiting, behind: Waiting
) -> Iterator[CheckGap]:
    body = moment.body
    events = () if rule.events is UNSET else tuple(rule.events)
    is_next = isinstance(body, OperationChangedV1) and body.what in events
    is_end = before.is_running and not behind.is_running
    if before.left and (is_next or is_end):
        yield _left_out(characteristic, "in_process", moment, before.left)


def _answered(
    characteristic: Characteristic, rule: CheckRule, moment: Moment, base: int, ms: int
) -> Iterator[CheckGap]:
    body, every = moment.body, 1 if rule.every is UNSET else rule.every
    made = body.made if isinstance(body, CheckTakenV1 | CheckMissedV1) else UNSET
    over: Made = "unknown" if made is UNSET else made - base
    times = _times(rule, over, ms)
    if times > 1:
        yield _left_out(characteristic, "in_process", moment, times - 1)
    if times == 0 or not isinstance(body, CheckTakenV1) or body.role != "in_process":
        return
    pieces = over - times * every if rule.at == "pieces" and over != "unknown" else 0
    late = ms - times * every * MINUTE_MS if rule.at == "minutes" else 0
    if pieces > 0 or late >= MINUTE_MS:
        yield _delayed(characteristic, "in_process", moment, pieces, late)


def _times(rule: CheckRule, over: Made, ms: int) -> int:
    """How often a check was due in so many pieces, or so long; nothing is due by pieces that nobody counted."""
    every = 1 if rule.every is UNSET else rule.every
    if rule.at == "minutes":
        return ms // (every * MINUTE_MS)
    return 0 if over == "unknown" else max(0, over) // every


def _made_by(here: list[Moment]) -> Made:
    """Pieces made at an operation, as far as somebody had said so by then."""
    [pieces] = operation_pieces(here) or [None]
    return 0 if pieces is None or pieces.made == "unknown" else pieces.made


def _less(made: Made, before: Made) -> int:
    return 0 if made == "unknown" or before == "unknown" else made - before


def _last_finish(here: list[Moment]) -> Moment | None:
    """The end of an operation at which nothing runs any more."""
    stints = {m.id for m in here if isinstance(m.body, OperationStartedV1) and m.body.look is UNSET}
    ends = [m for m in here if isinstance(m.body, OperationFinishedV1) and m.body.look is UNSET]
    ended = {m.body.started for m in ends if isinstance(m.body, OperationFinishedV1)}
    return ends[-1] if ends and stints <= ended else None


def _left_out(characteristic: Characteristic, role: Role, moment: Moment, checks: int) -> CheckGap:
    operation, number = characteristic.operation, characteristic.characteristic
    return CheckGap(operation, number, role, "left_out", moment.id, checks, 0, 0, "", moment.at)


def _delayed(characteristic: Characteristic, role: Role, moment: Moment, pieces: int, ms: int) -> CheckGap:
    operation, number = characteristic.operation, characteristic.characteristic
    return CheckGap(operation, number, role, "delayed", moment.id, 1, pieces, ms, "", moment.at)
