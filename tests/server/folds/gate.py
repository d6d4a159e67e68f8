# SPDX-License-Identifier: Apache-2.0
"""Goods-in and the saw, told in one line an act: for the vectors of receipts and for their random neighbours."""

from __future__ import annotations

import random
from typing import Any

from tallywright.folds.gathered import Gathered
from tallywright.folds.holds import Holds, fold_holds
from tallywright.folds.receipts import Receipt, Receipts, fold_receipt
from tallywright.records.asked import HoldLiftRequestedV1, RequestGrantedV1
from tallywright.records.bench import BatchOpenedV1, RecordWithdrawnV1, SeenChain
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import GOODS, Record
from tallywright.records.definition import ElementLimit, MaterialDefinition
from tallywright.records.envelope import Body
from tallywright.records.goods import (
    BarsIssuedV1,
    CastMarkReadV1,
    CertificateJudgedV1,
    MaterialReceivedV1,
    PrintedValue,
)
from tests.actors import ANYBODY, NOON

MAREN, PIOTR = f"{'p' * 26}:1", f"{'p' * 26}:2"
# Invented limits of an invented alloy.
METAL = MaterialDefinition(
    alloy="Skarv 60",
    limits=[
        ElementLimit(element="Si", low="0.70", high="1.20"),
        ElementLimit(element="Fe", high="0.45"),
        ElementLimit(element="Mg", low="0.55", high="1.1"),
    ],
)
MATERIALS = {ANYBODY: METAL}
INSIDE = {"Si": "0.95", "Fe": "0.31", "Mg": "0.8"}
LEAST = {"Si": "0.95", "Fe": "<0.01", "Mg": "0.8"}


class Gate:
    """Tablets a (Maren, goods-in), b (Piotr, the saw) and c (proven by nobody), and the server s."""

    def __init__(self) -> None:
        self.records: list[Record] = []
        self.proven = {f"{'a' * 26}:2": MAREN, f"{'b' * 26}:2": PIOTR}
        self._writers = {
            letter: ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY) for letter in "abcs"
        }
        self.batch = self._add(BatchOpenedV1(number="K7-1", pieces=100), "b", definition=ANYBODY).id

    def _add(self, body: Body, by: str, **members: Any) -> Record:
        minute = len(self.records)
        record = self._writers[by].add(body, NOON + minute * 60_000, skew_ms=0, sign_on=f"{by * 26}:2", **members)
        self.records.append(record)
        return record

    def receive(self, cast: str = "C-4711", by: str = "a", **members: Any) -> str:
        body = MaterialReceivedV1(
            alloy="Skarv 60",
            temper="T6",
            cast=cast,
            section="round",
            sizes=["16"],
            bars=12,
            certificate="3.1",
            **members,
        )
        return self._add(body, by).id

    def certificate(
        self, receipt: str, by: str = "a", cast: str = "C 4711", limits: str = ANYBODY, **values: str
    ) -> str:
        printed = [PrintedValue(element=name, value=value) for name, value in (values or INSIDE).items()]
        body = CertificateJudgedV1(receipt=receipt, cast=cast, values=printed)
        return self._add(body, by, **({"definition": limits} if limits else {})).id

    def mark(self, receipt: str, by: str = "a", agrees: bool = True) -> str:
        return self._add(CastMarkReadV1(receipt=receipt, bars=12, agrees=agrees), by).id

    def take_back(self, record: str, receipt: str, by: str = "a") -> str:
        return self._add(RecordWithdrawnV1(record=record, receipt=receipt), by).id

    def issue(self, receipt: str, by: str = "b", seen: str = "abcs") -> str:
        """Bars go to the batch; whoever cuts has seen what these tablets have said of the receipt so far."""
        known = {one.envelope.chain: one.envelope.n for one in self.of(receipt)}
        covered = [SeenChain(chain=chain, n=n) for chain, n in known.items() if chain[0] in seen]
        return self._add(BarsIssuedV1(receipt=receipt, bars=3, seen=covered), by, batch=self.batch).id

    def take_issue_back(self, issue: str, by: str = "b") -> str:
        return self._add(RecordWithdrawnV1(record=issue), by, batch=self.batch).id

    def lift(self, *holds: str) -> str:
        asked = self._add(
            HoldLiftRequestedV1(holds=list(holds), seen=[], why="etched, tested"), "a", batch=self.batch
        )
        self._add(RequestGrantedV1(request=asked.id), "s", batch=self.batch)
        return asked.id

    def of(self, receipt: str) -> list[Record]:
        return [record for record in self.records if record.subject == receipt]

    def receipts(self) -> list[str]:
        return sorted({record.subject for record in self.records if record.look == GOODS})


def state_of(records: list[Record], proven: dict[str, str], receipt: str) -> Receipt:
    """The state of one receipt among all these records."""
    return fold_receipt(Gathered([one for one in records if one.subject == receipt], proven), MATERIALS)


def holds_of(records: list[Record], proven: dict[str, str], batch: str) -> Holds:
    """The holds of the batch among all these records."""
    named = {one.subject for one in records if one.look == GOODS}
    of = {name: [one for one in records if one.subject == name] for name in named}
    gathered = Gathered([one for one in records if one.subject == batch], proven)
    return fold_holds(gathered, {}, Receipts(of, MATERIALS, proven))


def random_gate(seed: int) -> Gate:
    """Two receipts, and what anybody may say of them and cut of them, in any order."""
    chance = random.Random(seed)
    gate = Gate()
    receipts = [gate.receive(), gate.receive("C-4712", "b")]
    said: list[tuple[str, str]] = []
    issues: list[str] = []
    for _ in range(chance.randint(2, 14)):
        receipt, by = chance.choice(receipts), chance.choice("abc")
        act = chance.choice(
            ["certificate", "certificate", "mark", "mark", "issue", "issue", "back", "unissue", "lift"]
        )
        if act == "certificate":
            values = chance.choice(
                [INSIDE, LEAST, {**INSIDE, "Fe": "0.46"}, {"Si": "0.7"}, {**INSIDE, "Mg": "<0.9"}]
            )
            cast = chance.choice(["c.4711", "C/4712", "D-1"])
            said.append(
                (gate.certificate(receipt, by, cast, chance.choice([ANYBODY, ANYBODY, ""]), **values), receipt)
            )
        elif act == "mark":
            said.append((gate.mark(receipt, by, chance.random() < 0.8), receipt))
        elif act == "issue":
            issues.append(gate.issue(receipt, chance.choice("ab"), chance.choice(["abcs", "a", "b", "", "ab"])))
        elif act == "back" and said:
            gate.take_back(*chance.choice(said), by)
        elif act == "unissue" and issues:
            gate.take_issue_back(chance.choice(issues), chance.choice("ab"))
        elif act == "lift":
            standing = [one.id for one in holds_of(gate.records, gate.proven, gate.batch).holds]
            if standing:
                gate.lift(chance.choice(standing))
    return gate
