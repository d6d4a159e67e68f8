# SPDX-License-Identifier: Apache-2.0
"""Kill the server while tablets push, again and again: what was answered is there, what was not comes again once.

python -m tests.kills.server --kills 1000
python -m tests.kills.server --kills 1000 --postgres
"""

from __future__ import annotations

import argparse
import json
import os
import random
import shutil
import signal
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager, nullcontext, suppress
from dataclasses import dataclass
from pathlib import Path
from threading import Event
from typing import Any

from sqlalchemy import Engine, func, select

from tallywright.config import sqlite_url
from tallywright.db import open_engine, reading
from tallywright.projections.tables import finds
from tests import postgres
from tests.kills.pushing import NO_ANSWER, Compared, Pusher, compare, definition_of
from tests.served import Served, free_port

CLIENTS = 4
MOST_A_PUSH = 12
WHOLE_SERVER = 20  # one kill in so many takes the whole server
AT_LEAST_PUSHES = 2  # answered between two kills: a server that never gets on its feet proves nothing


@dataclass
class Place:
    """A served works, and the database it keeps its log in."""

    served: Served
    engine: Engine

    def workers(self) -> list[int]:
        """The processes that answer."""
        assert self.served.process is not None
        pid = self.served.process.pid
        children = Path(f"/proc/{pid}/task/{pid}/children")
        return [int(word) for word in children.read_text().split()]


@contextmanager
def served_place(folder: Path, postgres_address: str | None, **options: Any) -> Iterator[Place]:
    """Serve a demo works from a folder, or from a database of its own on a PostgreSQL server."""
    served = Served(folder / "works", free_port(), **options)
    name = f"kills_{os.getpid()}_{time.monotonic_ns()}"
    if postgres_address is not None:
        served.database_url = postgres.make_database(postgres_address, name)
    served.start()
    engine = open_engine(served.database_url or sqlite_url(served.data))
    try:
        yield Place(served, engine)
    finally:
        served.stop(signal.SIGKILL)
        engine.dispose()
        if postgres_address is not None:
            postgres.drop_database(postgres_address, name)


def kill_again_and_again(place: Place, kills: int, chance: random.Random) -> dict[str, Any]:
    """Let tablets push, and kill what answers them; returns what the log then holds."""
    definition = definition_of(place.engine)
    tablets = [
        Pusher(place.served.port, definition, random.Random(chance.random()), f"bench {number}")
        for number in range(CLIENTS)
    ]
    for tablet in tablets:
        tablet.enrol()
    done, killed, began = Event(), Counter[str](), time.monotonic()
    with ThreadPoolExecutor(CLIENTS) as together:
        pushing = [together.submit(_push_until, tablet, done) for tablet in tablets]
        try:
            for number in range(1, kills + 1):
                _wait_for_answers(tablets)
                time.sleep(chance.uniform(0, 0.12))
                if number % WHOLE_SERVER == 0:
                    place.served.stop(signal.SIGKILL)
                    place.served.start_again()
                    killed["whole server"] += 1
                else:
                    _kill_a_worker(place, chance)
                    killed["worker"] += 1
        finally:
            done.set()
        for one in pushing:
            one.result()
    seconds = time.monotonic() - began
    return {
        "database": place.engine.dialect.name,
        "kills": dict(killed),
        "pushes": sum(sum(tablet.met.values()) for tablet in tablets),
        "answers": {str(status): count for status, count in sorted(_answers(tablets).items())},
        "without an answer": _answers(tablets)[NO_ANSWER],
        "wrong": [one for tablet in tablets for one in tablet.wrong],
        **found(place, tablets),
        "seconds": round(seconds),
    }


def _answers(tablets: list[Pusher]) -> Counter[int]:
    return sum((tablet.met for tablet in tablets), Counter[int]())


def _push_until(tablet: Pusher, done: Event) -> None:
    """Push without a pause; at the end until all is answered."""
    while not done.is_set():
        for _ in range(tablet.chance.randint(1, MOST_A_PUSH)):
            tablet.find()
        if tablet.push() != 200:
            time.sleep(tablet.chance.uniform(0, 0.05))
    for _ in range(600):
        if tablet.answered == len(tablet.made):
            return
        if tablet.push() != 200:
            time.sleep(0.1)
    tablet.wrong.append(f"{tablet.name} could not push its last records: {dict(tablet.met)}")


def _wait_for_answers(tablets: list[Pusher]) -> None:
    before = sum(tablet.met[200] for tablet in tablets)
    for _ in range(6000):
        if sum(tablet.met[200] for tablet in tablets) >= before + AT_LEAST_PUSHES:
            return
        time.sleep(0.005)
    raise TimeoutError(f"no push was answered for 30 seconds: {[dict(tablet.met) for tablet in tablets]}")


def _kill_a_worker(place: Place, chance: random.Random) -> None:
    while not (workers := place.workers()):
        time.sleep(0.01)
    with suppress(ProcessLookupError):
        os.kill(chance.choice(workers), signal.SIGKILL)


def found(place: Place, tablets: list[Pusher]) -> dict[str, Any]:
    """What the log, the rows and the commands say at the end."""
    compared: Compared = compare(place.engine, tablets)
    batches = [batch for tablet in tablets for batch in tablet.batches]
    with reading(place.engine) as connection:
        counted = connection.scalar(select(func.count()).where(finds.c.batch.in_(batches)))
    verified, rebuilt = place.served.run("verify"), place.served.run("rebuild", "--check")
    return {
        "records": sum(len(tablet.made) for tablet in tablets),
        "answered 200": compared.answered,
        "lost": compared.lost,
        "missing": compared.missing,
        "doubled": compared.doubled,
        "finds made": sum(tablet.finds for tablet in tablets),
        "finds counted": counted,
        "verify": verified.stdout.splitlines()[-1] if verified.returncode == 0 else verified.stdout,
        "rebuild --check": rebuilt.stdout.strip() if rebuilt.returncode == 0 else rebuilt.stdout + rebuilt.stderr,
    }


def is_right(told: dict[str, Any]) -> bool:
    """True where nothing was lost, nothing came twice and no push was answered with a failure."""
    return (
        (told["lost"], told["missing"], told["doubled"], told["wrong"]) == (0, 0, 0, [])
        and told["finds made"] == told["finds counted"]
        and set(told["answers"]) <= {"0", "200"}
        and told["verify"] == "The log is whole."
        and told["rebuild --check"] == "The rows are what the log says."
    )


def main() -> int:
    """Run on the command line; returns 1 where something was wrong."""
    words = argparse.ArgumentParser(prog="python -m tests.kills.server")
    words.add_argument("--kills", type=int, required=True)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--postgres", action="store_true", help="on PostgreSQL in place of SQLite")
    wanted = words.parse_args()
    folder = Path(tempfile.mkdtemp(prefix="tw-kills-"))
    try:
        with (
            postgres.server() if wanted.postgres else nullcontext() as address,
            served_place(folder, address) as place,
        ):
            told = kill_again_and_again(place, wanted.kills, random.Random(wanted.seed))
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    sys.stdout.write(json.dumps(told, indent=1) + "\n")
    return 0 if is_right(told) else 1


if __name__ == "__main__":
    sys.exit(main())
