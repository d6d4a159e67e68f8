# SPDX-License-Identifier: Apache-2.0
"""The people and machines of the tests: a scripted clock, a works with its server, tablets that push over HTTP."""

from __future__ import annotations

import base64
import json
import random
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import msgspec
from cryptography.hazmat.primitives.asymmetric import ec
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import Engine
from werkzeug.test import TestResponse

from tallywright import create_app
from tallywright.access.codes import make_code
from tallywright.access.sealing import SealingKeys, seal
from tallywright.cli.works import open_demo, prepare_data
from tallywright.clock import new_chain_name
from tallywright.config import Config
from tallywright.db import reading, writing
from tallywright.log.own_chain import OwnChain
from tallywright.log.read import WORKS_WIDE, of_subject
from tallywright.projections.rebuild import rows
from tallywright.records.bench import DefectTalliedV1, RecordWithdrawnV1, TrayOpenedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record, sha256
from tallywright.records.envelope import Body
from tallywright.records.kinds import ChainOpenedV1
from tallywright.records.people import PersonChangedV1, SignedOnV1
from tallywright.records.signature import public_text, run_text, sign
from tallywright.sync.judge import Enclosure
from tallywright.web.joined import NAME, Joined

NOON = 1_795_608_000_000  # 2026-11-25 12:00:00 UTC
LINES = "application/x-ndjson"
ANYBODY = f"{'a' * 26}:1"


@dataclass
class ScriptedClock:
    """A clock that stands until it is moved, and chance that repeats."""

    now: int = NOON
    chance: random.Random = field(default_factory=lambda: random.Random(7))

    def now_ms(self) -> int:
        """Return the scripted time."""
        return self.now

    def random_bytes(self, count: int) -> bytes:
        """Return bytes that are the same in every run."""
        return self.chance.randbytes(count)


@dataclass
class Works:
    """A demo works with its server: what a test looks at from inside."""

    app: Flask
    clock: ScriptedClock
    config: Config

    @property
    def joined(self) -> Joined:
        """What create_app joined."""
        found: Joined = self.app.extensions[NAME]
        return found

    @property
    def engine(self) -> Engine:
        """The server's database."""
        return self.joined.engine

    @property
    def own(self) -> OwnChain:
        """The server's chain."""
        return self.joined.own

    def client(self) -> FlaskClient:
        """A browser of its own, with its own cookies, over HTTPS."""
        return self.app.test_client()

    def code(self) -> str:
        """A code that enrols one tablet."""
        with writing(self.engine) as connection:
            return make_code(connection, self.clock)

    def tablet(self, name: str = "bench 1") -> Tablet:
        """An enrolled tablet with an opened chain, signed on, ready to push."""
        client = self.client()
        key = ec.generate_private_key(ec.SECP256R1())
        answer = client.post(
            "/api/v1/enrolments", json={"code": self.code(), "public_key": public_text(key), "name": name}
        )
        assert answer.status_code == 201, answer.text
        device, site = answer.json["device"], answer.json["site"]
        open_session(client, device, key)
        writer = ChainWriter(new_chain_name(self.clock), device, "Europe/Berlin", site=site)
        return Tablet(self, client, key, writer, site, self.batch())

    def batch(self) -> dict[str, Any]:
        """The demo's open batch, as the list names it."""
        return self.rows("batches")[0]

    def person(self, name: str) -> str:
        """The id of one of the demo's people."""
        with reading(self.engine) as connection:
            return next(
                record.id
                for record in of_subject(connection, WORKS_WIDE)
                if isinstance(record.body, PersonChangedV1) and record.body.name == name
            )

    def rows(self, table: str) -> list[dict[str, Any]]:
        """All rows of a projected table, as objects."""
        from tallywright.db import projected

        names = [column.name for column in projected.tables[table].columns]
        with reading(self.engine) as connection:
            return [dict(zip(names, row, strict=True)) for row in rows(connection)[table]]


def make_demo_works(data: Path, database_url: str) -> None:
    """Make a demo works in an empty database; slow, because keys are made and PINs are kept slowly on purpose."""
    clock = ScriptedClock()
    config = Config(data=data, database_url=database_url, demo=True)
    engine = prepare_data(config)
    from tallywright.log.own_chain import load_key

    open_demo(engine, OwnChain(clock, load_key(config.key_file)), SealingKeys(data, clock))
    engine.dispose()


def join_works(data: Path, database_url: str, demo: bool = True) -> Works:
    """Join the server of a works that was made before. Its chance differs from the one that made it."""
    config = Config(data=data, database_url=database_url, demo=demo)
    clock = ScriptedClock(chance=random.Random(8))
    app = create_app(config, clock)
    app.config["PREFERRED_URL_SCHEME"] = "https"
    return Works(app, clock, config)


