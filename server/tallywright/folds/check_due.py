# SPDX-License-Identifier: Apache-2.0
"""Which checks are due next: by pieces made, by what happened, by the clock.

static/src/folds/check_due.ts is the same function. Every line is worked out from all that happened at its
operation, in the order of time; nothing is due that nobody wrote into the plan.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping

import msgspec
from msgspec import UNSET, UnsetType

from tallywright.folds.check_outcome import Known
from tallywright.folds.gathered import Gathered, found_at, order_of
from tallywright.records.checks import (
    CheckMissedV1,
    CheckTakenV1,
    OperationChangedV1,
    ReactionTakenV1,
    Role,
)
from tallywright.records.definition import Characteristic, CheckRule
from tallywright.records.envelope import Body
from tallywright.records.route import OperationFinishedV1, OperationStartedV1

# What opens a first-off as the start does: the next piece may be another than the one before.
OPENS_FIRST_OFF = ("cavity", "die", "reheat", "shift", "stop", "tool")
# What forms the piece: with another one, the last piece of the one before is looked at as the last of all is.
OPENS_LAST_OFF = ("cavity", "die", "tool")
# The plan by which whoever stopped takes a first-off anew once it is put right.
STOPPING_PLAN = "R1"
MINUTE_MS = 60 * 1000


class Moment(msgspec.Struct, frozen=True, gc=False):
    """Something that happened, in server time [ms]."""

    at: int
    id: str
    body: Body


class Due(msgspec.Struct, frozen=True, gc=False):
    """A check that is due, or when it will be.

    left     pieces still to be checked
    at_made  it is due once so many pieces are made; 0 where it does not wait for pieces
    at_time  it is due from this server time on; 0 where it does not wait for the clock   [ms]
    """

    operation: int
    characteristic: int
    role: Role
    left: int
    at_made: int
    at_time: int


class Waiting(msgspec.Struct, frozen=True, gc=False):
    """What a check in process waits for: pieces left to check, and from where the next ones are counted.

    base   pieces made at the last one
    since  when that was, or the operation began; server time, 0 before                   [ms]
    """

    left: int
    base: int
    since: int
    is_running: bool


class Opened(msgspec.Struct, frozen=True, gc=False):
    """A first-off or a last-off at a moment: what is left to check behind it, and whether it opened anew there."""

    moment: Moment
    left: int
    is_opened: bool


def moments_of(gathered: Gathered) -> list[Moment]:
    """Return what stands and happened at an operation, in the order of time."""
    return sorted(
        (
            Moment(found_at(record)[0], record.id, record.body)
            for record in gathered.standing
            if record.body and getattr(record.body, "operation", UNSET) is not UNSET
        ),
        key=lambda moment: (moment.at, order_of(moment.id)),
    )


def by_operation(moments: list[Moment]) -> dict[int, list[Moment]]:
    """Return what happened at each operation."""
    at: dict[int, list[Moment]] = {}
    for moment in moments:
        at.setdefault(getattr(moment.body, "operation", 0), []).append(moment)
    return at


def checked_in(moments: list[Moment]) -> dict[str, int]:
    """Return the characteristic of each check, by its id."""
    return {m.id: m.body.characteristic for m in moments if isinstance(m.body, CheckTakenV1)}


def stopping(here: list[Moment], characteristic: Characteristic, checked: Mapping[str, int]) -> set[str]:
    """Return the reactions behind which the first-off of a characteristic is taken anew."""
    if characteristic.reaction != STOPPING_PLAN:
        return set()
    number = characteristic.characteristic
    return {m.id for m in here if isinstance(m.body, ReactionTakenV1) and checked.get(m.body.check) == number}


def is_due(due: Due, made: int | str, now: int) -> bool:
    """True where a check is due at a moment; nothing waits for pieces that nobody counted."""
    waits = due.at_made > 0 and (not isinstance(made, int) or made < due.at_made)
    return not waits and due.at_time <= now


def due_checks(moments: list[Moment], plan: Known) -> tuple[Due, ...]:
    """Return what is due or will be, in the order of the plan; `moments` in the order of time."""
    at, checked = by_operation(moments), checked_in(moments)
    found = []
    for (operation, number), characteristic in plan.items():
        here = at.get(operation, [])
        corrected = stopping(here, characteristic, checked)
        ends: list[tuple[Role, CheckRule | UnsetType]] = [
            ("first_off", characteristic.first_off),
            ("last_off", characteristic.last_off),
        ]
        for role, rule in ends:
            behind = list(ends_at(here, number, role, rule, corrected))
            if behind and behind[-1].left:
                found.append(Due(operation, number, role, behind[-1].left, 0, 0))
        between = _in_process(here, number, characteristic.in_process)
        if between is not None:
            found.append(Due(operation, number, "in_process", *between))
    return tuple(found)


def ends_at(
    here: list[Moment], number: int, role: Role, rule: CheckRule | UnsetType, corrected: set[str]
) -> Iterator[Opened]:
    """Go through the moments of an operation: what a first-off or a last-off still has to see behind each."""
    if rule is UNSET or rule.at == "logger":
        return
    wanted, events = _wanted(rule), () if rule.events is UNSET else tuple(rule.events)
    # What is seen on every piece, or counted at the end, is no matter of one die.
    is_sample = role == "last_off" and rule.at == "events" and not events
    left, has_begun, has_ended = 0, False, False
    for moment in here:
        body, opens = moment.body, False
        if isinstance(body, OperationStartedV1) and body.look is UNSET:
            # What is checked once a cast or a load is not begun again by another crew.
            opens = role == "first_off" and not (events and has_begun)
            has_begun, has_ended = True, False
        elif isinstance(body, OperationChangedV1):
            is_end = role == "last_off" and body.what == "last_piece"
            opens_anew = role == "first_off" and not events and body.what in OPENS_FIRST_OFF
            # Where somebody told the last piece of the old one already, its last-offs are open or done.
            is_old = is_sample and body.what in OPENS_LAST_OFF and has_begun
            opens = is_end or opens_anew or body.what in events or (is_old and not has_ended)
            has_ended = is_end or (has_ended and not is_old)
        elif isinstance(body, OperationFinishedV1) and body.look is UNSET and role == "last_off":
            opens, has_ended = not has_ended, True
        elif moment.id in corrected and role == "first_off":
            opens = True
        left = wanted if opens else left - min(left, _answers(body, number, role))
        yield Opened(moment, left, opens)


def _answers(body: Body, number: int, role: Role) -> int:
    """How many pieces of what a role asks for a record answers."""
    if not isinstance(body, CheckTakenV1 | CheckMissedV1) or (body.characteristic, body.role) != (number, role):
        return 0
    return _pieces(body)


_ALL = 2**53 - 1


def _wanted(rule: CheckRule) -> int:
    """Checks that a rule asks for each time; what is looked at on every piece is answered once."""
    if rule.at == "each_piece":
        return 1
    return (1 if rule.pieces is UNSET else rule.pieces) * (1 if rule.places is UNSET else rule.places)


def _in_process(here: list[Moment], number: int, rule: CheckRule | UnsetType) -> tuple[int, int, int] | None:
    """What is left, at how many pieces, from when on; None where nothing is due or will be while it runs."""
    if rule is UNSET:
        return None
    waits = list(waits_at(here, number, rule))
    if not waits or not waits[-1].is_running or waits[-1].left == 0:
        return None
    last, every = waits[-1], 0 if rule.every is UNSET else rule.every
    at_made = last.base + every if rule.at == "pieces" else 0
    return last.left, at_made, last.since + every * MINUTE_MS if rule.at == "minutes" else 0


def waits_at(here: list[Moment], number: int, rule: CheckRule) -> Iterator[Waiting]:
    """Go through the moments of an operation: what a check in process waits for behind each."""
    if rule.at in ("each_piece", "logger"):
        return
    wanted = _wanted(rule)
    events = () if rule.events is UNSET else tuple(rule.events)
    running: set[str] = set()
    ended: set[str] = set()
    left, base, since = 0 if rule.at == "events" else wanted, 0, 0
    for moment in here:
        body = moment.body
        if isinstance(body, OperationStartedV1) and body.look is UNSET:
            running.add(moment.id)
            since = since or moment.at
        elif isinstance(body, OperationFinishedV1):
            ended.add(body.started)
        elif isinstance(body, OperationChangedV1) and rule.at == "events":
            left = wanted if body.what in events else left
        elif _is_of(body, number, rule.at):
            left -= min(left, _pieces(body))
            if left == 0 and rule.at != "events":
                # The next one counts from this one: never more pieces, or minutes, lie between two.
                left, since = wanted, moment.at
                base = _made(body, base)
        yield Waiting(left, base, since, not running <= ended)


def _is_of(body: Body, number: int, at: str) -> bool:
    """True for a check of a characteristic, or word that one was missed. A first-off moves the clock on too."""
    if isinstance(body, CheckMissedV1):
        return (body.characteristic, body.role) == (number, "in_process")
    if not isinstance(body, CheckTakenV1) or body.repeats is not UNSET or body.characteristic != number:
        return False
    return body.role == "in_process" or at != "events"


def _pieces(body: Body) -> int:
    """Pieces a record answers for: one that repeats another is no new piece, one missed is all of them."""
    if not isinstance(body, CheckTakenV1):
        return _ALL
    return 0 if body.repeats is not UNSET else 1 if body.pieces is UNSET else body.pieces


def _made(body: Body, base: int) -> int:
    """Pieces made at a check; where nobody knew, it clears nothing: the clock stays where it was."""
    made = body.made if isinstance(body, CheckTakenV1 | CheckMissedV1) else UNSET
    return base if made is UNSET else max(base, made)
