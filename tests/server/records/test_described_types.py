# SPDX-License-Identifier: Apache-2.0
"""The tablet's record types are the server's: the committed file is what the description gives today."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from tallywright.records.describe import describe
from tests import node

pytestmark = pytest.mark.node


def test_the_committed_types_are_generated_from_these_kinds(tmp_path: Path) -> None:
    node.install()
    document = tmp_path / "records.json"
    document.write_bytes(msgspec.json.format(msgspec.json.encode(describe(), order="sorted"), indent=1))
    words = [
        "node_modules/openapi-typescript/bin/cli.js",
        str(document),
        "--output",
        str(tmp_path / "described.ts"),
    ]
    node.run(words, folder=node.STATIC)
    generated = (tmp_path / "described.ts").read_text()
    assert (node.STATIC / "src" / "records" / "described.ts").read_text() == generated
