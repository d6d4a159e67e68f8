# SPDX-License-Identifier: Apache-2.0
"""Many push at once to real servers, and somebody reads, stands idle or is stopped in their midst.

python -m tests.kills.many tail --records 20000      six writers and a reader that follows, PostgreSQL
python -m tests.kills.many sqlite --records 20000    four clients at each of four workers, SQLite
python -m tests.kills.many idle --seconds 60         a transaction that somebody left open, PostgreSQL
python -m tests.kills.many stopped --times 10        three servers, one stopped inside its transaction, PostgreSQL
"""

from __future__ import annotations

import argparse
import http.client
import json
import os
import random
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event
from typing import Any
from urllib.parse import urlencode

from sqlalchemy import text

from tallywright.db import LOG_LOCK
from tallywright.records.decode import read
from tallywright.records.signature import sign
from tests import postgres
from tests.kills.pushing import Pusher, definition_of
from tests.kills.server import Place, found, served_place
from tests.served import Served, free_port

WRITERS, FINDS_A_PUSH, MOST_BATCHES = 6, 10, 20
SQLITE_WORKERS, CLIENTS_A_WORKER = 4, 4
PATIENCE_SECONDS = 60


@dataclass
class Reader:
    """A tablet that follows the log: what is works-wide, and the pairs it carries."""

    tablet: Pusher
    pairs: list[str] = field(default_factory=list)
    cursors: dict[str, str] = field(default_factory=dict)
    after: str = ""
    got: Counter[str] = field(default_factory=Counter)
    cookie: str = ""

    def open_session(self) -> None:
        """Prove the key, as a tablet does."""
        key, device = self.tablet.key, self.tablet.writer.device
        challenge = self._ask("POST", "/api/v1/sessions/challenges", {"device": device})[1]["challenge"]
        signature = sign(key, f"tallywright-session-1|{device}|{challenge}".encode())
        asked = {"device": device, "challenge": challenge, "signature": signature}
        headers, _ = self._ask("POST", "/api/v1/sessions", asked)
        self.cookie = headers["Set-Cookie"].split(";")[0]

    def pull(self) -> bool:
        """Read one page; returns whether more follows."""
        carry = [f"{pair}@{self.cursors[pair]}" if pair in self.cursors else pair for pair in self.pairs]
        query = [("carry", one) for one in carry] + ([("after", self.after)] if self.after else [])
        _, (head, lines) = self._ask("GET", f"/api/v1/sync/pull?{urlencode(query)}")
        self.got.update(read(line).id for line in lines)
        self.after = head["cursor"]
        self.cursors = dict.fromkeys(self.pairs, self.after)
        return bool(head["more"])

    def _ask(self, method: str, path: str, content: object = None) -> tuple[Any, Any]:
        way = http.client.HTTPConnection("127.0.0.1", self.tablet.port, timeout=PATIENCE_SECONDS)
        body = None if content is None else json.dumps(content)
        way.request(method, path, body, {"Content-Type": "application/json", "Cookie": self.cookie})
        answer = way.getresponse()
        told = answer.read()
        way.close()
        assert answer.status == 200, (path[:80], answer.status, told)
        if method == "POST":
            return answer.headers, json.loads(told)
        first, *lines = told[:-1].split(b"\n")
        return answer.headers, (json.loads(first), lines)


def tail(place: Place, finds_a_writer: int) -> dict[str, Any]:
    """Six write, each batch after batch, and one reads behind them all the while: none may be missed."""
    writers = _tablets(place, WRITERS)
    for tablet in writers:
        for _ in range(finds_a_writer):
            tablet.find()
    reader = Reader(_tablets(place, 1)[0])
    reader.open_session()
    # A tablet carries twenty pairs; a reader of all of them is several.
    pairs = [f"{batch}/first" for tablet in writers for batch in tablet.batches]
    readers = [
        Reader(reader.tablet, pairs[first : first + MOST_BATCHES], cookie=reader.cookie)
        for first in range(0, len(pairs), MOST_BATCHES)
    ]
    done, began = Event(), time.monotonic()

    def follow(one: Reader) -> None:
        while True:
            is_last = done.is_set()
            if not one.pull() and is_last:
                return
            done.wait(0.05)

    with ThreadPoolExecutor(WRITERS + len(readers)) as together:
        following = [together.submit(follow, one) for one in readers]
        try:
            list(together.map(_push_all, writers))
        finally:
            done.set()
        for one in following:
            one.result()
    finds = [id_of(line) for tablet in writers for line in tablet.made if b'"kind":"defect_tallied"' in line]
    got = sum(
        (Counter({name: one.got[name] for name in finds if name in one.got}) for one in readers), Counter[str]()
    )
    return {
        "writers": WRITERS,
        "finds": len(finds),
        "missed by the reader": sum(1 for name in finds if name not in got),
        "read twice": sum(count - 1 for count in got.values()),
        **found(place, writers),
        "answers": _answers(writers),
        "seconds": round(time.monotonic() - began),
    }


