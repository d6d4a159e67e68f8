# SPDX-License-Identifier: Apache-2.0
"""What an admission is unfolded to: held to the vectors both languages read."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import msgspec
import pytest
from msgspec import UNSET

from tallywright.folds.gathered import Gathered
from tallywright.folds.tally import fold_tally
from tallywright.records.admitted import unfold
from tallywright.records.decode import Record, decode
from tallywright.records.definition import PartDefinition

VECTORS = sorted((Path(__file__).parents[2] / "vectors" / "admitted").glob("*.json"))


def read(path: Path) -> tuple[dict[str, Any], list[Record]]:
    case = json.loads(path.read_text(encoding="utf-8"))
    return case, [unfold(decode(line.encode())) for line in case["records"]]


def plain(record: Record) -> dict[str, Any]:
    envelope = record.envelope
    members = {"sign_on": envelope.sign_on, "batch": envelope.batch}
    return {
        "id": record.id,
        "chain": envelope.chain,
        "n": envelope.n,
        "kind": envelope.kind,
        "body": json.loads(msgspec.json.encode(record.body)),
        **{name: value for name, value in members.items() if value is not UNSET},
    }


def test_there_are_vectors() -> None:
    assert len(VECTORS) > 1


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_an_admission_is_unfolded_as_its_vector_says(path: Path) -> None:
    case, records = read(path)
    assert [plain(record) for record in records] == case["unfolded"]


@pytest.mark.parametrize("path", VECTORS, ids=lambda path: path.stem)
def test_an_admitted_record_counts_as_its_vector_says(path: Path) -> None:
    case, records = read(path)
    definitions = {name: msgspec.convert(content, PartDefinition) for name, content in case["definitions"].items()}
    for order in (records, records[::-1]):
        tally = fold_tally(Gathered(order, case["proven"]), definitions)
        marks = [[m.id, m.tray, m.piece, m.weight, m.sign_on, m.author] for m in tally.marks]
        assert marks == case["marks"]
        assert [[tray.id, list(tray.closings)] for tray in tally.trays] == case["trays"]
        assert list(tally.useless_withdrawals) == case["useless_withdrawals"]
