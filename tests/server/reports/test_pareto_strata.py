# SPDX-License-Identifier: Apache-2.0
"""Every bar of every stratum is what somebody gets who counts the finds by hand."""

from __future__ import annotations

import random
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

import msgspec
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from msgspec import UNSET

from tallywright import db
from tallywright.db import insert_rows, reading, writing
from tallywright.projections.tables import spans, sums
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.envelope import Body
from tallywright.records.route import LotReturnedV1, LotSentV1, OperationFinishedV1, OperationStartedV1
from tallywright.reports import shift_pareto as module
from tallywright.reports.shift_pareto import BY_BATCH_FROM_MS, Question, ShiftPareto, shift_pareto
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
    """One find as whoever made it knows it: its bars, its piece of its batch, its time, and when it was made."""

    bars: dict[str, tuple[Sort, str]]
    piece: tuple[str, str]
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


@dataclass(frozen=True)
class Batch:
    """A batch that is looked at; `route` is how many hours behind FORGE it was made, None where nobody told it."""

    name: str
    route: int | None

    def origin(self, stratum: str, told: tuple[Sort, str]) -> dict[str, tuple[Sort, str]]:
        return {stratum: ("none", "") if self.route is None else told}

    def made(self, operation: str, cavity: str) -> tuple[int, int] | None:
        if self.route is None or (operation, cavity) not in SPANS:
            return None
        first, last = SPANS[operation, cavity]
        return NOON + (first + self.route) * HOUR, NOON + (last + self.route) * HOUR


def find_at_random(
    floor: Floor, batch: Batch, tablet: Tablet, look: str, chance: random.Random, tray: int, pieces: list[str]
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
            "batch": ("value", batch.name),
            **batch.origin("machine", {"40": known("P1"), "40,50": either}.get(operation, known(""))),
            **batch.origin("tool", {"40": DIES[cavity], "40,50": either}.get(operation, known(""))),
            **batch.origin("cast", ("value", "H-1")),
            "load": ("none", ""),
            **batch.origin("lot", ("value", LOT) if operation == "120" else ("none", "")),
        },
        piece=(batch.name, piece or record.id),
        at=floor.works.clock.now,
        made=batch.made(operation, cavity),
    )


def tell_route(floor: Floor, batch: Batch) -> None:
    """What the records of the route say of the batch; see FORGE."""
    if batch.route is None:
        return
    later = batch.route

    def say(body: Body, hours: int) -> str:
        about = {"sign_on": floor.counter.sign_on, "batch": batch.name}
        record = floor.counter.writer.add(body, NOON + (hours + later) * HOUR, offset_min=60, skew_ms=0, **about)
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


def next_batch(floor: Floor, number: str, route: int | None) -> Batch:
    """Everybody goes on with another batch of the same part."""
    definition = floor.counter.batch["definition"]
    opened = floor.counter.add(
        BatchOpenedV1(number=number, pieces=12), sign_on=floor.counter.sign_on, definition=definition
    )
    for tablet in (floor.counter, floor.first, floor.second):
        tablet.batch = {"batch": opened.id, "definition": definition}
    floor.counter.push()
    return Batch(opened.id, route)


def look_at(floor: Floor, batch: Batch, chance: random.Random, taps: int, pieces: list[str]) -> Iterator[Find]:
    """Two looks over three trays; the first look is counted in with two of them, the second not at all."""
    floor.count_in("first")
    tell_route(floor, batch)
    for look, tablet in (("first", floor.first), ("second", floor.second)):
        for tray in (1, 2, 3):
            tablet.open_tray(tray, look)
            for _ in range(taps):
                yield find_at_random(floor, batch, tablet, look, chance, tray, pieces)
            gone = tablet.find("lap", look)
            tablet.push()
            tablet.withdraw(gone.id)
        tablet.push()


@pytest.fixture
def counted(works: Works) -> Counted:
    """Batches one behind the other, made at other hours or nobody knows when; the last one has lost its only mark.

    Something of an hour ago comes late to the second, and a piece of another batch is named here and there.
    """
    chance, pieces = random.Random(11), list[str]()
    part = msgspec.structs.replace(PART, defects=[entry for entry, _, _ in WORDS.values()])
    floor = make_floor(works, part)
    finds = list(look_at(floor, Batch(floor.batch, 0), chance, 8, pieces))
    second = next_batch(floor, "K7-2", 3)
    finds += look_at(floor, second, chance, 4, pieces)
    finds += look_at(floor, next_batch(floor, "K7-3", None), chance, 3, pieces)
    finds += look_at(floor, next_batch(floor, "K7-4", 8), chance, 4, pieces)
    next_batch(floor, "K7-5", None)
    floor.first.open_tray(1, "first")
    gone = floor.first.find("lap")
    floor.first.push()
    floor.first.withdraw(gone.id)
    floor.first.push()
    works.clock.now -= HOUR
    floor.second.batch = floor.second.batch | {"batch": second.name}
    floor.second.open_tray(3, "second")
    finds += [find_at_random(floor, second, floor.second, "second", chance, 3, pieces) for _ in range(3)]
    floor.second.push()
    works.clock.now += HOUR
    return Counted(works, finds)


