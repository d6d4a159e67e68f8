# SPDX-License-Identifier: Apache-2.0
"""Every bar of every stratum is what somebody gets who counts the finds by hand."""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import UNSET

from tallywright.db import reading
from tallywright.reports.shift_pareto import Question, ShiftPareto, shift_pareto
from tallywright.reports.strata import Only, Sort
from tests.actors import Tablet, Works
from tests.server.looking import PART, Floor, make_floor, word

MINUTE = 60_000
WORDS = {
    "lap": (word("lap", defect_class="critical", born_at=40), "value", "40"),
    "bend": (word("bend", defect_class="major", born_at=50, also_born_at=[40]), "either", "40,50"),
    "stain": (word("stain", defect_class="minor", also_born_at=[120]), "value", "120"),
    "dent": (word("dent", defect_class="minor"), "none", ""),
}


@dataclass(frozen=True)
class Find:
    """One find as whoever made it knows it: its bar in every stratum, its piece and its time."""

    bars: dict[str, tuple[Sort, str]]
    piece: str
    at: int


@dataclass(frozen=True)
class Counted:
    """A works with finds, and the finds beside it."""

    works: Works
    finds: list[Find]

    def ask(self, **question: Any) -> ShiftPareto:
        with reading(self.works.engine) as connection:
            return shift_pareto(connection, self.works.clock.now, Question(**question))


def known(text: str) -> tuple[Sort, str]:
    return ("value", text) if text else ("none", "")


def find_at_random(
    floor: Floor, tablet: Tablet, look: str, chance: random.Random, tray: int, pieces: list[str]
) -> Find:
    """One tap, sometimes on a piece that was marked before; what was said of it is kept beside it."""
    floor.works.clock.now += chance.randrange(3) * MINUTE
    defect = chance.choice(list(WORDS))
    zone, cavity = chance.choice(["", "bow", "ear"]), chance.choice(["", "A", "B"])
    piece = chance.choice(pieces) if pieces and chance.random() < 0.3 else ""
    record = tablet.find(defect, look, zone=zone or UNSET, cavity=cavity or UNSET, piece=piece or UNSET)
    pieces.append(piece or record.id)
    _, sort, operation = WORDS[defect]
    return Find(
        bars={
            "defect": ("value", defect),
            "operation": (sort, operation),  # type: ignore[dict-item]
            "look": ("value", look),
            "zone": known(zone),
            "cavity": known(cavity),
            "tray": known(str(tray)),
            "tray_from_last": known({1: "2", 2: "1"}.get(tray, "")) if look == "first" else known(""),
            "part": ("value", "K-7 B"),
            "batch": ("value", floor.batch),
        },
        piece=piece or record.id,
        at=floor.works.clock.now,
    )


@pytest.fixture
def counted(works: Works) -> Counted:
    """Two looks over three trays; the first look is counted in with two of them, the second not at all."""
    chance = random.Random(11)
    part = msgspec.structs.replace(PART, defects=[entry for entry, _, _ in WORDS.values()])
    floor = make_floor(works, part)
    floor.count_in("first")
    finds: list[Find] = []
    for look, tablet in (("first", floor.first), ("second", floor.second)):
        for tray in (1, 2, 3):
            tablet.open_tray(tray, look)
            pieces: list[str] = []
            for _ in range(12):
                finds.append(find_at_random(floor, tablet, look, chance, tray, pieces))
            gone = tablet.find("lap", look)
            tablet.withdraw(gone.id)
        tablet.push()
    return Counted(works, finds)


def by_hand(finds: list[Find], by: str) -> dict[tuple[str, str], tuple[int, int]]:
    keys = {find.bars[by] for find in finds}
    of = {key: [find.piece for find in finds if find.bars[by] == key] for key in keys}
    return {key: (len(pieces), len(set(pieces))) for key, pieces in of.items()}


@settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], derandomize=True
)
@given(data=st.data())
def test_any_question_is_answered_as_by_hand(counted: Counted, data: st.DataObject) -> None:
    strata = sorted(counted.finds[0].bars)
    first, last = counted.finds[0].at, counted.finds[-1].at
    start = data.draw(st.integers(first - MINUTE, last), label="from")
    end = data.draw(st.integers(start + 1, last + MINUTE), label="to")
    by = data.draw(st.sampled_from(strata), label="by")
    unit = data.draw(st.sampled_from(["marks", "pieces"]), label="unit")
    narrowed = data.draw(st.lists(st.sampled_from(strata), max_size=2, unique=True), label="strata narrowed")
    of_one = data.draw(st.sampled_from(counted.finds), label="to the bars of one find")
    only = tuple(Only(name, *of_one.bars[name]) for name in narrowed)
    wanted = [
        find
        for find in counted.finds
        if start <= find.at < end and all(find.bars[bar.stratum] == (bar.sort, bar.name) for bar in only)
    ]

    answer = counted.ask(start=start, end=end, by=by, unit=unit, only=only)

    assert {(bar.sort, bar.name): (bar.count, bar.pieces) for bar in answer.bars} == by_hand(wanted, by)
    assert (answer.marks, answer.pieces) == (len(wanted), len({find.piece for find in wanted}))
    length: Callable[[Any], int] = lambda bar: bar.count if unit == "marks" else bar.pieces  # noqa: E731
    assert [length(bar) for bar in answer.bars] == sorted(map(length, answer.bars), reverse=True)
    if answer.bars:
        assert answer.bars[-1].cumulative == 1.0
        assert sum(map(length, answer.bars)) == pytest.approx(length(answer.bars[0]) / answer.bars[0].share)
