# SPDX-License-Identifier: Apache-2.0
"""What one language writes, the other reads to the same bytes and hash; what one refuses, so does the other."""

from __future__ import annotations

import random

import pytest

from tallywright.errors import RefusedRecord
from tallywright.records.decode import decode, sha256
from tests import node
from tests.server.records.random_records import Writer

COUNT = 10_000
SEEDS = [1, 20261125]
EXCHANGE = "tests/static/records/exchange.mjs"
VECTORS = node.REPOSITORY / "tests" / "vectors" / "records"

pytestmark = pytest.mark.node


@pytest.fixture(autouse=True, scope="module")
def node_modules() -> None:
    node.install()


def verdicts(lines: list[bytes]) -> list[str]:
    """What the tablet's code says of lines: a hash, or why they are refused."""
    answer = node.run([EXCHANGE, "check"], b"".join(line + b"\n" for line in lines))
    return answer.decode().splitlines()


@pytest.mark.parametrize("seed", SEEDS)
def test_hazard_e10_ten_thousand_records_written_here_are_read_by_the_tablet(seed: int) -> None:
    records = Writer(seed).write(COUNT)
    assert verdicts([record.line for record in records]) == [record.hash for record in records]


@pytest.mark.parametrize("seed", SEEDS)
def test_hazard_e10_ten_thousand_records_written_by_the_tablet_are_read_here(seed: int) -> None:
    lines = node.run([EXCHANGE, "write", str(seed), str(COUNT)]).split(b"\n")[:-1]
    assert len(lines) == COUNT
    previous = None
    for line in lines:
        record = decode(line)
        assert record.body is not None
        assert record.line == line
        assert previous is None or record.envelope.previous == previous
        previous = record.hash


@pytest.mark.parametrize("language", ["python", "typescript"])
def test_the_committed_records_are_read_by_both_languages(language: str) -> None:
    lines = (VECTORS / f"{language}.ndjson").read_bytes().split(b"\n")[:-1]
    assert len(lines) == 100
    assert [decode(line).hash for line in lines] == [sha256(line) for line in lines] == verdicts(lines)


def test_near_records_are_taken_or_refused_alike_in_their_envelope_and_form() -> None:
    """Both languages find the same lines canonical. Only the body's shape is judged finer here than there."""
    chance = random.Random(5)
    near = []
    for record in Writer(3).write(2_000):
        changed = bytearray(record.line)
        place = chance.randrange(len(changed))
        changed[place : place + 1] = chance.choice([b"", b" ", b"0", b'"', b"\\", b"\xff", b",", b"e"])
        near.append(bytes(changed).replace(b"\n", b""))
    here = []
    for line in near:
        try:
            here.append(decode(line).hash)
        except RefusedRecord as reason:
            here.append(f"refused {reason.code}")
    there = verdicts(near)
    differ = [
        (ours, theirs, line)
        for ours, theirs, line in zip(here, there, near, strict=True)
        if ours.startswith("refused") != theirs.startswith("refused")
    ]
    assert all(ours == "refused unreadable" for ours, _, _ in differ)
    assert len(differ) < len(near) / 4
