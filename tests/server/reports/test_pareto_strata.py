# SPDX-License-Identifier: Apache-2.0
"""Every bar of every stratum is what somebody gets who counts the finds by hand."""

from __future__ import annotations

import random
from dataclasses import dataclass
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import UNSET

from tallywright.db import reading
from tallywright.records.envelope import Body
from tallywright.records.route import LotReturnedV1, LotSentV1, OperationFinishedV1, OperationStartedV1
from tallywright.reports.shift_pareto import Question, ShiftPareto, shift_pareto
from tallywright.reports.strata import Only, Sort
from tests.actors import NOON, Tablet, Works
from tests.server.looking import PART, Floor, close, make_floor, word

MINUTE = 60_000
HOUR = 60 * MINUTE
LOT = f"{'b' * 26}:9"
WORDS = {
    "lap": (word("lap", defect_class="critical", born_at=40), "value", "40"),
    "bend": (word("bend", defect_class="major", born_at=50, also_born_at=[40]), "either", "40,50"),
    "stain": (word("stain", defect_class="minor", also_born_at=[120]), "value", "120"),
    "dent": (word("dent", defect_class="minor"), "none", ""),
}


# What the route says: the forge worked with two dies of one cavity each on one press, nobody wrote down who trimmed
# at 50, and one lot was at the anodiser.
FORGE = (("A", "die 1", -10), ("B", "die 2", -8))
DIES: dict[str, tuple[Sort, str]] = {"A": ("value", "die 1"), "B": ("value", "die 2"), "": ("either", "")}
SPANS = {
    ("40", "A"): (-10, -9),
    ("40", "B"): (-8, -7),
    ("40", ""): (-10, -7),
    ("120", "A"): (-6, -2),
    ("120", "B"): (-6, -2),
    ("120", ""): (-6, -2),
}


@dataclass(frozen=True, eq=False)
class Find:
    """One find as whoever made it knows it: its bar in every stratum, its piece, its time, and when it was made."""

    bars: dict[str, tuple[Sort, str]]
    piece: str
    at: int
    made: tuple[int, int] | None


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
    either: tuple[Sort, str] = ("either", "")
    made = SPANS.get((operation, cavity))
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
            "machine": {"40": known("P1"), "40,50": either}.get(operation, known("")),
            "tool": {"40": DIES[cavity], "40,50": either}.get(operation, known("")),
            "cast": ("value", "H-1"),
            "load": ("none", ""),
            "lot": ("value", LOT) if operation == "120" else ("none", ""),
        },
        piece=piece or record.id,
        at=floor.works.clock.now,
        made=None if made is None else (NOON + made[0] * HOUR, NOON + made[1] * HOUR),
    )


def tell_route(floor: Floor) -> None:
    """What the records of the route say of the batch; see FORGE."""

    def say(body: Body, hours: int) -> str:
        about = {"sign_on": floor.counter.sign_on, "batch": floor.batch}
        record = floor.counter.writer.add(body, NOON + hours * HOUR, offset_min=60, skew_ms=0, **about)
        floor.counter.outbox.append(record)
        return record.id

    for cavity, die, hour in FORGE:
        start = OperationStartedV1(operation=40, machine="P1", tool=die, cavities=[cavity], cast="H-1")
        finish = OperationFinishedV1(
            started=say(start, hour), operation=40, pieces_in=6, pieces_out=6, scrap=0, set_up=0, samples=0
        )
        say(finish, hour + 1)
    say(LotSentV1(lot=LOT, operation=120, pieces=12), -6)
    say(LotReturnedV1(lot=LOT, operation=121, counted=12, foreign=0), -2)
    floor.counter.push()


