# SPDX-License-Identifier: Apache-2.0
"""Start the driver of the simulation, which is a Node process because the tablets' code is its own."""

from __future__ import annotations

import json
import subprocess
import sys
import tempfile
from collections.abc import Sequence
from pathlib import Path
from typing import Any

from tests import node

MEMORY = Path("/dev/shm")  # noqa: S108 - a disk in memory, where there is one


def simulate(
    seed: int,
    pushes: int,
    seconds: int,
    tree: Path = node.REPOSITORY,
    as_it_is: bool = False,
    faults: Sequence[str] | None = None,
    busy: int = 1,
) -> dict[str, Any]:
    """Run world after world; what is told has `failed` where something was wrong, with the smallest plan of it.

    tree      the checkout whose code is run
    as_it_is  True to tell of the first failing world as it is
    faults    those a world may have, by name; None for all
    busy      so many times as much is done between two turns of a tablet
    """
    wanted = {"seed": seed, "pushes": pushes, "seconds": seconds, "asItIs": as_it_is, "busy": busy}
    return _run(wanted if faults is None else {**wanted, "faults": list(faults)}, tree)


def run_plan(plan: dict[str, Any], tree: Path = node.REPOSITORY) -> dict[str, Any]:
    """Run one world; what is told has the reasons in `wrong`."""
    return _run({"plan": plan}, tree)


def _run(wanted: dict[str, Any], tree: Path) -> dict[str, Any]:
    environment = node.environment()
    environment["PYTHONPATH"] = f"{tree / 'server'}:{tree}"
    with tempfile.TemporaryDirectory(dir=MEMORY if MEMORY.is_dir() else None) as folder:
        words = json.dumps({"python": sys.executable, "folder": folder, **wanted})
        done = subprocess.run(
            ["node", "tests/static/simulation/run.mjs", words],
            stdout=subprocess.PIPE, cwd=tree, env=environment, check=True,
        )  # fmt: skip
    told: dict[str, Any] = json.loads(done.stdout)
    return told
