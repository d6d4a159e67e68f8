# SPDX-License-Identifier: Apache-2.0
"""The rows that say what can have made a batch's pieces: filled by a push, the same from a rebuild."""

from __future__ import annotations

from tallywright.db import writing
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import RecordWithdrawnV1
from tallywright.records.decode import Record
from tallywright.records.route import (
    LoadFilledV1,
    LoadOpenedV1,
    LotOpenedV1,
    LotSentV1,
    OperationFinishedV1,
    OperationStartedV1,
)
from tests.actors import Tablet, Works
from tests.server.looking import OPERATOR
from tests.server.sync.asking import signed_on


def forge(tablet: Tablet) -> Record:
    """A stint at the hammer, and the tablet's push of it."""
    started = tablet.at_bench(OperationStartedV1(operation=40, machine="hammer 2", cast="K4471"))
    tablet.works.clock.now += 60_000
    tablet.at_bench(
        OperationFinishedV1(
            started=started.id, operation=40, pieces_in=50, pieces_out=49, scrap=1, set_up=0, samples=0
        )
    )
    tablet.push()
    return started


def test_a_stint_says_machine_cast_and_person_with_its_span(works: Works) -> None:
    tablet = signed_on(works, "forge", OPERATOR)
    began = works.clock.now
    stint = forge(tablet)
    found = {(row["what"], row["value"]): (row["started_at"], row["ended_at"]) for row in works.rows("made")}
    span = (began, began + 60_000)
    assert found == {
        ("cast", "K4471"): span,
        ("machine", "hammer 2"): span,
        ("person", works.person(OPERATOR[0])): span,
        ("stint", stint.id): span,
    }
    assert {row["batch"] for row in works.rows("made")} == {tablet.batch["batch"]}


def test_a_load_takes_pieces_of_a_batch_and_keeps_its_own_number(works: Works) -> None:
    tablet = signed_on(works, "furnace", OPERATOR)
    load = tablet.add(LoadOpenedV1(operation=80, number="F-204"), sign_on=tablet.sign_on)
    lot = tablet.add(LotOpenedV1(operation=100, number="A-31", firm="Blue Film"), sign_on=tablet.sign_on)
    tablet.at_bench(LoadFilledV1(load=load.id, operation=80, pieces=50))
    tablet.at_bench(LotSentV1(lot=lot.id, operation=100, pieces=50))
    tablet.push()
    named = {row["load"]: (row["what"], row["operation"], row["number"]) for row in works.rows("loads")}
    assert named == {load.id: ("load", 80, "F-204"), lot.id: ("lot", 100, "A-31")}
    assert [(row["operation"], row["what"], row["value"], row["ended_at"]) for row in works.rows("made")] == [
        (80, "load", load.id, works.clock.now),
        (100, "lot", lot.id, 0),
    ]


def test_a_load_is_no_batch(works: Works) -> None:
    tablet = signed_on(works, "furnace", OPERATOR)
    before = [row["batch"] for row in works.rows("batch_pages")]
    tablet.add(LoadOpenedV1(operation=80, number="F-204"), sign_on=tablet.sign_on)
    tablet.push()
    assert [row["batch"] for row in works.rows("batch_pages")] == before
    assert works.rows("stale") == []


def test_a_load_that_was_opened_by_mistake_is_taken_back(works: Works) -> None:
    tablet = signed_on(works, "furnace", OPERATOR)
    load = tablet.add(LoadOpenedV1(operation=80, number="F-204"), sign_on=tablet.sign_on)
    tablet.add(RecordWithdrawnV1(record=load.id), sign_on=tablet.sign_on, batch=load.id)
    tablet.push()
    assert works.rows("loads") == []


def test_a_rebuild_gives_the_same_rows(works: Works) -> None:
    tablet = signed_on(works, "forge", OPERATOR)
    forge(tablet)
    tablet.add(LoadOpenedV1(operation=80, number="F-204"), sign_on=tablet.sign_on)
    tablet.push()
    with writing(works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before
    assert before["made"]
    assert before["loads"]