def id_of(line: bytes) -> str:
    """The id of a record."""
    return read(line).id


def all_at_once(place: Place, records: int) -> dict[str, Any]:
    """Four clients at each of four workers, on SQLite: no push may be answered with a failure."""
    assert place.served.process is not None
    while len(place.workers()) < SQLITE_WORKERS:
        os.kill(place.served.process.pid, signal.SIGTTIN)  # one worker more
        time.sleep(0.5)
    clients = _tablets(place, SQLITE_WORKERS * CLIENTS_A_WORKER)
    for tablet in clients:
        for _ in range(records // len(clients)):
            tablet.find()
    began = time.monotonic()
    with ThreadPoolExecutor(len(clients)) as together:
        list(together.map(_push_all, clients))
    log = (place.served.data.parent / "server.log").read_text()
    return {
        "workers": SQLITE_WORKERS,
        "clients": len(clients),
        **found(place, clients),
        "answers": _answers(clients),
        "'database is locked' in the server's log": log.count("database is locked"),
        "seconds": round(time.monotonic() - began),
    }


def idle(place: Place, seconds: float) -> dict[str, Any]:
    """A transaction that has a number and a snapshot stands open: pushes and the feed go on."""
    writers = _tablets(place, WRITERS)
    reader = Reader(_tablets(place, 1)[0])
    reader.open_session()
    done, rates = Event(), []

    def write(tablet: Pusher) -> None:
        while not done.is_set():
            for _ in range(FINDS_A_PUSH):
                tablet.find()
            tablet.push()

    def rate() -> float:
        before, began = _pushed(writers), time.monotonic()
        time.sleep(seconds)
        return (_pushed(writers) - before) / (time.monotonic() - began)

    with ThreadPoolExecutor(WRITERS) as together:
        writing = [together.submit(write, tablet) for tablet in writers]
        try:
            time.sleep(min(seconds, 3))
            rates.append(rate())
            with place.engine.connect() as open_one, open_one.begin():
                open_one.execute(text("SELECT count(*), pg_current_xact_id() FROM records"))
                fresh = f"{writers[0].batches[-1]}/first"
                reader.pairs = [fresh]
                while reader.pull():
                    pass
                behind = len(reader.got)
                rates.append(rate())
                while reader.pull():
                    pass
                went_on = len(reader.got) - behind
            rates.append(rate())
        finally:
            done.set()
        for one in writing:
            one.result()
    usual = (rates[0] + rates[2]) / 2
    return {
        "seconds of each": seconds,
        "pushes a second before, with and behind it": [round(one, 1) for one in rates],
        "fell by percent": round(100 * (1 - rates[1] / usual), 1),
        "records the reader got meanwhile": went_on,
        "answers": _answers(writers),
        "wrong": [one for tablet in writers for one in tablet.wrong],
    }


def stopped(folder: Path, address: str, times: int) -> dict[str, Any]:
    """Three servers of one works; one is stopped inside its write transaction: the others go on."""
    with served_place(folder, address) as place, _two_more(place) as (second, third):
        definition = definition_of(place.engine)
        servers = [place.served, second, third]
        writers = [Pusher(server.port, definition, random.Random(1), f"bench {server.port}") for server in servers]
        for tablet in writers:
            tablet.enrol()
        done, standstills = Event(), []
        with ThreadPoolExecutor(len(writers)) as together:
            writing = [together.submit(_push_until, tablet, done) for tablet in writers]
            try:
                for _ in range(times):
                    standstills.append(_stop_inside(place, third, writers[:2]))
            finally:
                done.set()
            for one in writing:
                one.result()
        return {
            "times": times,
            "standstill of the others in seconds": sorted(round(one, 2) for one in standstills),
            **found(place, writers),
            "answers": _answers(writers),
        }


def _stop_inside(place: Place, third: Served, others: list[Pusher]) -> float:
    """Stop the third server while it holds the lock; returns how long the others got no answer."""
    assert third.process is not None
    holds = text(
        "SELECT count(*) FROM pg_locks JOIN pg_stat_activity USING (pid) "
        "WHERE locktype = 'advisory' AND granted AND objid = :lock AND application_name = 'third'"
    )
    with place.engine.connect().execution_options(isolation_level="AUTOCOMMIT") as looking:
        while True:
            os.killpg(third.process.pid, signal.SIGSTOP)
            stopped_at = time.monotonic()
            if looking.scalar(holds, {"lock": LOG_LOCK}):
                break
            os.killpg(third.process.pid, signal.SIGCONT)
            time.sleep(random.random() / 50)
    try:
        before = [tablet.met[200] for tablet in others]
        end = stopped_at + PATIENCE_SECONDS
        while any(tablet.met[200] < count + 2 for tablet, count in zip(others, before, strict=True)):
            assert time.monotonic() < end, "the others did not go on"
            time.sleep(0.005)
        return time.monotonic() - stopped_at
    finally:
        os.killpg(third.process.pid, signal.SIGCONT)
        _wait_for_one(others)


def _wait_for_one(tablets: list[Pusher]) -> None:
    before = _pushed(tablets)
    while _pushed(tablets) == before:
        time.sleep(0.01)


@contextmanager
def _two_more(place: Place) -> Iterator[tuple[Served, Served]]:
    made = []
    try:
        for name in ("second", "third"):
            url = f"{place.served.database_url}?application_name={name}"
            made.append(Served(place.served.data, free_port(), database_url=url))
            made[-1].start_again()
        yield made[0], made[1]
    finally:
        for served in made:
            served.stop(signal.SIGKILL)


def _tablets(place: Place, count: int) -> list[Pusher]:
    definition = definition_of(place.engine)
    made = [
        Pusher(place.served.port, definition, random.Random(number), f"bench {number}") for number in range(count)
    ]
    for tablet in made:
        tablet.enrol()
    return made


def _push_all(tablet: Pusher) -> None:
    """Push in runs of ten until all is answered; one that is told to come again comes again in a moment."""
    for _ in range(2 * len(tablet.made)):
        if tablet.answered == len(tablet.made):
            return
        if tablet.push(FINDS_A_PUSH) != 200:
            time.sleep(0.2)
    tablet.wrong.append(f"{tablet.name} could not push all: {dict(tablet.met)}")


def _push_until(tablet: Pusher, done: Event) -> None:
    while not done.is_set():
        for _ in range(FINDS_A_PUSH):
            tablet.find()
        tablet.push()
    _push_all(tablet)


def _pushed(tablets: list[Pusher]) -> int:
    return sum(tablet.met[200] for tablet in tablets)


def _answers(tablets: list[Pusher]) -> dict[str, int]:
    met = sum((tablet.met for tablet in tablets), Counter[int]())
    return {str(status): count for status, count in sorted(met.items())}


def main() -> int:
    """Run on the command line."""
    words = argparse.ArgumentParser(prog="python -m tests.kills.many")
    words.add_argument("what", choices=("tail", "sqlite", "idle", "stopped"))
    words.add_argument("--records", type=int, default=20_000)
    words.add_argument("--seconds", type=float, default=60)
    words.add_argument("--times", type=int, default=10)
    wanted = words.parse_args()
    with tempfile.TemporaryDirectory(prefix="tw-many-") as made:
        folder = Path(made)
        if wanted.what == "sqlite":
            with served_place(folder, None) as place:
                told = all_at_once(place, wanted.records)
        else:
            with postgres.server() as address:
                if wanted.what == "stopped":
                    told = stopped(folder, address, wanted.times)
                else:
                    with served_place(folder, address) as place:
                        told = (
                            idle(place, wanted.seconds)
                            if wanted.what == "idle"
                            else tail(place, -(-wanted.records // WRITERS))
                        )
    sys.stdout.write(json.dumps(told, indent=1) + "\n")
    return 0


if __name__ == "__main__":
    sys.exit(main())
