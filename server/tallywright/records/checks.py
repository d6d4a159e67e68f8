# SPDX-License-Identifier: Apache-2.0
"""The bodies of what whoever runs an operation checks and tells: checks, pieces made, changes, reactions."""

from __future__ import annotations

from typing import Literal

from msgspec import UNSET, UnsetType

from tallywright.records.definition import Event
from tallywright.records.envelope import Body, Count, Day, Decimal, Label, Number, RecordId

Role = Literal["first_off", "in_process", "last_off"]


class CheckTakenV1(Body, frozen=True):
    """Somebody checked a characteristic: a value as the gauge showed it, or an answer where no number exists.

    pieces        how many pieces the answer holds for; 1 where it is left out
    made          pieces made until then; left out where nobody knew
    entered       how the value came in: typed whole, as steps from the nominal, or sent by the gauge
    repeats       the earlier check this one stands beside; neither is ever replaced
    typing_error  what `repeats` names was mistyped, says whoever made this one
    """

    operation: Number
    characteristic: Number
    role: Role
    value: Decimal | UnsetType = UNSET
    result: Literal["go", "not_go", "yes", "no"] | UnsetType = UNSET
    pieces: Number | UnsetType = UNSET
    made: Count | UnsetType = UNSET
    entered: Literal["typed", "steps", "gauge"] | UnsetType = UNSET
    gauge: Label | UnsetType = UNSET
    cavity: Label | UnsetType = UNSET
    repeats: RecordId | UnsetType = UNSET
    typing_error: Literal[True] | UnsetType = UNSET


class CheckMissedV1(Body, frozen=True):
    """A check that was due was not taken, and why: said honestly it is worth more than a value made up."""

    operation: Number
    characteristic: Number
    role: Role
    why: Label
    made: Count | UnsetType = UNSET


class ReactionTakenV1(Body, frozen=True):
    """What was done about a check out of its limits, and how many pieces went back to be sorted."""

    operation: Number
    check: RecordId
    done: Label
    pieces_back: Count


class PiecesMadeV1(Body, frozen=True):
    """So many more pieces were made at an operation since the last number told; 0 where it stood still."""

    operation: Number
    pieces: Count
    counted: Literal["key", "counter", "tray", "weighed"]


class OperationChangedV1(Body, frozen=True):
    """Something an operation runs with changed, or it stood still; `last_piece`: what was made is the last.

    was, now       as each of the two is marked
    not_separated  pieces of before and after lie together
    """

    operation: Number
    what: Event | Literal["last_piece"]
    was: Label | UnsetType = UNSET
    now: Label | UnsetType = UNSET
    not_separated: Literal[True] | UnsetType = UNSET


class GaugeCheckedV1(Body, frozen=True):
    """A gauge was checked, or somebody doubts it: dropped, knocked, odd. It is about the gauge, and of no batch.

    gauge        the number on its label, as it was scanned or typed
    result       fit: what it showed was right; wrong: it was not, so what it has shown since is in doubt
    against      what it was checked against
    certificate  the paper that says so, where there is one
    next_due     the last day it may be used before it is checked again, by the works' calendar
    """

    gauge: Label
    result: Literal["fit", "wrong", "doubtful"]
    against: Label | UnsetType = UNSET
    certificate: Label | UnsetType = UNSET
    next_due: Day | UnsetType = UNSET
    note: Label | UnsetType = UNSET