def open_session(client: FlaskClient, device: str, key: ec.EllipticCurvePrivateKey) -> None:
    """Prove a device's key, as a tablet does before its first read."""
    challenge = client.post("/api/v1/sessions/challenges", json={"device": device}).json["challenge"]
    signature = sign(key, f"tallywright-session-1|{device}|{challenge}".encode())
    answer = client.post(
        "/api/v1/sessions", json={"device": device, "challenge": challenge, "signature": signature}
    )
    assert answer.status_code == 200, answer.text


@dataclass
class Tablet:
    """A tablet that composes, signs and pushes like the real one; `outbox` holds what was not pushed yet."""

    works: Works
    client: FlaskClient
    key: ec.EllipticCurvePrivateKey
    writer: ChainWriter
    site: str
    batch: dict[str, Any]
    outbox: list[Record] = field(default_factory=list)
    sign_on: str = ""
    tray: str = ""
    who: tuple[str, str] = ("", "")
    sealed: list[Enclosure] = field(default_factory=list)

    def __post_init__(self) -> None:
        """Open the chain and sign somebody on."""
        self.add(ChainOpenedV1(why="first"))
        self.sign_on = self.add(SignedOnV1(person=ANYBODY)).id

    def add(self, body: Body, **envelope: Any) -> Record:
        """Compose the next record into the outbox."""
        record = self.writer.add(body, self.works.clock.now, offset_min=60, skew_ms=0, **envelope)
        self.outbox.append(record)
        return record

    def at_bench(self, body: Body) -> Record:
        """Compose a record of the demo's batch."""
        return self.add(body, sign_on=self.sign_on, batch=self.batch["batch"], definition=self.batch["definition"])

    def sign_on_as(self, person: str, pin: str) -> Enclosure:
        """Sign somebody on with a sealed PIN; returns what has to travel beside the record."""
        key = self.works.joined.sealing.current()
        sealed = seal(key.public_key, f"{self.writer.chain}:{self.writer.n + 1}", pin)
        body = SignedOnV1(person=person, sealing_key=key.name, sealed=sha256(sealed))
        self.sign_on = self.add(body).id
        self.who = person, pin
        return Enclosure(self.sign_on, sealed)

    def give_pin_again(self) -> None:
        """The same person signs on once more; the sealed PIN goes with the next push of the outbox."""
        self.sealed.append(self.sign_on_as(*self.who))

    def open_tray(self, number: int = 1, look: str = "first") -> Record:
        """Begin a tray; finds go into it from now on."""
        record = self.at_bench(TrayOpenedV1(look=look, number=number, places=60))
        self.tray = record.id
        return record

    def find(self, defect: str = "lap", look: str = "first", **members: Any) -> Record:
        """Mark a find in the open tray."""
        return self.at_bench(DefectTalliedV1(look=look, tray=self.tray, defect=defect, **members))

    def withdraw(self, record_id: str) -> Record:
        """Take a record back."""
        return self.at_bench(RecordWithdrawnV1(record=record_id))

    def push(
        self, records: list[Record] | None = None, enclosures: list[Enclosure] | None = None
    ) -> dict[str, Any]:
        """Push some records, or the whole outbox, as one run, with sealed PINs beside them."""
        sending = self.outbox if records is None else records
        beside = [
            {"record": one.record, "sealed": base64.b64encode(one.sealed).decode()}
            for one in (self.sealed if enclosures is None else enclosures)
        ]
        lines = [record.line for record in sending]
        answer = self.push_lines(lines, sending[0].envelope.n, enclosures=beside)
        if records is None:
            self.outbox = []
            self.sealed = []
        return answer

    def push_lines(self, lines: list[bytes], first: int, **head: Any) -> dict[str, Any]:
        """Push bytes as a signed run that begins at a number; `head` replaces members of the head line."""
        answer = self.send(push_body(self.writer.chain, self.key, lines, first, **head))
        assert answer.status_code == 200, answer.text
        return dict(answer.json or {})

    def send(self, body: bytes) -> TestResponse:
        """Send a push body as it is."""
        return self.client.post("/api/v1/sync/push", data=body, content_type=LINES)

    def get(self, path: str, **query: Any) -> TestResponse:
        """Read something as whoever is signed on."""
        return self.client.get(path, query_string=query, headers={"Tallywright-Sign-On": self.sign_on})

    def pull(self, **query: Any) -> tuple[dict[str, Any], list[bytes]]:
        """Pull one page."""
        answer = self.client.get("/api/v1/sync/pull", query_string=query)
        assert answer.status_code == 200, answer.text
        head, *lines = answer.data[:-1].split(b"\n")
        return json.loads(head), lines


def push_body(chain: str, key: ec.EllipticCurvePrivateKey, lines: list[bytes], first: int, **head: Any) -> bytes:
    """Return the body of a push of one signed run."""
    last = first + len(lines) - 1
    runs = []
    if lines:
        signature = sign(key, run_text(chain, last, sha256(lines[-1])))
        runs = [{"chain": chain, "first": first, "last": last, "signature": signature}]
    content = {"protocol": 1, "count": len(lines), "runs": runs, "marks": [], "enclosures": [], **head}
    return b"".join(line + b"\n" for line in (msgspec.json.encode(content), *lines))
