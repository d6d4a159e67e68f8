# SPDX-License-Identifier: Apache-2.0
"""What one check says of its characteristic. static/src/folds/check_outcome.ts is the same function."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

from msgspec import UNSET

from tallywright.records.checks import CheckTakenV1
from tallywright.records.decimal import billionths
from tallywright.records.definition import Characteristic, PartDefinition

# no_limit: there is nothing to hold the value to. unjudged: nobody can say, the definition is missing.
Outcome = Literal["good", "out", "no_limit", "unjudged"]
# Plans that hold the batch until a lead has decided.
HOLDING_PLANS = ("R3", "R4")

Known = Mapping[tuple[int, int], Characteristic]


def characteristics_of(part: PartDefinition | None) -> Known:
    """Return a part's characteristics by operation and number; of one that is named twice the later holds."""
    listed = [] if part is None or part.characteristics is UNSET else part.characteristics
    return {(one.operation, one.characteristic): one for one in listed}


def outcome_of(check: CheckTakenV1, characteristic: Characteristic | None) -> Outcome:
    """Say whether a check is within its limits: on the line is inside."""
    if check.result is not UNSET:
        return "good" if check.result in ("go", "yes") else "out"
    if characteristic is None or check.value is UNSET:
        return "unjudged"
    lower, upper = characteristic.lower, characteristic.upper
    if lower is UNSET and upper is UNSET:
        return "no_limit"
    value = billionths(check.value)
    is_low = lower is not UNSET and value < billionths(lower)
    is_high = upper is not UNSET and value > billionths(upper)
    return "out" if is_low or is_high else "good"


def holds(check: CheckTakenV1, characteristic: Characteristic | None) -> bool:
    """True for a check out of its limits whose plan says that nothing goes on before a lead has decided."""
    if characteristic is None or characteristic.reaction not in HOLDING_PLANS:
        return False
    return outcome_of(check, characteristic) == "out"
