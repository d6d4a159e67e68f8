# SPDX-License-Identifier: Apache-2.0
"""What a tablet gets: works-wide records, the pairs it carries, never another look's marks, never its own again."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from sqlalchemy import delete, select

from tallywright.db import reading, writing
from tallywright.log.tables import records
from tallywright.records.decode import decode
from tests.actors import Tablet, Works


def ids(lines: list[bytes]) -> list[str]:
    return [decode(line).id for line in lines]


def kinds(lines: list[bytes]) -> set[str]:
    return {msgspec.json.decode(line)["kind"] for line in lines}


@pytest.fixture
def giver(works: Works) -> Tablet:
    giver = works.tablet("giver")
    giver.open_tray()
    return giver


@pytest.fixture
def taker(works: Works) -> Tablet:
    return works.tablet("taker")


def pair(tablet: Tablet, look: str = "first") -> str:
    return f"{tablet.batch['batch']}/{look}"


def test_a_first_pull_brings_what_is_works_wide(taker: Tablet) -> None:
    head, lines = taker.pull()
    assert kinds(lines) == {"works_opened", "device_enrolled", "person_changed", "definition_published"}
    assert (head["count"], head["more"]) == (len(lines), False)


def test_lines_are_the_bytes_that_were_pushed(giver: Tablet, taker: Tablet) -> None:
    sent = [giver.outbox[-1].line, giver.find().line]
    giver.push()
    _, lines = taker.pull(carry=pair(taker))
    assert lines[-2:] == sent


def test_a_pair_brings_the_batch_itself_and_its_look(giver: Tablet, taker: Tablet) -> None:
    giver.find()
    giver.push()
    _, lines = taker.pull(carry=pair(taker))
    assert {"batch_opened", "tray_opened", "defect_tallied"} <= kinds(lines)


def test_another_looks_marks_are_never_sent(giver: Tablet, taker: Tablet) -> None:
    find = giver.find()
    giver.push()
    _, lines = taker.pull(carry=pair(taker, "second"))
    assert find.id not in ids(lines)
    assert not any(find.id.encode() in line for line in lines)
    assert "batch_opened" in kinds(lines)


def test_a_batch_nobody_carries_is_not_sent(giver: Tablet, taker: Tablet) -> None:
    giver.find()
    giver.push()
    _, lines = taker.pull()
    assert "defect_tallied" not in kinds(lines)


def test_own_records_are_not_sent_back(giver: Tablet) -> None:
    giver.find()
    giver.push()
    _, lines = giver.pull(carry=pair(giver), chain=giver.writer.chain)
    assert "defect_tallied" not in kinds(lines)


def test_the_answer_says_how_far_the_askers_own_chain_is_held(giver: Tablet, taker: Tablet) -> None:
    giver.push()
    waiting = int(giver.find().id.split(":")[1])
    assert giver.pull(chain=giver.writer.chain)[0]["chain_newest"] == waiting - 1
    giver.push()
    assert giver.pull(chain=[giver.writer.chain, taker.writer.chain])[0]["chain_newest"] == waiting
    assert giver.pull()[0]["chain_newest"] == 0


def test_own_records_that_left_the_tablet_come_back_with_a_pair_that_is_taken_up_again(giver: Tablet) -> None:
    finds = [giver.find() for _ in range(3)]
    giver.push()
    kept = finds[2].envelope.n
    _, lines = giver.pull(carry=pair(giver), chain=giver.writer.chain, kept=kept)
    assert [one.id in ids(lines) for one in finds] == [True, True, False]


def test_a_cursor_brings_only_what_came_behind_it(giver: Tablet, taker: Tablet) -> None:
    giver.push()
    head, _ = taker.pull(carry=pair(taker))
    find = giver.find()
    giver.push()
    cursor = head["cursor"]
    _, lines = taker.pull(after=cursor, carry=f"{pair(taker)}@{cursor}")
    assert ids(lines) == [find.id]


def test_an_unchanged_log_answers_with_the_same_cursor_and_no_lines(taker: Tablet) -> None:
    head, _ = taker.pull()
    again, lines = taker.pull(after=head["cursor"])
    assert (again["cursor"], lines) == (head["cursor"], [])


def test_a_pair_just_taken_up_comes_whole_beside_an_old_cursor(giver: Tablet, taker: Tablet) -> None:
    find = giver.find()
    giver.push()
    head, _ = taker.pull()
    _, lines = taker.pull(after=head["cursor"], carry=pair(taker))
    assert find.id in ids(lines)
    assert "definition_published" not in kinds(lines)


def test_hazard_e4_pages_are_bounded_and_together_bring_every_line_once(
    works: Works, giver: Tablet, taker: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("tallywright.sync.pull.MOST_LINES", 4)
    finds = [giver.find().id for _ in range(21)]
    giver.push()
    query = {"carry": pair(taker)}
    got: list[str] = []
    while True:
        head, lines = taker.pull(**query)
        assert len(lines) <= 4
        got += ids(lines)
        query = {"after": head["cursor"], "carry": f"{pair(taker)}@{head['cursor']}"}
        if not head["more"]:
            break
    assert len(got) == len(set(got))
    assert [record for record in got if record in finds] == finds
    with reading(works.engine) as connection:
        # All came at one instant: a cursor that is a time would lose those beyond the first page.
        assert len(set(connection.scalars(select(records.c.received_at).where(records.c.look == "first")))) == 1


def test_pages_are_bounded_in_bytes(giver: Tablet, taker: Tablet, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("tallywright.sync.pull.MOST_BYTES", 1_000)
    for _ in range(5):
        giver.find()
    giver.push()
    head, lines = taker.pull(carry=pair(taker))
    assert head["more"]
    assert sum(len(line) + 1 for line in lines) <= 1_000 or len(lines) == 1


def test_a_cursor_of_another_log_is_void(taker: Tablet) -> None:
    head, _ = taker.pull()
    number = head["cursor"].split(".")[0]
    answer = taker.client.get("/api/v1/sync/pull", query_string={"after": f"{number}.{'d' * 26}:1"})
    assert (answer.status_code, answer.json["code"]) == (409, "cursor-void")


def test_hazard_e7_a_number_that_was_given_twice_does_not_pass_for_the_record_a_cursor_names(
    works: Works, giver: Tablet, taker: Tablet
) -> None:
    giver.find()
    giver.push()
    cursor = taker.pull()[0]["cursor"]
    number = int(cursor.split(".")[0])
    with writing(works.engine) as connection:
        connection.execute(delete(records).where(records.c.number == number))
    other = works.tablet("bench 3")
    assert taker.pull()[0]["cursor"].split(".")[0] == str(number)
    other.open_tray()
    answer = taker.client.get("/api/v1/sync/pull", query_string={"after": cursor})
    assert (answer.status_code, answer.json["code"]) == (409, "cursor-void")


def test_a_cursor_beyond_the_log_is_void(taker: Tablet) -> None:
    answer = taker.client.get("/api/v1/sync/pull", query_string={"after": f"999999.{'d' * 26}:1"})
    assert answer.json["code"] == "cursor-void"


@pytest.mark.parametrize("query", [{"after": "12"}, {"carry": "batch"}, {"chain": "x"}, {"colour": "red"}])
def test_a_question_of_another_form_is_refused(taker: Tablet, query: dict[str, str]) -> None:
    answer = taker.client.get("/api/v1/sync/pull", query_string=query)
    assert (answer.status_code, answer.json["code"]) == (400, "request-not-understood")


def test_the_head_of_the_servers_chain_is_signed(works: Works, taker: Tablet) -> None:
    from tallywright.records.signature import is_signed, public_text, run_text

    head = taker.pull()[0]["head"]
    text = run_text(head["chain"], head["n"], head["hash"])
    assert is_signed(public_text(works.own.key), text, head["signature"])


def test_a_push_between_the_number_and_the_rows_cannot_slip_in(
    giver: Tablet, taker: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    from tallywright.log.read import Line, lines_behind

    giver.push()
    find = giver.find()

    def after_a_push(*asked: Any) -> list[Line]:
        if giver.outbox:
            giver.push()
        return lines_behind(*asked)

    monkeypatch.setattr("tallywright.sync.pull.lines_behind", after_a_push)
    head, lines = taker.pull(carry=pair(taker))
    assert find.id not in ids(lines)
    _, lines = taker.pull(after=head["cursor"], carry=f"{pair(taker)}@{head['cursor']}")
    assert ids(lines) == [find.id]
