# SPDX-License-Identifier: Apache-2.0
"""What a push and a Pareto cost with a million and five million records stored, beside a log of ten thousand.

The two logs are pushed to in turns, so that whatever else the machine does meets both. In one process, without
HTTP; medians. Every stored record is a find, the worst mix that a report of finds can meet.
"""

from __future__ import annotations

from collections.abc import Iterator
from functools import partial
from pathlib import Path

from sqlalchemy import text

from tallywright.config import sqlite_url
from tallywright.db import reading
from tallywright.reports.shift_pareto import Question, shift_pareto
from tallywright.reports.strata import STRATA, Only
from tests.actors import NOON, Works, join_works, make_demo_works
from tests.speed.figures import Figure, Floor, Spent, median, timed
from tests.speed.pushes import send, whole_batches
from tests.speed.stored import fill

FEW, STORED = 10_000, (1_000_000, 5_000_000)
# Records of a push, and how many pushes each of the two logs gets.
PUSHES = {500: 15, 10: 60}
MOST_RATIO = 1.1
TURNS = 15
DAY_MS = 24 * 60 * 60 * 1000
SPANS = {  # with the milliseconds that are aimed at
    "a shift": (Question(), 20.0, TURNS),
    "six weeks": (Question(start=NOON - 42 * DAY_MS, end=NOON + DAY_MS), 50.0, 5),
    "the whole history": (Question(start=0, end=NOON + DAY_MS), 300.0, 1),
}
OF_A_SHIFT = {
    **{f"by {name}": Question(by=name) for name in STRATA},
    "of one word, by tray": Question(by="tray", only=(Only("defect", "value", "burn"),)),
    "by pieces": Question(unit="pieces"),
    "made on": Question(axis="made"),
}


def pushes(folder: Path) -> Iterator[Figure]:
    """Fill two logs, and push to both in turns."""
    few, many = (_works(folder / name) for name in ("few", "many"))
    fill(few, 0, FEW)
    held = 0
    for stored in STORED:
        fill(many, held, stored)
        held = stored
        for size, count in PUSHES.items():
            yield _compared(few, many, stored, size, count)
    for works in (few, many):
        works.engine.dispose()


def paretos(folder: Path) -> Iterator[Figure]:
    """Fill a log, and ask it for spans that grow."""
    held = STORED[-1]
    many = _works(folder / "many")
    fill(many, 0, held)
    for name, (question, most, turns) in SPANS.items():
        spent = _asked(many, question, turns)
        floor = median(timed(partial(_count, many, question)) for _ in range(turns))
        yield Figure(
            f"Pareto of {name}, {held:,} stored", spent.wall * 1000, "ms", at_most=most,
            floor=Floor("count of the rows of the span", floor.wall * 1000), cpu=spent.cpu * 1000,
        )  # fmt: skip
    times = {name: _asked(many, question, TURNS) for name, question in OF_A_SHIFT.items()}
    slowest = max(times, key=lambda name: times[name].wall)
    yield Figure(
        f"Pareto of a shift, the slowest of {len(times)} ({slowest})", times[slowest].wall * 1000, "ms",
        at_most=20.0, cpu=times[slowest].cpu * 1000,
    )  # fmt: skip
    many.engine.dispose()


def _works(folder: Path) -> Works:
    folder.mkdir()
    make_demo_works(folder, sqlite_url(folder))
    return join_works(folder, sqlite_url(folder))


def _compared(few: Works, many: Works, stored: int, size: int, count: int) -> Figure:
    """What a push costs in the large log, as often as in the small one; each is one whole batch."""
    tablets = [works.tablet() for works in (few, many)]
    for tablet in tablets:
        tablet.push()
    bodies = [whole_batches(tablet, count, size, f"GROWN-{stored}-{size}") for tablet in tablets]
    pairs = [
        [timed(partial(send, tablet, push)) for tablet, push in zip(tablets, both, strict=True)]
        for both in zip(*bodies, strict=True)
    ]
    small, large = (median(times) for times in zip(*pairs, strict=True))
    return Figure(
        f"push of {size} with {stored:,} stored, as often as with {FEW:,}", large.wall / small.wall, "",
        at_most=MOST_RATIO, cpu=large.cpu * 1000 / size,
        floor=Floor("the log of few", 1.0, small.cpu * 1000 / size),
    )  # fmt: skip


def _asked(works: Works, question: Question, turns: int) -> Spent:
    def ask() -> None:
        with reading(works.engine) as connection:
            assert shift_pareto(connection, NOON, question).marks > 0

    return median(timed(ask) for _ in range(turns))


def _count(works: Works, question: Question) -> None:
    start, end = question.start, question.end
    if start is None or end is None:
        start, end = NOON - 4 * 60 * 60 * 1000, NOON + 4 * 60 * 60 * 1000
    with reading(works.engine) as connection:
        wanted = text("SELECT count(*) FROM finds WHERE found_at >= :start AND found_at < :end")
        assert connection.scalar(wanted, {"start": start, "end": end})
