# SPDX-License-Identifier: Apache-2.0
"""Reads the tables of published values: CSV files whose first lines name their source."""

from __future__ import annotations

import csv
from collections.abc import Callable
from pathlib import Path

import pytest

Table = Callable[[str], list[dict[str, str]]]


@pytest.fixture(scope="session")
def table() -> Table:
    """The rows of one file in tests/published/tables, by column name; lines with a # are its source."""

    def read(name: str) -> list[dict[str, str]]:
        text = (Path(__file__).parent / "tables" / name).read_text(encoding="utf-8")
        lines = [line for line in text.splitlines() if not line.startswith("#")]
        assert "# source:" in text, f"{name} does not name its source"
        return list(csv.DictReader(lines))

    return read
