# SPDX-License-Identifier: Apache-2.0
"""Write tests/vectors/route; what is expected stands here by hand.

Run `python -m tests.server.folds.write_route_vectors` in the repository's root.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from tallywright.records.asked import DifferenceAcceptanceRequestedV1, RequestGrantedV1
from tallywright.records.bench import RecordWithdrawnV1
from tests.server.folds.routing import LOAD, LOT, MAREN, OTHER_LOAD, PIOTR, Floor

FOLDER = Path(__file__).parents[2] / "vectors" / "route"
MINUTE_1 = 1_795_608_060_000  # when the batch is opened; each record of a floor comes a minute later


def at(minute: int) -> int:
    return MINUTE_1 + (minute - 1) * 60_000


def a(n: int) -> str:
    return f"{'a' * 26}:{n}"


def closes() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(40, (100, 88, 6, 4, 2), machine="hammer 2", tool="D-11", cast="K4471")
    return (
        "in = out + scrap + set-up + samples: nothing to say",
        floor,
        {
            "operations": [
                {
                    "operation": 40,
                    "in": 100,
                    "out": 88,
                    "scrap": 6,
                    "set_up": 4,
                    "samples": 2,
                    "short": 0,
                    "over": 0,
                }
            ],
            "differences": [],
            "points": [],
            "made": [
                {"operation": 40, "what": "cast", "value": "K4471", "started_at": at(2), "ended_at": at(3)},
                {"operation": 40, "what": "machine", "value": "hammer 2"},
                {"operation": 40, "what": "person", "value": MAREN},
                {"operation": 40, "what": "stint", "value": a(6)},
                {"operation": 40, "what": "tool", "value": "D-11", "started_at": at(2), "ended_at": at(3)},
            ],
        },
    )


def short_and_over() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(60, (50, 47, 0, 0, 0))
    floor.stint(60, (50, 51, 0, 0, 0), by="b")
    return (
        "three short in one bowl and one over in the other are two lines",
        floor,
        {
            "operations": [{"operation": 60, "in": 100, "out": 98, "short": -3, "over": 1}],
            "differences": [
                {"operation": 60, "kind": "pieces_over", "subject": "60", "amount": 1, "accepted_by": ""},
                {"operation": 60, "kind": "pieces_short", "subject": "60", "amount": -3, "accepted_by": ""},
            ],
        },
    )


def still_inside() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.finish(floor.start(60), 60, (50, 47, 0, 0, 0), inside=2)
    floor.finish(floor.start(60), 60, (50, 50, 0, 0, 0), inside=0)
    return (
        "two of three that did not come out were seen in the bowl: a line of their own, and one is missing",
        floor,
        {
            "operations": [{"operation": 60, "in": 100, "out": 97, "inside": 2, "short": -1, "over": 0}],
            "differences": [
                {"operation": 60, "kind": "pieces_short", "subject": "60", "amount": -1},
                {"operation": 60, "kind": "still_inside", "subject": "60", "amount": -2},
            ],
        },
    )


def recounted_alike() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.stint(60, (100, 97, 2, 1, 0))
    floor.recount(stint, "out", 97)
    floor.recount(stint, "made", 100, how="counter")
    floor.recount(stint, "out", 97, how="weighed")
    return ("four ways to count that agree say nothing new", floor, {"differences": [], "points": []})


def recounted_otherwise() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.stint(60, (100, 97, 3, 0, 0))
    floor.recount(stint, "out", 95)
    floor.recount(stint, "made", 101, how="counter")
    floor.recount(stint, "out", 96, how="weighed")
    floor.recount(stint, "out", 90, by="c")
    return (
        "a second person, the counter and the scale stand beside the count, each a line while it differs; "
        "whoever is not proven counts for nothing",
        floor,
        {
            "operations": [{"operation": 60, "in": 100, "out": 97, "short": 0}],
            "differences": [
                {"operation": 60, "kind": "counter_differs", "subject": f"60 made {stint}", "amount": 1},
                {"operation": 60, "kind": "recounts_differ", "subject": f"60 out {stint}", "amount": 2},
                {"operation": 60, "kind": "weighed_differs", "subject": f"60 out {stint}", "amount": -1},
            ],
            "points": [{"kind": "count_not_proven"}],
        },
    )


def settled_by_another() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.start(60)
    finish = floor.finish(stint, 60, (100, 97, 3, 0, 0))
    floor.recount(stint, "out", 95, settles=[finish.id])
    return (
        "a recount by another person that names the first count holds in its place: two are missing",
        floor,
        {
            "operations": [{"operation": 60, "in": 100, "out": 95, "short": -2}],
            "differences": [{"operation": 60, "kind": "pieces_short", "subject": "60", "amount": -2}],
        },
    )


def settled_by_oneself() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.start(60)
    finish = floor.finish(stint, 60, (100, 97, 3, 0, 0))
    floor.recount(stint, "out", 95, by="a", settles=[finish.id])
    return (
        "nobody settles an own count by a second one: both stand",
        floor,
        {
            "operations": [{"operation": 60, "in": 100, "out": 97, "short": 0}],
            "differences": [{"operation": 60, "kind": "recounts_differ", "amount": 2}],
        },
    )


def settled_in_a_ring() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.stint(60, (100, 97, 3, 0, 0))
    one = floor.recount(stint, "out", 95, settles=[a(7), f"{'a' * 26}:8"])
    floor.recount(stint, "out", 96, by="a", settles=[one.id])
    return (
        "two who settle each other's counts leave none standing, so that all of them do",
        floor,
        {
            "operations": [{"operation": 60, "out": 97}],
            "differences": [{"operation": 60, "kind": "recounts_differ", "amount": 2}],
        },
    )


def scrap_by_two() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(40, (100, 88, 12, 0, 0))
    whole = floor.destroy(40, handed_in=6, destroyed=5, kept=1)
    floor.second(whole.id)
    lost = floor.destroy(40, handed_in=6, destroyed=4, kept=1)
    floor.second(lost.id, by="a")
    floor.second(lost.id, by="c")
    return (
        "handed in = destroyed + kept, or it is a line; nobody is an own second, and nobody unproven is one",
        floor,
        {
            "differences": [{"operation": 40, "kind": "scrap_differs", "subject": lost.id, "amount": -1}],
            "points": [{"kind": "destruction_not_seconded", "subject": lost.id, "amount": 6}],
        },
    )


def accepted_at_that_amount_only() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(60, (100, 98, 0, 0, 0))
    asked = [
        floor.add(
            DifferenceAcceptanceRequestedV1(
                subject="60", difference="pieces_short", amount=amount, seen=[], why="searched the bowl"
            )
        ).id
        for amount in (-1, -2)
    ]
    for request in asked:
        floor.add(RequestGrantedV1(request=request), "s")
    return (
        "a granted acceptance closes the line at its own amount",
        floor,
        {"differences": [{"kind": "pieces_short", "amount": -2, "accepted_by": asked[1]}]},
    )


def finished_twice() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.start(30)
    floor.finish(stint, 30, (100, 98, 2, 0, 0))
    floor.finish(stint, 30, (100, 98, 2, 0, 0))
    other = floor.start(50)
    floor.finish(other, 50, (98, 95, 3, 0, 0))
    floor.finish(other, 50, (98, 96, 2, 0, 0), by="b")
    return (
        "a stint finished twice alike counts once; otherwise it is a line, and the first by id counts",
        floor,
        {
            "operations": [{"operation": 30, "in": 100, "out": 98}, {"operation": 50, "in": 98, "out": 95}],
            "differences": [{"operation": 50, "kind": "finishes_differ", "subject": other, "amount": 1}],
        },
    )


def withdrawn_before_seen() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.start(30)
    wrong = floor.finish(stint, 30, (100, 90, 2, 0, 0))
    floor.add(RecordWithdrawnV1(record=wrong.id))
    floor.finish(stint, 30, (100, 98, 2, 0, 0))
    return (
        "a count that was taken back was never counted",
        floor,
        {"operations": [{"operation": 30, "in": 100, "out": 98, "scrap": 2}], "differences": [], "points": []},
    )


def not_proven() -> tuple[str, Floor, Any]:
    floor = Floor()
    stint = floor.start(30)
    late = floor.finish(stint, 30, (100, 98, 2, 0, 0), by="c")
    open_stint = floor.start(40)
    return (
        "a count by nobody who is proven does not count, and a stint that goes on is not counted yet",
        floor,
        {
            "operations": [],
            "points": [
                {"kind": "count_not_proven", "subject": late.id, "amount": 0},
                {"kind": "stint_not_finished", "subject": open_stint, "amount": 0},
            ],
        },
    )


def foreign_is_not_missing() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(90, (100, 100, 0, 0, 0))
    floor.send(100)
    back = floor.take_back(counted=98, foreign=1, stated=100)
    return (
        "98 came back and one of them is another's: three of ours are missing, one is over",
        floor,
        {
            "operations": [
                {"operation": 90, "in": 100, "out": 100},
                {"operation": 110, "in": 100, "out": 97, "short": -3, "over": 0, "is_back": True},
            ],
            "differences": [
                {"operation": 110, "kind": "foreign_pieces", "subject": back.id, "amount": 1},
                {"operation": 110, "kind": "pieces_short", "subject": "110", "amount": -3},
            ],
            "made": [
                {"operation": 90, "what": "person"},
                {"operation": 90, "what": "stint"},
                {"operation": 100, "what": "lot", "value": LOT, "started_at": at(4), "ended_at": at(5)},
            ],
        },
    )


def lot_away() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.send(60)
    return (
        "a lot that did not come back is open, and so is its span",
        floor,
        {
            "operations": [],
            "differences": [],
            "points": [{"kind": "lot_away", "subject": LOT, "amount": 60}],
            "made": [{"what": "lot", "value": LOT, "started_at": at(2), "ended_at": 0}],
        },
    )


def goes_on() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(40, (50, 50, 0, 0, 0), machine="hammer 2")
    floor.start(40, machine="hammer 2")
    return (
        "a machine that has begun again has no end, though it ended before",
        floor,
        {
            "made": [
                {"what": "machine", "value": "hammer 2", "started_at": at(2), "ended_at": 0},
                {"what": "person", "value": MAREN, "ended_at": 0},
                {"what": "stint"},
                {"what": "stint"},
            ]
        },
    )


def either_of_two() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(80, (60, 60, 0, 0, 0), machine="furnace 1")
    floor.stint(80, (40, 40, 0, 0, 0), by="b", machine="furnace 2")
    floor.fill(LOAD, 80, 60)
    floor.fill(OTHER_LOAD, 80, 39)
    return (
        "two furnaces, two people, two loads: either can have made a piece",
        floor,
        {
            "differences": [{"operation": 80, "kind": "loads_differ", "subject": "80", "amount": -1}],
            "made": [
                {"what": "load", "value": LOAD},
                {"what": "load", "value": OTHER_LOAD},
                {"what": "machine", "value": "furnace 1", "started_at": at(2), "ended_at": at(3)},
                {"what": "machine", "value": "furnace 2", "started_at": at(4), "ended_at": at(5)},
                {"what": "person", "value": MAREN},
                {"what": "person", "value": PIOTR},
                {"what": "stint"},
                {"what": "stint"},
            ],
        },
    )


def samples_and_their_fate() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(86, (100, 95, 0, 0, 5))
    floor.sample(86, 4)
    floor.sample(86, 3, fate="given_back")
    return (
        "five samples were counted, four are accounted for; what was given back is in the batch again",
        floor,
        {"differences": [{"operation": 86, "kind": "samples_differ", "subject": "86", "amount": -1}]},
    )


def assembly_without_rivet() -> tuple[str, Floor, Any]:
    floor = Floor()
    floor.stint(130, (100, 97, 3, 0, 0))
    floor.components(130, issued=80, left=0, scrapped=3)
    floor.components(130, issued=30, left=11, scrapped=0, lot="R-13")
    floor.stint(140, (97, 97, 0, 0, 0))
    floor.components(140, issued=1, left=0, scrapped=0)
    return (
        "96 rivets in 97 assemblies: one has none; the one used later in the test is a line of its own",
        floor,
        {
            "differences": [
                {"operation": 130, "kind": "components_short", "subject": "130 rivet", "amount": -1},
                {"operation": 140, "kind": "components_over", "subject": "140 rivet", "amount": 1},
            ]
        },
    )


CASES: tuple[Callable[[], tuple[str, Floor, Any]], ...] = (
    closes,
    short_and_over,
    still_inside,
    recounted_alike,
    recounted_otherwise,
    settled_by_another,
    settled_by_oneself,
    settled_in_a_ring,
    scrap_by_two,
    accepted_at_that_amount_only,
    finished_twice,
    withdrawn_before_seen,
    not_proven,
    foreign_is_not_missing,
    lot_away,
    goes_on,
    either_of_two,
    samples_and_their_fate,
    assembly_without_rivet,
)


def write() -> None:
    FOLDER.mkdir(exist_ok=True)
    for case in CASES:
        name, floor, expect = case()
        vector = {
            "name": name,
            "records": [record.line.decode() for record in floor.records],
            "proven": floor.proven,
            "expect": expect,
        }
        text = json.dumps(vector, indent=2, ensure_ascii=False)
        (FOLDER / f"{case.__name__}.json").write_text(text + "\n", encoding="utf-8")


if __name__ == "__main__":
    write()
