# SPDX-License-Identifier: Apache-2.0
"""The checks of one batch: what was taken, what is due next, and how many pieces were made since the last good one.

static/src/folds/checks.ts is the same function; tests/vectors/checks holds both to the same answers. No clock is
read here: what is due by minutes, and whether the count of pieces is too old to go by, is asked of a moment.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec
from msgspec import UNSET

from tallywright.folds.check_due import Due, Moment, due_checks, moments_of
from tallywright.folds.check_outcome import Known, Outcome, characteristics_of, outcome_of
from tallywright.folds.gathered import Gathered
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.checks import CheckMissedV1, CheckTakenV1, PiecesMadeV1, ReactionTakenV1, Role
from tallywright.records.definition import PartDefinition
from tallywright.records.route import OperationFinishedV1, OperationStartedV1

# After so long without a number nobody knows how many were made, and the tool asks.
LONGEST_WITHOUT_NUMBER_MS = 30 * 60 * 1000
Made = int | Literal["unknown"]


class Check(msgspec.Struct, frozen=True, gc=False):
    """One check that stands; an option not given is ''.

    said          the value as the gauge showed it, or the answer
    root          the check it stands beside at last; its own id where it repeats none
    mistyped      a later check says that this one was a typing error
    taken_at      server time                                                    [ms]
    """

    id: str
    operation: int
    characteristic: int
    role: Role
    said: str
    outcome: Outcome
    root: str
    mistyped: bool
    made: Made
    gauge: str
    taken_at: int


class Exposure(msgspec.Struct, frozen=True, gc=False):
    """A characteristic: its last good check, and the pieces made since.

    last_good  the first check of a set of repeats that are all good; '' where none was
    pieces     since then, or since the start; 'unknown' where nobody said how many were made
    """

    operation: int
    characteristic: int
    last_good: str
    pieces: Made


class OperationPieces(msgspec.Struct, frozen=True, gc=False):
    """How many pieces an operation has made, as far as somebody said so.

    told_at  when that was said last, or when the stint began; server time       [ms]
    """

    operation: int
    made: Made
    told_at: int
    is_running: bool


class Missed(msgspec.Struct, frozen=True, gc=False):
    """A check that was due and not taken, as somebody said."""

    id: str
    operation: int
    characteristic: int
    role: Role
    why: str


class Checks(msgspec.Struct, frozen=True):
    """Operations by number; checks and what was missed in the order they were made.

    unanswered  checks out of their limits of which nobody has said what was done, by their first
    """

    operations: tuple[OperationPieces, ...]
    checks: tuple[Check, ...]
    due: tuple[Due, ...]
    exposures: tuple[Exposure, ...]
    missed: tuple[Missed, ...]
    unanswered: tuple[str, ...]


def fold_checks(gathered: Gathered, definitions: Mapping[str, PartDefinition]) -> Checks:
    """Fold all records of one batch.

    definitions  part definitions by the id of their publication: a check is judged by the one it names, and what
                 is due is said by the one the batch keeps
    """
    moments = moments_of(gathered)
    known = {name: characteristics_of(part) for name, part in definitions.items()}
    checks = _checks(gathered, moments, known)
    operations = operation_pieces(moments)
    opened = next((str(record.envelope.definition) for record, _ in gathered.of(BatchOpenedV1)), "")
    plan = known.get(opened, {})
    sets = _sets(checks)
    answered = {body.check for _, body in gathered.of(ReactionTakenV1)}
    return Checks(
        operations=operations,
        checks=checks,
        due=due_checks(moments, plan),
        exposures=_exposures(plan, operations, sets),
        missed=tuple(
            Missed(moment.id, body.operation, body.characteristic, body.role, body.why)
            for moment in moments
            if isinstance(body := moment.body, CheckMissedV1)
        ),
        unanswered=tuple(
            one[0].id for one in sets if _of_set(one) == "out" and answered.isdisjoint(check.id for check in one)
        ),
    )


def exposure_at(exposure: Exposure, operation: OperationPieces, now: int) -> Made:
    """Return the pieces since the last good check as they can be known at a moment of server time [ms]."""
    if operation.is_running and now - operation.told_at > LONGEST_WITHOUT_NUMBER_MS:
        return "unknown"
    return exposure.pieces


def _checks(gathered: Gathered, moments: list[Moment], known: Mapping[str, Known]) -> tuple[Check, ...]:
    bodies = {moment.id: moment.body for moment in moments if isinstance(moment.body, CheckTakenV1)}
    mistyped = {str(body.repeats) for body in bodies.values() if body.typing_error is True}
    found = []
    for moment in moments:
        body = bodies.get(moment.id)
        if body is None:
            continue
        judged_by = known.get(str(gathered.known[moment.id].envelope.definition), {})
        found.append(
            Check(
                id=moment.id,
                operation=body.operation,
                characteristic=body.characteristic,
                role=body.role,
                said=str(body.value if body.value is not UNSET else "" if body.result is UNSET else body.result),
                outcome=outcome_of(body, judged_by.get((body.operation, body.characteristic))),
                root=_root(moment.id, bodies),
                mistyped=moment.id in mistyped,
                made="unknown" if body.made is UNSET else body.made,
                gauge="" if body.gauge is UNSET else body.gauge,
                taken_at=moment.at,
            )
        )
    return tuple(found)


def _root(check: str, bodies: Mapping[str, CheckTakenV1]) -> str:
    """The check at the end of the repeats; ids are anybody's to write, so a ring ends where it began."""
    passed = [check]
    while (before := str(bodies[passed[-1]].repeats)) in bodies and before not in passed:
        passed.append(before)
    return passed[-1]


