# SPDX-License-Identifier: Apache-2.0
"""Sealed PINs: judged once, by this server, for one record; destroyed with the judgement; never in the log."""

from __future__ import annotations

import base64
from contextlib import suppress

import pytest
from sqlalchemy import Connection, event, select

from tallywright.access.pins import WRONG_PINS, set_pin
from tallywright.access.sealing import GONE_AFTER_MS, seal
from tallywright.access.tables import sealed_pins
from tallywright.db import reading, writing
from tallywright.log.read import every_line, of_subject
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.bench import AuthorshipConfirmedV1
from tallywright.records.decode import Record, sha256
from tallywright.records.people import SignedOnV1, SignOnJudgedV1
from tallywright.sync.judge import Enclosure
from tests.actors import Tablet, Works
from tests.server.sync.guesses import guess

NAME, PIN = "Ines Brandt", "4071"


@pytest.fixture
def tablet(works: Works) -> Tablet:
    return works.tablet()


def is_proven(works: Works, sign_on: str) -> bool:
    return next(bool(row["proven"]) for row in works.rows("sign_ons") if row["sign_on"] == sign_on)


def judgements(works: Works, chain: str) -> list[SignOnJudgedV1]:
    with reading(works.engine) as connection:
        records = of_subject(connection, f"@{chain}")
    return [record.body for record in records if isinstance(record.body, SignOnJudgedV1)]


def waiting(works: Works) -> list[str]:
    with reading(works.engine) as connection:
        return list(connection.scalars(select(sealed_pins.c.sign_on)))


def test_the_right_pin_proves_the_sign_on(works: Works, tablet: Tablet) -> None:
    enclosure = tablet.sign_on_as(works.person(NAME), PIN)
    tablet.push(enclosures=[enclosure])
    assert is_proven(works, tablet.sign_on)
    assert waiting(works) == []


def test_a_wrong_pin_does_not_and_every_record_is_kept(works: Works, tablet: Tablet) -> None:
    enclosure = tablet.sign_on_as(works.person(NAME), "9182")
    tablet.open_tray()
    find = tablet.find()
    answer = tablet.push(enclosures=[enclosure])
    assert answer["exceptions"] == []
    assert not is_proven(works, tablet.sign_on)
    assert [row["id"] for row in works.rows("finds")] == [find.id]


def test_a_sign_on_without_a_sealed_pin_is_never_proven(works: Works, tablet: Tablet) -> None:
    tablet.push()
    assert not is_proven(works, tablet.sign_on)


def test_a_sealed_pin_fits_no_other_record(works: Works, tablet: Tablet) -> None:
    person = works.person(NAME)
    stolen = tablet.sign_on_as(person, PIN)
    key = works.joined.sealing.current()
    other = tablet.add(SignedOnV1(person=person, sealing_key=key.name, sealed=sha256(stolen.sealed)))
    tablet.push(enclosures=[Enclosure(other.id, stolen.sealed)])
    assert not is_proven(works, other.id)


def test_a_sealed_pin_fits_no_other_person(works: Works, tablet: Tablet) -> None:
    enclosure = tablet.sign_on_as(works.person("Piotr Zielny"), PIN)
    tablet.push(enclosures=[enclosure])
    assert not is_proven(works, tablet.sign_on)


def test_other_bytes_than_the_record_names_are_not_even_kept(works: Works, tablet: Tablet) -> None:
    tablet.sign_on_as(works.person(NAME), PIN)
    other = seal(works.joined.sealing.current().public_key, tablet.sign_on, PIN)
    tablet.push(enclosures=[Enclosure(tablet.sign_on, other)])
    assert (judgements(works, tablet.writer.chain), waiting(works)) == ([], [])


def test_a_key_of_more_than_thirty_days_opens_nothing(works: Works, tablet: Tablet) -> None:
    enclosure = tablet.sign_on_as(works.person(NAME), PIN)
    works.clock.now += GONE_AFTER_MS
    tablet.push(enclosures=[enclosure])
    assert not is_proven(works, tablet.sign_on)


def test_the_same_enclosure_again_is_judged_no_second_time(works: Works, tablet: Tablet) -> None:
    enclosure = tablet.sign_on_as(works.person(NAME), PIN)
    outbox = list(tablet.outbox)
    tablet.push(outbox, [enclosure])
    tablet.push(outbox, [enclosure])
    assert [body.proven for body in judgements(works, tablet.writer.chain)] == [True]


