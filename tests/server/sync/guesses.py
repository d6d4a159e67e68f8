# SPDX-License-Identifier: Apache-2.0
"""One tablet that guesses a PIN thousands of times: how many guesses are judged, and what others wait meanwhile.

python -m tests.server.sync.guesses --guesses 10000
"""

from __future__ import annotations

import argparse
import base64
import json
import random
import signal
import sys
import tempfile
import time
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from threading import Event
from typing import Any

from sqlalchemy import func, select

from tallywright.access.sealing import SealingKeys, seal
from tallywright.access.tables import sealed_pins
from tallywright.clock import SystemClock
from tallywright.config import sqlite_url
from tallywright.db import open_engine, reading
from tallywright.log.read import WORKS_WIDE, of_subject
from tallywright.projections.tables import sign_ons
from tallywright.records.decode import sha256
from tallywright.records.people import PersonChangedV1, SignedOnV1
from tests.actors import LINES, Tablet, push_body
from tests.kills.pushing import PUSH, Pusher, definition_of
from tests.served import Served, free_port

GUESSED, WRONG = "Ines Brandt", "9182"
A_PUSH = 100  # as many sealed PINs as one push may carry
PUSHES, FINDS_A_PUSH, PAUSE_S = 200, 10, 0.05


def guess(tablet: Tablet, guesses: int) -> None:
    """Sign on with a wrong PIN again and again, and push every guess."""
    person = tablet.works.person(GUESSED)
    for _ in range(guesses // A_PUSH):
        tablet.push(enclosures=[tablet.sign_on_as(person, WRONG) for _ in range(A_PUSH)])


def _guesses(pusher: Pusher, person: str, keys: SealingKeys, guesses: int) -> list[bytes]:
    """Pushes of guesses, made before anybody is timed: who is measured lives in the same process."""
    key, bodies = keys.current(), []
    for first in range(len(pusher.made), len(pusher.made) + guesses // A_PUSH * A_PUSH, A_PUSH):
        enclosures = []
        for _ in range(A_PUSH):
            sealed = seal(key.public_key, f"{pusher.writer.chain}:{pusher.writer.n + 1}", WRONG)
            record = pusher.add(SignedOnV1(person=person, sealing_key=key.name, sealed=sha256(sealed)))
            enclosures.append({"record": record, "sealed": base64.b64encode(sealed).decode()})
        lines = pusher.made[first:]
        bodies.append(push_body(pusher.writer.chain, pusher.key, lines, first + 1, enclosures=enclosures))
    return bodies


def _send(pusher: Pusher, bodies: list[bytes]) -> None:
    for body in bodies:
        status, answer = pusher.ask(PUSH, body, LINES)
        assert status == 200, answer


def _push_finds(pusher: Pusher, is_enough: Callable[[], bool]) -> None:
    while not is_enough():
        for _ in range(A_PUSH):
            pusher.find()
        assert pusher.push() == 200


def _pushes_of(pusher: Pusher, is_enough: Callable[[int], bool]) -> dict[str, int]:
    """Milliseconds of an everyday tablet's pushes."""
    took: list[float] = []
    while not is_enough(len(took)):
        for _ in range(FINDS_A_PUSH):
            pusher.find()
        began = time.monotonic()
        assert pusher.push() == 200
        took.append((time.monotonic() - began) * 1000)
        time.sleep(PAUSE_S)
    took.sort()
    places = {"p50": len(took) // 2, "p99": int(len(took) * 0.99), "longest": -1}
    return {"pushes": len(took), **{name: round(took[place]) for name, place in places.items()}}


def measure(served: Served, guesses: int) -> dict[str, Any]:
    """What a tablet waits for alone, beside one that sends as many finds, and beside one that guesses."""
    engine = open_engine(sqlite_url(served.data))
    definition = definition_of(engine)
    with reading(engine) as connection:
        people = of_subject(connection, WORKS_WIDE)
    person = next(one.id for one in people if isinstance(one.body, PersonChangedV1) and one.body.name == GUESSED)
    everyday, busy, guesser = (
        Pusher(served.port, definition, random.Random(1), name) for name in ("everyday", "busy", "guesser")
    )
    everyday.enrol()
    told: dict[str, Any] = {"alone": _pushes_of(everyday, lambda pushes: pushes >= PUSHES)}
    enough = Event()
    with ThreadPoolExecutor() as threads:
        busy.enrol()
        other = threads.submit(_push_finds, busy, enough.is_set)
        told["beside finds"] = _pushes_of(everyday, lambda pushes: pushes >= PUSHES)
        enough.set()
        other.result()
        guesser.enrol()
        assert guesser.push() == 200
        bodies = _guesses(guesser, person, SealingKeys(served.data, SystemClock()), guesses)
        for pusher in (everyday, guesser):
            pusher.close()  # the server hung up on who asked nothing meanwhile
        other = threads.submit(_send, guesser, bodies)
        told["beside guesses"] = _pushes_of(everyday, lambda _: other.done())
        other.result()
    with reading(engine) as connection:
        judged = select(func.count()).where(sign_ons.c.judged, sign_ons.c.chain == guesser.writer.chain)
        told["judged"] = connection.scalar(judged)
        told["waiting"] = connection.scalar(select(func.count()).select_from(sealed_pins))
    engine.dispose()
    return told


def main() -> None:
    """Guess, and say what came of it."""
    words = argparse.ArgumentParser(prog="python -m tests.server.sync.guesses")
    words.add_argument("--guesses", type=int, required=True)
    guesses = words.parse_args().guesses
    with tempfile.TemporaryDirectory() as place:
        served = Served(Path(place) / "works", free_port())
        served.start()
        try:
            told = measure(served, guesses)
        finally:
            served.stop(signal.SIGKILL)
    sys.stdout.write(json.dumps(told, indent=1) + "\n")


if __name__ == "__main__":
    main()
