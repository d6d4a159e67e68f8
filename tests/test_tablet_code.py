# SPDX-License-Identifier: Apache-2.0
"""The tests of the tablet's code (tests/static, run by vitest) are part of the one test command."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from tests import node

pytestmark = pytest.mark.node


def test_every_test_of_the_tablets_code_passes(tmp_path: Path) -> None:
    node.install()
    report = tmp_path / "report.json"
    words = ["node_modules/vitest/vitest.mjs", "run", "--reporter=default", "--reporter=json"]
    words += [f"--outputFile.json={report}"]
    node.run(words, folder=node.STATIC)
    found = json.loads(report.read_text())
    assert found["success"]
    assert found["numPassedTests"] > 100
    assert found["numPendingTests"] == found["numTodoTests"] == 0