def by_hand(finds: list[Find], by: str) -> dict[tuple[str, str], tuple[int, int]]:
    keys = {find.bars[by] for find in finds}
    of = {key: [find.piece for find in finds if find.bars[by] == key] for key in keys}
    return {key: (len(pieces), len(set(pieces))) for key, pieces in of.items()}


def ends_of_batches(finds: list[Find]) -> list[int]:
    """When each batch was first and last found at, and made."""
    ends = set()
    for name in {find.bars["batch"] for find in finds}:
        of_batch = [find for find in finds if find.bars["batch"] == name]
        for times in ([find.at for find in of_batch], [at for find in of_batch for at in find.made or ()]):
            ends |= {min(times, default=NOON), max(times, default=NOON)}
    return sorted(ends)


@settings(
    max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture], derandomize=True
)
@given(data=st.data())
def test_any_question_is_answered_as_by_hand(counted: Counted, data: st.DataObject) -> None:
    strata = sorted(counted.finds[0].bars)
    by_batch_from = data.draw(st.sampled_from([1, BY_BATCH_FROM_MS]), label="by batch from")
    axis = data.draw(st.sampled_from(["found", "made"]), label="axis")
    times = [find.at for find in counted.finds]
    first = NOON - 11 * HOUR if axis == "made" else min(times) - MINUTE
    last = (NOON + 7 * HOUR if axis == "made" else max(times)) + MINUTE
    edge = st.builds(int.__add__, st.sampled_from(ends_of_batches(counted.finds)), st.integers(-1, 1))
    start = data.draw(st.integers(first, last - 1) | edge | edge, label="from")
    end = max(start + 1, data.draw(st.integers(first, last) | edge | edge, label="to"))
    by = data.draw(st.sampled_from(strata), label="by")
    unit = data.draw(st.sampled_from(["marks", "pieces"]), label="unit")
    some = data.draw(st.sampled_from([[], ["part", "batch"], strata]), label="of strata")
    narrowed = data.draw(st.lists(st.sampled_from(some), max_size=2, unique=True), label="narrowed") if some else []
    of_one = data.draw(st.sampled_from(counted.finds), label="to the bars of one find")
    only = tuple(Only(name, *of_one.bars[name]) for name in narrowed)
    open_to = [find for find in counted.finds if all(find.bars[b.stratum] == (b.sort, b.name) for b in only)]
    spans = {find: find.made or (0, 0) for find in open_to}
    surely = [find for find in open_to if find.made and start <= spans[find][0] and spans[find][1] < end]
    meets = [find for find in open_to if find.made and spans[find][0] < end and start <= spans[find][1]]
    wanted = surely if axis == "made" else [find for find in open_to if start <= find.at < end]

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(module, "BY_BATCH_FROM_MS", by_batch_from)
        patch.setattr(db, "MOST_NAMES", 1)
        answer = counted.ask(start=start, end=end, by=by, unit=unit, only=only, axis=axis)

    assert {(bar.sort, bar.name): (bar.count, bar.pieces) for bar in answer.bars} == by_hand(wanted, by)
    if by == "batch":
        assert {bar.label for bar in answer.bars} <= {"K7-1", "K7-2", "K7-3", "K7-4"}
    assert (answer.marks, answer.pieces) == (len(wanted), len({find.piece for find in wanted}))
    unplaced = [find for find in open_to if find.made is None and find.at >= start]
    beside = (len(meets) - len(surely), len(unplaced)) if axis == "made" else (0, 0)
    assert (answer.perhaps, answer.unplaced) == beside
    lengths = [bar.count if unit == "marks" else bar.pieces for bar in answer.bars]
    assert lengths == sorted(lengths, reverse=True)
    if answer.bars:
        assert answer.bars[-1].cumulative == 1.0
        assert [bar.share for bar in answer.bars] == pytest.approx([one / sum(lengths) for one in lengths])


def test_a_find_at_the_very_end_of_a_long_span_is_not_in_it_and_one_at_its_beginning_is(works: Works) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    tablet.find()
    works.clock.now += module.BY_BATCH_FROM_MS
    tablet.find()
    tablet.push()
    last, counted = works.clock.now, Counted(works, [])
    spans_of_two = [(NOON, last + 1), (NOON, last), (NOON + 1, last + 2)]
    assert [counted.ask(start=start, end=end).marks for start, end in spans_of_two] == [2, 1, 1]


def test_there_may_be_more_batches_than_a_question_to_the_database_can_name(works: Works) -> None:
    many = range(40_000)  # SQLite takes 32,766 names
    with writing(works.engine) as connection:
        insert_rows(connection, spans, [(f"b{n}", NOON, NOON, 0, 0, 1) for n in many])
        insert_rows(
            connection, sums, [(by, f"b{n}", False, False, f"b{n}", 1, 1) for n in many for by in ("", "batch")]
        )
    answer = Counted(works, []).ask(by="batch", start=NOON - module.BY_BATCH_FROM_MS, end=NOON + 1)
    assert (len(answer.bars), answer.marks, answer.pieces) == (40_000, 40_000, 40_000)
    across = Counted(works, []).ask(axis="made", by="batch", start=NOON, end=NOON + 1)
    assert (len(across.bars), across.unplaced) == (0, 40_000)


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
