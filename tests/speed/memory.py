# SPDX-License-Identifier: Apache-2.0
"""What a worker of a real gunicorn holds: when it begins, behind pushes and pages, and behind every report."""

from __future__ import annotations

import base64
import http.client
import json
import signal
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from tallywright.access.sealing import SealingKeys
from tallywright.cli.works import open_demo_with_weeks, prepare_data
from tallywright.clock import SystemClock
from tallywright.config import Config, sqlite_url
from tallywright.log.own_chain import load_key
from tallywright.records.signature import sign
from tests.actors import LINES, Tablet, join_works, push_body
from tests.hands import DEMO_PINS
from tests.served import Served, free_port
from tests.speed.figures import Figure, Floor, children_of
from tests.speed.pushes import whole_batches

A_PUSH, PUSHES = 500, 30
LEAD = "Jonas Falk"
WEEKS_MS = 35 * 24 * 60 * 60 * 1000
EACH = 12  # times, so that both workers have answered
SHIFT_PAGES = ("shift", "pareto", "pareto?by=machine&unit=pieces", "holds", "batches", "machine-checks")
ALL_TIME = "from=0&to=4000000000000"
REPORTS = (
    *(f"pareto?{ALL_TIME}&by={by}" for by in ("defect", "batch", "cast", "tray", "operation")),
    f"pareto?{ALL_TIME}&axis=made",
    "batch-pages", "receipts", "gauges", "set-aside",
)  # fmt: skip


@dataclass
class Asker:
    """A tablet that asks a served works, over one connection after the other so that each worker answers some."""

    port: int
    tablet: Tablet
    cookies: dict[str, str] = field(default_factory=dict)

    def ask(self, method: str, path: str, body: bytes = b"", kind: str = "application/json") -> bytes:
        """Ask; raises AssertionError for anything but a good answer."""
        way = http.client.HTTPConnection("127.0.0.1", self.port, timeout=120)
        headers = {"Content-Type": kind} if body else {}
        headers["Cookie"] = "; ".join(f"{name}={value}" for name, value in self.cookies.items())
        headers["Tallywright-Sign-On"] = self.tablet.sign_on
        way.request(method, f"/api/v1/{path}", body, headers)
        with way.getresponse() as answer:
            said = answer.read()
            assert answer.status < 300, (path, answer.status, said)
            for line in answer.headers.get_all("Set-Cookie") or []:
                name, _, value = line.split(";")[0].partition("=")
                self.cookies[name] = value
        way.close()
        return said

    def open_session(self) -> None:
        """Prove the device's key."""
        device = self.tablet.writer.device
        asked = json.dumps({"device": device}).encode()
        challenge = json.loads(self.ask("POST", "sessions/challenges", asked))["challenge"]
        signature = sign(self.tablet.key, f"tallywright-session-1|{device}|{challenge}".encode())
        answer = {"device": device, "challenge": challenge, "signature": signature}
        self.ask("POST", "sessions", json.dumps(answer).encode())

    def push(self) -> None:
        """Push the outbox, with the sealed PINs beside it."""
        sending, sealed = self.tablet.outbox, self.tablet.sealed
        beside = [{"record": one.record, "sealed": base64.b64encode(one.sealed).decode()} for one in sealed]
        lines = [record.line for record in sending]
        body = push_body(self.tablet.writer.chain, self.tablet.key, lines, sending[0].envelope.n, enclosures=beside)
        self.tablet.outbox, self.tablet.sealed = [], []
        assert not json.loads(self.ask("POST", "sync/push", body, LINES))["exceptions"]


def measure(folder: Path) -> Iterator[Figure]:
    """Serve a demo with its weeks, push and look at the shift, then ask for everything."""
    served = Served(folder / "works", free_port())
    _make_weeks(served.data)
    served.start_again()
    try:
        assert served.process is not None
        workers = children_of(served.process.pid)
        floor = Floor("a worker that served nothing", _held(workers, "Rss"))
        asker = _lead_at(served)
        for push in whole_batches(asker.tablet, PUSHES, A_PUSH, "MEMORY"):
            asker.ask("POST", "sync/push", push.body, LINES)
        for path in SHIFT_PAGES * EACH:
            asker.ask("GET", path)
        yield Figure("RSS of a worker behind pushes and shift pages", _held(workers, "Rss"), "MB", 130, floor=floor)
        yield Figure("PSS of it", _held(workers, "Pss"), "MB")
        now = SystemClock().now_ms()
        weeks = f"machine-checks?from={now - WEEKS_MS}&to={now}"
        pages = [one["batch"] for one in json.loads(asker.ask("GET", "batch-pages"))["pages"]]
        for path in (weeks, *REPORTS) * EACH + tuple(f"batch-pages/{batch}" for batch in pages[:40]):
            asker.ask("GET", path)
        yield Figure("RSS of a worker behind every report", _held(workers, "Rss"), "MB", 220, floor=floor)
        yield Figure("PSS of it", _held(workers, "Pss"), "MB")
    finally:
        served.stop(signal.SIGKILL)


def _make_weeks(data: Path) -> None:
    """Make the demo with its weeks here, so that no server inherits what that took."""
    config = Config(data=data, database_url=sqlite_url(data), demo=True)
    engine = prepare_data(config)
    open_demo_with_weeks(engine, load_key(config.key_file), SealingKeys(data, SystemClock()), None)
    engine.dispose()


def _lead_at(served: Served) -> Asker:
    """A tablet at which the demo's lead is signed on, proven."""
    works = join_works(served.data, sqlite_url(served.data))
    works.clock.now = SystemClock().now_ms()
    tablet = works.tablet("office")
    tablet.sealed = [tablet.sign_on_as(works.person(LEAD), DEMO_PINS[LEAD])]
    works.engine.dispose()
    asker = Asker(served.port, tablet)
    asker.open_session()
    asker.push()
    return asker


def _held(workers: list[int], what: str) -> float:
    """Megabytes that the larger of the workers holds."""
    found = []
    for worker in workers:
        lines = Path(f"/proc/{worker}/smaps_rollup").read_text().splitlines()
        found.append(next(int(line.split()[1]) for line in lines if line.startswith(f"{what}:")))
    return max(found) / 1000
