# SPDX-License-Identifier: Apache-2.0
"""Write tests/vectors/checks; what is expected stands here by hand.

Run `python -m tests.server.folds.write_check_vectors` in the repository's root.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from tests.actors import ANYBODY, NOON
from tests.server.folds.checking import COUNT, DIE_HEAT, FORGE, GRAIN, HEIGHT, LAP, MISMATCH, PART, Cell

FOLDER = Path(__file__).parents[2] / "vectors" / "checks"


def at(minute: int) -> int:
    return NOON + minute * 60_000


def due(number: int, role: str, left: int, at_made: int = 0, at_time: int = 0) -> dict[str, Any]:
    return {
        "operation": FORGE,
        "characteristic": number,
        "role": role,
        "left": left,
        "at_made": at_made,
        "at_time": at_time,
    }


def exposed(number: int, last_good: str, pieces: int | str) -> dict[str, Any]:
    return {"operation": FORGE, "characteristic": number, "last_good": last_good, "pieces": pieces}


def begun() -> tuple[Cell, Any]:
    """The stint has begun: first-offs are due, what goes by pieces waits for them."""
    cell = Cell()
    cell.start()
    return cell, {
        "operations": [{"operation": FORGE, "made": "unknown", "told_at": at(2), "is_running": True}],
        "checks": [],
        "due": [
            due(HEIGHT, "first_off", 3),
            due(HEIGHT, "in_process", 1, 25),
            due(LAP, "first_off", 6),
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
            due(GRAIN, "first_off", 1),
        ],
        "unanswered": [],
    }


def not_begun() -> tuple[Cell, Any]:
    """Nothing is due before anybody began."""
    return Cell(), {"operations": [], "due": [], "exposures": [], "checks": []}


def first_offs_taken() -> tuple[Cell, Any]:
    """The first-offs are answered, one answer for six pieces among them; the next is 25 pieces away."""
    cell = Cell()
    cell.start()
    cell.first_offs()
    cell.make(26)
    last_height, lap = cell.records[4].id, cell.records[5].id
    return cell, {
        "operations": [{"operation": FORGE, "made": 26, "told_at": at(8), "is_running": True}],
        "due": [
            due(HEIGHT, "in_process", 1, 25),
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
        ],
        "exposures": [
            exposed(HEIGHT, last_height, 26),
            exposed(LAP, lap, 26),
            exposed(MISMATCH, "", 26),
            exposed(DIE_HEAT, "", 26),
            exposed(COUNT, "", 26),
            exposed(GRAIN, cell.records[6].id, 26),
        ],
    }


def out_of_tolerance() -> tuple[Cell, Any]:
    """A good value beside a bad one makes it no good one: the exposure goes on from the last good check."""
    cell = Cell()
    cell.start()
    good = cell.take(HEIGHT, "13.60", 0)
    cell.make(25)
    bad = cell.take(HEIGHT, "13.61", 25)
    again = cell.take(HEIGHT, "13.58", 25, repeats=bad)
    return cell, {
        "checks": [
            {"id": good, "said": "13.60", "outcome": "good", "root": good},
            {"id": bad, "said": "13.61", "outcome": "out", "root": bad, "mistyped": False},
            {"id": again, "said": "13.58", "outcome": "good", "root": bad},
        ],
        "exposures": [exposed(HEIGHT, good, 25), {}, {}, {}, {}, {}],
        "unanswered": [bad],
    }


def typing_error() -> tuple[Cell, Any]:
    """What was mistyped stays and says nothing; what stands beside it is the check."""
    cell = Cell()
    cell.start()
    typed = cell.take(HEIGHT, "1.32", 0)
    meant = cell.take(HEIGHT, "13.20", 0, repeats=typed, typing_error=True)
    return cell, {
        "checks": [
            {"id": typed, "said": "1.32", "outcome": "out", "mistyped": True},
            {"id": meant, "said": "13.20", "outcome": "good", "mistyped": False, "root": typed},
        ],
        "exposures": [exposed(HEIGHT, typed, 0), {}, {}, {}, {}, {}],
        "unanswered": [],
    }


def reaction() -> tuple[Cell, Any]:
    """Once it is said what was done, plan R1 asks for the first-off anew, of that characteristic alone."""
    cell = Cell()
    cell.start()
    cell.first_offs()
    cell.make(25)
    cell.take(LAP, "yes", 25)
    bad = cell.take(HEIGHT, "12.89", 25)
    cell.react(bad, 25)
    return cell, {
        "due": [
            due(HEIGHT, "first_off", 3),
            due(HEIGHT, "in_process", 1, 50),
            due(LAP, "in_process", 1, 50),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
        ],
        "unanswered": [],
    }


def one_sided() -> tuple[Cell, Any]:
    """An upper limit alone, and a gauge that shows more digits than the limit: compared as numbers."""
    cell = Cell()
    cell.start()
    for value in ("0.40", "0.400000001", "0", "-0.1"):
        cell.take(MISMATCH, value)
    return cell, {
        "checks": [{"outcome": "good"}, {"outcome": "out"}, {"outcome": "good"}, {"outcome": "good"}],
    }


def nobody_counted() -> tuple[Cell, Any]:
    """A check is taken and nobody said how many were made: that is unknown, and not none."""
    cell = Cell()
    cell.start()
    good = cell.take(HEIGHT, "13.20")
    return cell, {
        "operations": [{"operation": FORGE, "made": "unknown"}],
        "checks": [{"id": good, "made": "unknown"}],
        "exposures": [exposed(HEIGHT, good, "unknown"), *[{"pieces": "unknown"}] * 5],
    }


def missed() -> tuple[Cell, Any]:
    """A missed check is said and done with; the exposure goes on."""
    cell = Cell()
    cell.start()
    good = cell.take(HEIGHT, "13.20", 0)
    cell.make(30)
    said = cell.miss(HEIGHT, 30)
    cell.miss(LAP, 30, "first_off")
    return cell, {
        "missed": [
            {
                "id": said.id,
                "operation": FORGE,
                "characteristic": HEIGHT,
                "role": "in_process",
                "why": "no gauge",
            },
            {"characteristic": LAP, "role": "first_off"},
        ],
        "due": [
            due(HEIGHT, "first_off", 3),
            due(HEIGHT, "in_process", 1, 55),
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
            due(GRAIN, "first_off", 1),
        ],
        "exposures": [exposed(HEIGHT, good, 30), {}, {}, {}, {}, {}],
    }


def changes() -> tuple[Cell, Any]:
    """Another die opens the first-offs and the last-offs of the old one, not what is asked once a cast."""
    cell = Cell()
    cell.start()
    cell.first_offs()
    cell.change("die")
    cell.change("tray")
    cell.take(LAP, "yes", 0, role="first_off", pieces=2)
    return cell, {
        "due": [
            due(HEIGHT, "first_off", 3),
            due(HEIGHT, "last_off", 1),
            due(HEIGHT, "in_process", 1, 25),
            due(LAP, "first_off", 4),
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
            due(COUNT, "in_process", 1),
        ],
    }


def last_of_the_old_die() -> tuple[Cell, Any]:
    """Another die asks for the last-off of the old one, unless its last piece was told and looked at before."""
    cell = Cell()
    cell.start()
    cell.first_offs()
    cell.change("die")
    cell.take(HEIGHT, "13.20", 40, role="last_off")
    for value in ("13.20", "13.25", "13.15"):
        cell.take(HEIGHT, value, 40, role="first_off")
    cell.change("last_piece")
    cell.take(HEIGHT, "13.20", 60, role="last_off")
    cell.change("tool")
    return cell, {
        "due": [
            due(HEIGHT, "first_off", 3),
            due(HEIGHT, "in_process", 1, 85),
            due(LAP, "first_off", 6),
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
            due(COUNT, "last_off", 1),  # of the last piece of all, not of the die
        ],
    }


def stood_still() -> tuple[Cell, Any]:
    """None made is a number: the time since the last one begins anew, and how many were made stays known."""
    cell = Cell()
    cell.start()
    cell.make(20)
    cell.make(0)
    return cell, {"operations": [{"operation": FORGE, "made": 20, "told_at": at(4), "is_running": True}]}


def last_piece() -> tuple[Cell, Any]:
    """The last piece opens the last-offs; they stay due once the stint is ended, and nothing else does."""
    cell = Cell()
    stint = cell.start()
    cell.first_offs()
    cell.change("last_piece")
    cell.take(COUNT, "25", 25, role="last_off")
    cell.finish(stint, 25)
    return cell, {
        "operations": [{"operation": FORGE, "made": 25, "is_running": False}],
        "due": [due(HEIGHT, "last_off", 1)],
    }


def another_cast() -> tuple[Cell, Any]:
    """A second crew begins the first-offs anew; what is asked once a cast waits for another cast."""
    cell = Cell()
    cell.finish(cell.start(), 0)
    cell.miss(HEIGHT, 0, "last_off")
    cell.miss(COUNT, 0, "last_off")
    cell.take(GRAIN, "yes", 0, role="first_off")
    cell.start("b")
    before = [due(HEIGHT, "first_off", 3), due(HEIGHT, "in_process", 1, 25), due(LAP, "first_off", 6)]
    return cell, {
        "due": [
            *before,
            due(LAP, "in_process", 1, 25),
            due(MISMATCH, "in_process", 1, 50),
            due(DIE_HEAT, "in_process", 1, 0, at(62)),
        ],
    }


def withdrawn_before_seen() -> tuple[Cell, Any]:
    """A check that was taken back, whichever came first, clears nothing."""
    cell = Cell()
    cell.start()
    wrong = cell.take(HEIGHT, "13.20", 0, role="first_off", pieces=3)
    cell.take_back(wrong)
    return cell, {
        "checks": [],
        "due": [due(HEIGHT, "first_off", 3), {}, {}, {}, {}, {}, {}],
    }


def two_tablets() -> tuple[Cell, Any]:
    """What two tablets tell of one operation adds up; a ring of repeats ends somewhere."""
    cell = Cell()
    cell.start()
    cell.make(10)
    cell.make(15, "b")
    cell.take(HEIGHT, "13.20", 10, "b", repeats=f"{'a' * 26}:9")
    cell.take(HEIGHT, "13.30", 25, "a", repeats=f"{'b' * 26}:6")
    cell.take(HEIGHT, "13.30", 25, "a", repeats=f"{'a' * 26}:9")
    return cell, {
        "operations": [{"operation": FORGE, "made": 25}],
        "checks": [{"outcome": "good"}, {"outcome": "good"}, {"outcome": "good"}],
    }


def unknown_definition() -> tuple[Cell, Any]:
    """A check of a characteristic that the plan does not have cannot be judged, and is kept."""
    cell = Cell()
    cell.start()
    odd = cell.take(99, "13.20", 0)
    return cell, {"checks": [{"id": odd, "outcome": "unjudged"}]}


CASES: list[Callable[[], tuple[Cell, Any]]] = [
    another_cast,
    begun,
    changes,
    first_offs_taken,
    last_of_the_old_die,
    last_piece,
    missed,
    nobody_counted,
    not_begun,
    one_sided,
    out_of_tolerance,
    reaction,
    stood_still,
    two_tablets,
    typing_error,
    unknown_definition,
    withdrawn_before_seen,
]


def main() -> None:
    """Write one file a case."""
    FOLDER.mkdir(exist_ok=True)
    for make in CASES:
        cell, expect = make()
        case = {
            "says": make.__doc__,
            "definitions": {ANYBODY: msgspec.to_builtins(PART)},
            "proven": cell.proven,
            "records": [record.line.decode() for record in cell.records],
            "expect": expect,
        }
        text = json.dumps(case, indent=1, ensure_ascii=False) + "\n"
        (FOLDER / f"{make.__name__}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
