# SPDX-License-Identifier: Apache-2.0
"""A minute of the simulation, every world that once was wrong, and that a fault would be seen."""

from __future__ import annotations

from typing import Any

import pytest

from tests.simulation.driver import run_plan, simulate

SECONDS = 50
# Worlds in which something was wrong once, as small as they could be made.
ONCE_WRONG: list[dict[str, Any]] = []


@pytest.mark.node
def test_nothing_is_lost_and_nothing_doubled_whatever_strikes() -> None:
    told = simulate(seed=1, pushes=5_000, seconds=SECONDS)
    assert "failed" not in told, told["failed"]
    assert told["worlds"] > 0
    assert told["stored"] > 0


@pytest.mark.node
@pytest.mark.parametrize("plan", ONCE_WRONG)
def test_a_world_that_was_wrong_once_is_right(plan: dict[str, Any]) -> None:
    assert run_plan(plan)["wrong"] == []
