# SPDX-License-Identifier: Apache-2.0
"""Receipts and the batches made of them: what is learnt late reaches every batch, on a push and in a rebuild."""

from __future__ import annotations

from typing import Any

import pytest

from tallywright.db import reading, writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import SeenChain
from tallywright.records.decode import Record
from tallywright.records.goods import (
    BarEndsCollectedV1,
    BarsIssuedV1,
    CastMarkReadV1,
    CertificateAttachedV1,
    CertificateJudgedV1,
    MaterialReceivedV1,
    PrintedValue,
)
from tallywright.reports.goods import casts_of, goods
from tests.actors import Tablet, Works
from tests.server.sync.asking import signed_on

INSIDE = {
    "Si": "0.95", "Fe": "0.31", "Cu": "0.05", "Mn": "0.55", "Mg": "0.8", "Cr": "0.15", "Zn": "0.01", "Ti": "0.02",
}  # fmt: skip


@pytest.fixture
def gate(works: Works) -> Tablet:
    """An operator at goods-in whose PIN was judged."""
    return signed_on(works, "goods-in", ("Maren Holt", "3960"))


def say(tablet: Tablet, body: Any, **members: Any) -> Record:
    return tablet.add(body, sign_on=tablet.sign_on, **members)


def receive(tablet: Tablet) -> Record:
    return say(
        tablet,
        MaterialReceivedV1(
            alloy="Skarv 60", temper="T6", cast="C-4711", section="round", sizes=["16"], bars=12, certificate="3.1"
        ),
    )


def judge(tablet: Tablet, receipt: Record, **values: str) -> Record:
    printed = [PrintedValue(element=name, value=value) for name, value in (INSIDE | values).items()]
    body = CertificateJudgedV1(receipt=receipt.id, cast="C-4711", values=printed)
    return say(tablet, body, definition=limits(tablet.works))


def limits(works: Works) -> str:
    from tallywright.definitions.published import newest_materials

    with reading(works.engine) as connection:
        return newest_materials(connection)["Skarv 60", ""][0]


def issue(tablet: Tablet, receipt: Record) -> Record:
    seen = [SeenChain(chain=tablet.writer.chain, n=tablet.writer.n)]
    body = BarsIssuedV1(receipt=receipt.id, bars=3, seen=seen)
    return say(tablet, body, batch=tablet.batch["batch"])


def holds(works: Works) -> dict[str, str]:
    return {row["hold"]: row["cause"] for row in works.rows("holds")}


def test_a_certificate_that_comes_late_holds_the_batches_that_were_made_of_it(works: Works, gate: Tablet) -> None:
    receipt = receive(gate)
    judge(gate, receipt)
    say(gate, CastMarkReadV1(receipt=receipt.id, bars=12, agrees=True))
    issue(gate, receipt)
    gate.push()
    assert holds(works) == {}
    late = judge(gate, receipt, Fe="0.46")
    gate.push()
    assert holds(works) == {late.id: "metal"}
    with writing(works.engine) as connection:
        before = rows(connection)
        assert rebuild(connection) == []
        assert rows(connection) == before


def test_bars_that_came_before_their_receipt_are_on_hold_until_it_says_otherwise(
    works: Works, gate: Tablet
) -> None:
    receipt = receive(gate)
    early = issue(gate, receipt)
    gate.push()
    assert holds(works) == {early.id: "early"}
    with reading(works.engine) as connection:
        [cast] = casts_of(connection, gate.batch["batch"])
    assert (cast["cast"], cast["state"], cast["bars"]) == ("C-4711", "waits", 3)


def test_a_receipt_names_its_file_its_judge_and_the_batches_made_of_it(works: Works, gate: Tablet) -> None:
    receipt = receive(gate)
    say(gate, CertificateAttachedV1(receipt=receipt.id, file="ab" * 32, type="application/pdf", size=900))
    judge(gate, receipt, Mg="1.3")
    issue(gate, receipt)
    say(gate, BarEndsCollectedV1(alloy="Skarv 60", container="K2", mass_g=2400))
    say(gate, BarEndsCollectedV1(alloy="Skarv 60", container="K2", mass_g=600))
    gate.push()
    with reading(works.engine) as connection:
        found = goods(connection)
    [one] = [line for line in found.receipts if line["receipt"] == receipt.id]
    assert one["files"] == [{"file": "ab" * 32, "here": False}]
    assert [made["number"] for made in one["batches"]] == [gate.batch["number"]]
    [certificate] = one["certificates"]
    assert certificate["verdict"] == "out"
    assert certificate["by"] != ""
    assert found.bar_ends == [{"alloy": "Skarv 60", "container": "K2", "pieces": 0, "mass_g": 3000}]


def test_every_tablet_gets_what_is_said_of_a_receipt(works: Works, gate: Tablet) -> None:
    receipt = receive(gate)
    judged = judge(gate, receipt)
    gate.push()
    _, lines = works.tablet("the saw").pull()
    assert {receipt.line, judged.line} <= set(lines)
