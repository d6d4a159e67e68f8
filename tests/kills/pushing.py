# SPDX-License-Identifier: Apache-2.0
"""Tablets that push over HTTP to a server that may die under them, and remember which runs were answered."""

from __future__ import annotations

import http.client
import json
import random
from collections import Counter
from dataclasses import dataclass, field
from typing import Any

from cryptography.hazmat.primitives.asymmetric import ec
from sqlalchemy import Engine, select

from tallywright.clock import SystemClock, new_chain_name
from tallywright.db import reading
from tallywright.log.read import every_line
from tallywright.projections.tables import batches
from tallywright.records.bench import BatchOpenedV1, DefectTalliedV1, TrayOpenedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import read, sha256
from tallywright.records.envelope import Body
from tallywright.records.kinds import ChainOpenedV1
from tallywright.records.people import SignedOnV1
from tallywright.records.signature import public_text
from tests.actors import ANYBODY, LINES, push_body

PUSH = "/api/v1/sync/push"
FINDS_A_BATCH = 200  # a server folds a batch anew with each push about it
PATIENCE_SECONDS = 60
NO_ANSWER = 0


def definition_of(engine: Engine) -> str:
    """The definition the demo's open batch is judged by."""
    with reading(engine) as connection:
        return str(connection.scalars(select(batches.c.definition).limit(1)).one())


@dataclass
class Pusher:
    """A tablet that makes finds and pushes what was not answered yet, in runs of chance."""

    port: int
    definition: str
    chance: random.Random
    name: str = "bench"
    key: ec.EllipticCurvePrivateKey = field(default_factory=lambda: ec.generate_private_key(ec.SECP256R1()))
    made: list[bytes] = field(default_factory=list)
    answered: int = 0  # so many of them, from the first on
    met: Counter[int] = field(default_factory=Counter)  # answers to pushes by their status
    finds: int = 0
    batch: str = ""
    tray: str = ""
    batches: list[str] = field(default_factory=list)
    wrong: list[str] = field(default_factory=list)
    writer: ChainWriter = field(init=False)
    sign_on: str = ""
    way: http.client.HTTPConnection | None = None

    def enrol(self) -> None:
        """Become a tablet of the demo, and sign somebody on."""
        clock = SystemClock()
        known = json.dumps({"public_key": public_text(self.key), "name": self.name}).encode()
        status, enrolled = self.ask("/api/v1/enrolments/demo", known, "application/json")
        assert status == 201, enrolled
        self.writer = ChainWriter(new_chain_name(clock), enrolled["device"], "UTC", site=enrolled["site"])
        self.add(ChainOpenedV1(why="first"))
        self.sign_on = self.add(SignedOnV1(person=ANYBODY))

    def ask(self, path: str, body: bytes, kind: str) -> tuple[int, dict[str, Any]]:
        """Ask over one connection as long as it lives; a status of 0 is no answer."""
        try:
            self.way = self.way or http.client.HTTPConnection("127.0.0.1", self.port, timeout=PATIENCE_SECONDS)
            self.way.request("POST", path, body, {"Content-Type": kind})
            with self.way.getresponse() as answer:
                return answer.status, json.loads(answer.read())
        except (OSError, http.client.HTTPException, ValueError):
            self.close()
            return NO_ANSWER, {}

    def close(self) -> None:
        """Hang up."""
        if self.way is not None:
            self.way.close()
        self.way = None

    def add(self, body: Body, **envelope: Any) -> str:
        """Make a record; returns its id."""
        record = self.writer.add(body, SystemClock().now_ms(), offset_min=60, skew_ms=0, **envelope)
        self.made.append(record.line)
        return record.id

    def find(self) -> None:
        """Mark a find, in a new batch now and then."""
        said = {"sign_on": self.sign_on, "definition": self.definition}
        if self.finds % FINDS_A_BATCH == 0:
            number = f"{self.name}-{self.finds // FINDS_A_BATCH}"
            self.batch = self.add(BatchOpenedV1(number=number, pieces=FINDS_A_BATCH), **said)
            self.tray = self.add(TrayOpenedV1(look="first", number=1, places=60), batch=self.batch, **said)
            self.batches.append(self.batch)
        self.add(DefectTalliedV1(look="first", tray=self.tray, defect="lap"), batch=self.batch, **said)
        self.finds += 1

    def push(self, most: int = 500) -> int:
        """Push what was not answered, at most so much; returns the status, and remembers what an answer means."""
        lines = self.made[self.answered : self.answered + most]
        body = push_body(self.writer.chain, self.key, lines, self.answered + 1)
        status, answer = self.ask(PUSH, body, LINES)
        self.met[status] += 1
        if status == 200:
            reached = self.answered + len(lines)
            mark = answer["marks"][0]
            told = (mark["n"], mark["hash"], answer["exceptions"])
            # Of what it had answered before, and of what it had not, it may hold more: never less.
            if told[0] < reached or told[2] or (told[0] == reached and told[1] != sha256(lines[-1])):
                self.wrong.append(f"{self.writer.chain} pushed up to {reached} and was told {told}")
            self.answered = reached
        return status


@dataclass(frozen=True, slots=True)
class Compared:
    """What the log holds of the records that tablets made."""

    answered: int
    lost: int  # answered, and not in the log with the same bytes
    missing: int  # made, and not in the log
    doubled: int  # lines of these chains that are there twice, or that nobody made


def compare(engine: Engine, tablets: list[Pusher]) -> Compared:
    """Look for every record of every tablet in the log, byte by byte."""
    with reading(engine) as connection:
        stored = Counter(line for _, line in every_line(connection))
    for tablet in tablets:
        tablet.close()
    made = {line for tablet in tablets for line in tablet.made}
    chains = {tablet.writer.chain for tablet in tablets}
    ours = Counter({line: count for line, count in stored.items() if read(line).envelope.chain in chains})
    answered = [line for tablet in tablets for line in tablet.made[: tablet.answered]]
    return Compared(
        answered=len(answered),
        lost=sum(1 for line in answered if line not in ours),
        missing=sum(1 for line in made if line not in ours),
        doubled=sum(count - 1 for count in ours.values()) + sum(1 for line in ours if line not in made),
    )
