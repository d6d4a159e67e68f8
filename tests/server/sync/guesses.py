# SPDX-License-Identifier: Apache-2.0
"""One tablet that guesses a PIN thousands of times: how many guesses are judged, and what others wait meanwhile.

python -m tests.server.sync.guesses --guesses 10000
"""

from __future__ import annotations

import argparse
import json
import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from sqlalchemy import func, select

from tallywright.access.tables import sealed_pins
from tallywright.config import sqlite_url
from tallywright.db import reading
from tallywright.log.read import of_subject
from tallywright.records.people import SignOnJudgedV1
from tests.actors import Tablet, Works, join_works, make_demo_works

GUESSED, WRONG = "Ines Brandt", "9182"
OTHER, RIGHT = "Piotr Zielny", "5823"
A_PUSH = 100  # as many sealed PINs as one push may carry
OTHER_TABLETS = 100


def guess(tablet: Tablet, guesses: int) -> None:
    """Sign on with a wrong PIN again and again, and push every guess."""
    person = tablet.works.person(GUESSED)
    for _ in range(guesses // A_PUSH):
        tablet.push(enclosures=[tablet.sign_on_as(person, WRONG) for _ in range(A_PUSH)])


def judged(works: Works, chain: str) -> list[SignOnJudgedV1]:
    """The server's judgements of the sign-ons of a chain."""
    with reading(works.engine) as connection:
        records = of_subject(connection, f"@{chain}")
    return [record.body for record in records if isinstance(record.body, SignOnJudgedV1)]


def _pushes_of_others(works: Works) -> dict[str, float]:
    """Milliseconds of CPU of another tablet's first push, with a sealed PIN and without."""
    person = works.person(OTHER)
    told = {}
    for name, is_sealed in (("find", False), ("sign-on", True)):
        took = []
        for number in range(OTHER_TABLETS):
            tablet = works.tablet(f"bench {number}")
            enclosures = [tablet.sign_on_as(person, RIGHT)] if is_sealed else []
            tablet.open_tray()
            tablet.find()
            began = time.process_time()
            tablet.push(enclosures=enclosures)
            took.append((time.process_time() - began) * 1000)
        told[f"{name}, p50"] = round(statistics.median(took), 1)
        told[f"{name}, p99"] = round(sorted(took)[-2], 1)
    return told


def main() -> None:
    """Guess, and say what came of it."""
    words = argparse.ArgumentParser(prog="python -m tests.server.sync.guesses")
    words.add_argument("--guesses", type=int, required=True)
    guesses = words.parse_args().guesses
    with tempfile.TemporaryDirectory() as place:
        folder = Path(place)
        make_demo_works(folder, sqlite_url(folder))
        works = join_works(folder, sqlite_url(folder))
        told: dict[str, Any] = {"before": _pushes_of_others(works)}
        tablet = works.tablet("the one that guesses")
        began = time.monotonic()
        guess(tablet, guesses)
        told |= {"guesses": guesses, "seconds": round(time.monotonic() - began)}
        told["judged"] = len(judged(works, tablet.writer.chain))
        with reading(works.engine) as connection:
            told["waiting"] = connection.scalar(select(func.count()).select_from(sealed_pins))
        told["after"] = _pushes_of_others(works)
    sys.stdout.write(json.dumps(told, indent=1) + "\n")


if __name__ == "__main__":
    main()