def test_what_a_server_left_unjudged_when_it_died_is_judged_with_the_next_push_of_anybody(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    def dies(*_given: object) -> int:
        raise SystemExit

    monkeypatch.setattr("tallywright.sync.push.judge", dies)
    with suppress(SystemExit):
        tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    assert waiting(works) == [tablet.sign_on]
    monkeypatch.undo()
    other = works.tablet("bench 2")
    other.open_tray()
    other.push()
    assert is_proven(works, tablet.sign_on)
    assert waiting(works) == []


def test_bytes_that_may_stand_in_a_file_are_waited_for_and_judged_no_second_time(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    enclosure = tablet.sign_on_as(works.person(NAME), PIN)
    monkeypatch.setattr("tallywright.sync.judge.forget_deleted", lambda _engine: False)
    tablet.push(enclosures=[enclosure])
    assert waiting(works) == [tablet.sign_on]
    monkeypatch.undo()
    tablet.open_tray()
    tablet.push(enclosures=[enclosure])
    assert waiting(works) == []
    assert len(judgements(works, tablet.writer.chain)) == 1


def test_a_rebuild_judges_nothing_anew(works: Works, tablet: Tablet) -> None:
    tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    with writing(works.engine) as connection:
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before


def test_a_judgement_folds_what_its_chain_wrote_behind_the_sign_on_and_nothing_before(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A tablet that worked for a year signs on as fast as one of today."""
    from tallywright.projections.refold import refold
    from tallywright.sync import judge

    tablet.open_tray()
    tablet.push()
    folded: list[set[str]] = []

    def told(connection: Connection, subjects: set[str], fresh: dict[bytes, Record]) -> list[str]:
        folded.append(subjects)
        return refold(connection, subjects, fresh)

    monkeypatch.setattr(judge, "refold", told)
    chain, batch = f"@{tablet.writer.chain}", tablet.batch["batch"]
    tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    sealed = tablet.sign_on_as(works.person(NAME), PIN)
    tablet.find()
    tablet.push(enclosures=[sealed])
    assert folded == [{chain}, {chain, batch}]


def test_rows_of_many_sign_ons_are_those_of_a_rebuild(works: Works, tablet: Tablet) -> None:
    for number in range(4):
        sealed = tablet.sign_on_as(works.person(NAME), PIN if number % 2 else "9182")
        tablet.find() if number else tablet.open_tray()
        tablet.push(enclosures=[sealed])
    with writing(works.engine) as connection:
        before = rows(connection)
        assert sum(proven for *_, proven in before["sign_ons"]) >= 2
        rebuild(connection)
        assert rows(connection) == before


def test_after_ten_wrong_pins_that_pair_of_person_and_tablet_waits(works: Works, tablet: Tablet) -> None:
    person = works.person(NAME)
    for _ in range(WRONG_PINS):
        tablet.push(enclosures=[tablet.sign_on_as(person, "9182")])
    enclosure = tablet.sign_on_as(person, PIN)
    tablet.push(enclosures=[enclosure])
    assert len(judgements(works, tablet.writer.chain)) == WRONG_PINS
    assert waiting(works) == [enclosure.record]
    # Others are not held up: the same person on another tablet, another person on this one.
    other = works.tablet("bench 2")
    other.push(enclosures=[other.sign_on_as(person, PIN)])
    assert is_proven(works, other.sign_on)
    tablet.push(enclosures=[tablet.sign_on_as(works.person("Piotr Zielny"), "5823")])
    assert is_proven(works, tablet.sign_on)


def test_a_pair_that_waits_is_judged_again_once_the_person_has_a_new_pin(works: Works, tablet: Tablet) -> None:
    person = works.person(NAME)
    for _ in range(WRONG_PINS):
        tablet.push(enclosures=[tablet.sign_on_as(person, "9182")])
    enclosure = tablet.sign_on_as(person, PIN)
    tablet.push(enclosures=[enclosure])
    with writing(works.engine) as connection:
        set_pin(connection, works.clock.now, person, ["inspector"], "6184")
    later = tablet.sign_on_as(person, "6184")
    tablet.push(enclosures=[later])
    assert is_proven(works, later.record)
    assert not is_proven(works, enclosure.record)
    assert waiting(works) == []


def test_many_guesses_in_one_push_are_not_opened_beyond_ten(works: Works, tablet: Tablet) -> None:
    person = works.person(NAME)
    enclosures = [tablet.sign_on_as(person, "9182") for _ in range(25)]
    tablet.push(enclosures=enclosures)
    assert len(judgements(works, tablet.writer.chain)) == WRONG_PINS


def test_a_thousand_guesses_over_many_pushes_are_not_opened_beyond_ten_and_cost_no_other_tablet_a_statement(
    works: Works, tablet: Tablet
) -> None:
    others = [works.tablet(f"bench {number}") for number in (2, 3, 4)]

    def statements(other: Tablet) -> int:
        enclosure = other.sign_on_as(works.person("Piotr Zielny"), "5823")
        run: list[str] = []

        def note(_connection: object, _cursor: object, statement: str, *_more: object) -> None:
            run.append(statement)

        event.listen(works.engine, "before_cursor_execute", note)
        other.push(enclosures=[enclosure])
        event.remove(works.engine, "before_cursor_execute", note)
        assert is_proven(works, enclosure.record)
        return len(run)

    statements(others[0])  # what is prepared but once
    before = statements(others[1])
    guess(tablet, 1000)
    assert len(judgements(works, tablet.writer.chain)) == WRONG_PINS
    assert len(waiting(works)) == 1000 - WRONG_PINS
    assert statements(others[2]) == before


def test_a_proven_person_may_take_back_what_was_marked_under_an_earlier_sign_on(
    works: Works, tablet: Tablet
) -> None:
    person = works.person(NAME)
    first = tablet.sign_on_as(person, PIN)
    tablet.open_tray()
    find = tablet.find()
    second = tablet.sign_on_as(person, PIN)
    tablet.withdraw(find.id)
    tablet.push()
    assert [row["id"] for row in works.rows("finds")] == [find.id]
    tablet.find("burn")
    tablet.push(enclosures=[first, second])
    assert [row["defect"] for row in works.rows("finds")] == ["burn"]


def test_no_pin_and_no_sealed_byte_is_in_the_log_or_a_pull(works: Works, tablet: Tablet) -> None:
    person, pin = works.person(NAME), "zebra 7719 quill"
    with writing(works.engine) as connection:
        set_pin(connection, works.clock.now, person, [], pin)
    enclosure = tablet.sign_on_as(person, pin)
    tablet.push(enclosures=[enclosure])
    assert is_proven(works, enclosure.record)
    with reading(works.engine) as connection:
        log = b"\n".join(line for _, line in every_line(connection))
    _, lines = tablet.pull(chain=tablet.writer.chain)
    for text in (log, b"\n".join(lines)):
        assert b"sign_on_judged" in text
        assert pin.encode() not in text
        assert enclosure.sealed not in text
        assert base64.b64encode(enclosure.sealed) not in text


def test_a_tablet_hears_how_its_own_sign_on_was_judged(works: Works, tablet: Tablet) -> None:
    head, _ = tablet.pull(chain=tablet.writer.chain)
    tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    _, lines = tablet.pull(after=head["cursor"], chain=tablet.writer.chain)
    assert [b"sign_on_judged" in line for line in lines] == [True]


def test_a_pair_brings_whose_sign_ons_stand_behind_it(works: Works, tablet: Tablet) -> None:
    tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    tablet.open_tray()
    tablet.push()
    other = works.tablet("bench 2")
    head, _ = other.pull(carry=f"{tablet.batch['batch']}/first")
    assert {"sign_on": tablet.sign_on, "person": works.person(NAME), "proven": True} in head["sign_ons"]
    assert other.pull(carry=f"{tablet.batch['batch']}/second")[0]["sign_ons"] != head["sign_ons"]


def test_what_a_wrong_pin_did_in_a_tray_has_an_author_once_one_confirms_it(works: Works, tablet: Tablet) -> None:
    wrong = tablet.sign_on_as(works.person(NAME), "9182")
    for number in (1, 2):
        tablet.open_tray(number)
        tablet.find()
    tablet.push(enclosures=[wrong])
    right = tablet.sign_on_as(works.person(NAME), PIN)
    tablet.at_bench(AuthorshipConfirmedV1(look="first", tray=tablet.tray, of_sign_on=wrong.record))
    tablet.push(enclosures=[right])
    authors = {row["tray"]: row["author"] for row in works.rows("finds")}
    assert authors.pop(tablet.tray) == works.person(NAME)
    assert list(authors.values()) == [""]


def test_a_tablet_hears_how_the_sign_ons_of_a_chain_it_left_behind_were_judged(
    works: Works, tablet: Tablet
) -> None:
    tablet.push()
    left, new = tablet.writer.chain, works.tablet("begun anew").writer.chain
    cursor = tablet.pull(chain=left)[0]["cursor"]
    tablet.push(enclosures=[tablet.sign_on_as(works.person(NAME), PIN)])
    assert tablet.pull(after=cursor, chain=new)[1] == []
    _, lines = tablet.pull(after=cursor, chain=[new, left])
    assert sum(b"sign_on_judged" in line for line in lines) == 1


def test_a_pull_names_a_bounded_number_of_chains(tablet: Tablet) -> None:
    answer = tablet.client.get("/api/v1/sync/pull", query_string={"chain": [tablet.writer.chain] * 21})
    assert answer.status_code == 400