def _sets(checks: tuple[Check, ...]) -> list[list[Check]]:
    """Checks with those that stand beside them, the first one first."""
    found: dict[str, list[Check]] = {}
    for check in checks:
        found.setdefault(check.root, []).append(check)
    for root, one in found.items():
        one.sort(key=lambda check: check.id != root)
    return list(found.values())


def _of_set(checks: list[Check]) -> Outcome:
    """A good repeat makes no bad check good; one that was mistyped says nothing."""
    said = [check.outcome for check in checks if not check.mistyped]
    worst_first: tuple[Outcome, ...] = ("out", "unjudged", "good", "no_limit")
    return next((outcome for outcome in worst_first if outcome in said), "unjudged")


def operation_pieces(moments: list[Moment]) -> tuple[OperationPieces, ...]:
    """Pieces by operation: the most of what was told one by one, counted at the end, or said with a check."""
    told: dict[int, int] = {}
    finished: dict[int, dict[str, int]] = {}
    said: dict[int, int] = {}
    at: dict[int, int] = {}
    running: dict[int, set[str]] = {}
    for moment in moments:
        body = moment.body
        if isinstance(body, OperationStartedV1) and body.look is UNSET:
            running.setdefault(body.operation, set()).add(moment.id)
            at[body.operation] = moment.at
        elif isinstance(body, PiecesMadeV1):
            told[body.operation] = told.get(body.operation, 0) + body.pieces
            at[body.operation] = moment.at
        elif isinstance(body, CheckTakenV1) and body.made is not UNSET:
            said[body.operation] = max(body.made, said.get(body.operation, 0))
        elif isinstance(body, OperationFinishedV1) and body.look is UNSET:
            counted = body.pieces_out + body.scrap + body.set_up + body.samples
            finished.setdefault(body.operation, {}).setdefault(body.started, counted)
            at[body.operation] = moment.at
    lines = []
    for operation in sorted({*at, *said}):
        ended = finished.get(operation, {})
        numbers = [book[operation] for book in (told, said) if operation in book]
        numbers += [sum(ended.values())] if ended else []
        is_running = not running.get(operation, set()) <= ended.keys()
        lines.append(
            OperationPieces(operation, max(numbers) if numbers else "unknown", at.get(operation, 0), is_running)
        )
    return tuple(lines)


def _exposures(
    plan: Known, operations: tuple[OperationPieces, ...], sets: list[list[Check]]
) -> tuple[Exposure, ...]:
    made = {one.operation: one.made for one in operations}
    good: dict[tuple[int, int], Check] = {}
    for one in sets:
        if _of_set(one) in ("good", "no_limit"):
            good[one[0].operation, one[0].characteristic] = one[0]
    lines = []
    for operation, characteristic in plan:
        if operation not in made:
            continue
        last = good.get((operation, characteristic))
        total: Made = made[operation]
        before: Made = 0 if last is None else last.made
        pieces: Made = "unknown" if total == "unknown" or before == "unknown" else total - before
        lines.append(Exposure(operation, characteristic, "" if last is None else last.id, pieces))
    return tuple(lines)
