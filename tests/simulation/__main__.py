# SPDX-License-Identifier: Apache-2.0
"""Simulate on the command line; the table of docs/proof.md comes from here.

python -m tests.simulation --pushes 1000000
python -m tests.simulation --plan '{"seed": 4, "tablets": 3, "steps": 60, "faults": ["profile_cloned"]}'
"""

from __future__ import annotations

import argparse
import json
import sys

from tests.simulation.driver import run_plan, simulate


def main() -> int:
    """Run worlds from a seed on, or one again; returns 1 where something was wrong."""
    words = argparse.ArgumentParser(prog="python -m tests.simulation")
    words.add_argument("--seed", type=int, default=1, help="the first world's")
    words.add_argument("--pushes", type=int, default=10**9, help="enough when so many reached the server")
    words.add_argument("--seconds", type=int, default=10**9, help="enough when so many passed")
    words.add_argument("--faults", nargs="+", help="the only ones a world may have")
    words.add_argument("--busy", type=int, default=1, help="so many times as much is done between two turns")
    words.add_argument("--plan", help="one world as a failure printed it")
    wanted = words.parse_args()
    if wanted.plan is not None:
        told = run_plan(json.loads(wanted.plan))
        wrong = told["wrong"]
    else:
        told = simulate(wanted.seed, wanted.pushes, wanted.seconds, faults=wanted.faults, busy=wanted.busy)
        wrong = told.get("failed")
    sys.stdout.write(json.dumps(told, indent=1, sort_keys=True) + "\n")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