@pytest.fixture
def counted(works: Works) -> Counted:
    """Two looks over three trays; the first look is counted in with two of them, the second not at all."""
    chance = random.Random(11)
    part = msgspec.structs.replace(PART, defects=[entry for entry, _, _ in WORDS.values()])
    floor = make_floor(works, part)
    floor.count_in("first")
    tell_route(floor)
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
    max_examples=80, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], derandomize=True
)
@given(data=st.data())
def test_any_question_is_answered_as_by_hand(counted: Counted, data: st.DataObject) -> None:
    strata = sorted(counted.finds[0].bars)
    axis = data.draw(st.sampled_from(["found", "made"]), label="axis")
    first = NOON - 11 * HOUR if axis == "made" else counted.finds[0].at - MINUTE
    last = counted.finds[-1].at + MINUTE
    start = data.draw(st.integers(first, last - 1), label="from")
    end = data.draw(st.integers(start + 1, last), label="to")
    by = data.draw(st.sampled_from(strata), label="by")
    unit = data.draw(st.sampled_from(["marks", "pieces"]), label="unit")
    narrowed = data.draw(st.lists(st.sampled_from(strata), max_size=2, unique=True), label="strata narrowed")
    of_one = data.draw(st.sampled_from(counted.finds), label="to the bars of one find")
    only = tuple(Only(name, *of_one.bars[name]) for name in narrowed)
    open_to = [find for find in counted.finds if all(find.bars[b.stratum] == (b.sort, b.name) for b in only)]
    spans = {find: find.made or (0, 0) for find in open_to}
    surely = [find for find in open_to if find.made and start <= spans[find][0] and spans[find][1] < end]
    meets = [find for find in open_to if find.made and spans[find][0] < end and start <= spans[find][1]]
    wanted = surely if axis == "made" else [find for find in open_to if start <= find.at < end]

    answer = counted.ask(start=start, end=end, by=by, unit=unit, only=only, axis=axis)

    assert {(bar.sort, bar.name): (bar.count, bar.pieces) for bar in answer.bars} == by_hand(wanted, by)
    assert (answer.marks, answer.pieces) == (len(wanted), len({find.piece for find in wanted}))
    unplaced = [find for find in open_to if find.made is None and find.at >= start]
    beside = (len(meets) - len(surely), len(unplaced)) if axis == "made" else (0, 0)
    assert (answer.perhaps, answer.unplaced) == beside
    lengths = [bar.count if unit == "marks" else bar.pieces for bar in answer.bars]
    assert lengths == sorted(lengths, reverse=True)
    if answer.bars:
        assert answer.bars[-1].cumulative == 1.0
        assert [bar.share for bar in answer.bars] == pytest.approx([one / sum(lengths) for one in lengths])


def test_beside_the_bars_of_trays_stands_how_many_pieces_were_looked_at(works: Works) -> None:
    floor = make_floor(works)
    floor.count_in("first")
    for number, finds in ((1, 2), (2, 1)):
        works.clock.now += HOUR
        floor.first.open_tray(number)
        for _ in range(finds):
            floor.first.find("bend")
        close(floor.first, "first", empty=number - 1, rejected=finds)
    floor.first.open_tray(3)
    floor.first.find("bend")
    floor.first.push()
    counted = Counted(works, [])
    day = {"start": NOON, "end": NOON + 24 * HOUR}

    by_tray = counted.ask(by="tray", **day)
    assert by_tray.looked == 11
    assert {bar.name: (bar.count, bar.looked) for bar in by_tray.bars} == {"1": (2, 6), "2": (1, 5), "3": (1, 0)}
    by_place = counted.ask(by="tray_from_last", only=(Only("look", "value", "first"),), **day)
    assert {bar.name: bar.looked for bar in by_place.bars} == {"1": 5, "2": 6, "": 0}
    assert {bar.name: bar.looked for bar in counted.ask(by="batch", **day).bars} == {floor.batch: 11}
    assert {bar.name: bar.looked for bar in counted.ask(by="part", **day).bars} == {"K-7 B": 11}
    # A tray that was closed before the span, another look, and a stratum that only finds have.
    assert counted.ask(by="tray", start=NOON + 2 * HOUR, end=NOON + 24 * HOUR).looked == 5
    assert counted.ask(by="defect", only=(Only("look", "value", "second"),), **day).looked == 0
    assert [bar.looked for bar in counted.ask(by="defect", **day).bars] == [0]
    assert counted.ask(axis="made", **day).looked == 0
