# SPDX-License-Identifier: Apache-2.0
"""What a push imports stays small: scipy.special alone, because scipy.stats costs 50 MB and a third of a second."""

from __future__ import annotations

import subprocess
import sys

import pytest

IMPORT_ALL = """
import importlib, pkgutil, sys
package = importlib.import_module({name!r})
for info in pkgutil.walk_packages(getattr(package, "__path__", []), package.__name__ + "."):
    importlib.import_module(info.name)
print(" ".join(name for name in sys.modules if name.split(".")[:2] == ["scipy", "stats"]))
"""


@pytest.mark.parametrize(
    "name",
    [
        "tallywright.computation.rate_limit",
        "tallywright.computation.pareto",
        "tallywright.computation.identity",
        "tallywright.sync",
    ],
)
def test_what_a_push_imports_leaves_scipy_stats_alone(name: str) -> None:
    done = subprocess.run(
        [sys.executable, "-c", IMPORT_ALL.format(name=name)], capture_output=True, text=True, check=True
    )
    assert done.stdout.strip() == ""
