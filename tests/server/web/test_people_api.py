# SPDX-License-Identifier: Apache-2.0
"""A person sets a PIN with a one-time word; nobody knows it before, and nobody has one by default."""

from __future__ import annotations

import pytest
from werkzeug.test import TestResponse

from tallywright.access.codes import DAY_MS, WRONG_CODES_A_MINUTE, make_code, pin_of
from tallywright.access.pins import WRONG_PINS
from tallywright.db import writing
from tallywright.records.people import PersonChangedV1, StandIn
from tests.actors import Tablet, Works

NEW = "5291"


def word_for(works: Works, person: str) -> str:
    with writing(works.engine) as connection:
        return make_code(connection, works.clock, pin_of(person), DAY_MS)


def set_pin(tablet: Tablet, person: str, word: str, pin: str = NEW) -> TestResponse:
    return tablet.client.post("/api/v1/pins", json={"person": person, "word": word, "pin": pin})


def is_proven(works: Works, tablet: Tablet, person: str, pin: str) -> bool:
    tablet.push(enclosures=[tablet.sign_on_as(person, pin)])
    return next(bool(row["proven"]) for row in works.rows("sign_ons") if row["sign_on"] == tablet.sign_on)


@pytest.fixture
def tablet(works: Works) -> Tablet:
    return works.tablet()


@pytest.fixture
def person(works: Works) -> str:
    return works.person("Ines Brandt")


def test_a_word_sets_the_pin_of_its_person_once(works: Works, tablet: Tablet, person: str) -> None:
    word = word_for(works, person)
    assert set_pin(tablet, person, word).status_code == 201
    assert is_proven(works, tablet, person, NEW)
    assert not is_proven(works, tablet, person, "4071")
    again = set_pin(tablet, person, word, "6203")
    assert (again.status_code, again.json["code"]) == (403, "code-refused")


def test_a_word_of_somebody_else_sets_nothing(works: Works, tablet: Tablet, person: str) -> None:
    word = word_for(works, works.person("Piotr Zielny"))
    assert set_pin(tablet, person, word).json["code"] == "code-refused"


def test_a_word_ends_after_a_day(works: Works, tablet: Tablet, person: str) -> None:
    word = word_for(works, person)
    works.clock.now += DAY_MS
    assert set_pin(tablet, person, word).json["code"] == "code-refused"


def test_an_easy_pin_is_refused_and_the_word_stays_good(works: Works, tablet: Tablet, person: str) -> None:
    word = word_for(works, person)
    assert set_pin(tablet, person, word, "1234").json["code"] == "pin-refused"
    assert set_pin(tablet, person, word).status_code == 201


def test_words_cannot_be_guessed_in_a_hurry(works: Works, tablet: Tablet, person: str) -> None:
    word = word_for(works, person)
    for _ in range(WRONG_CODES_A_MINUTE):
        assert set_pin(tablet, person, "AAAAAAAA").status_code == 403
    assert set_pin(tablet, person, word).json["code"] == "too-many-tries"


def test_a_new_pin_lets_a_tablet_that_guessed_too_often_go_on(works: Works, tablet: Tablet, person: str) -> None:
    for _ in range(WRONG_PINS):
        assert not is_proven(works, tablet, person, "9182")
    set_pin(tablet, person, word_for(works, person))
    assert is_proven(works, tablet, person, NEW)


def test_without_a_session_nobody_sets_a_pin(works: Works, person: str) -> None:
    question = {"person": person, "word": word_for(works, person), "pin": NEW}
    assert works.client().post("/api/v1/pins", json=question).status_code == 401


def test_threat_5_a_short_pin_proves_nothing_once_its_person_decides(
    works: Works, tablet: Tablet, person: str
) -> None:
    assert is_proven(works, tablet, person, "4071")
    with writing(works.engine) as connection:
        body = PersonChangedV1(name="Ines Brandt", roles=["inspector", "administrator"], person=person)
        works.own.write(connection, [body])
    assert not is_proven(works, tablet, person, "4071")
    word = word_for(works, person)
    assert set_pin(tablet, person, word, NEW).json["code"] == "pin-refused"
    assert set_pin(tablet, person, word, "quay-side-9").status_code == 201
    assert is_proven(works, tablet, person, "quay-side-9")


def test_a_deputy_to_be_needs_a_long_pin_before_the_first_day(works: Works, tablet: Tablet, person: str) -> None:
    with writing(works.engine) as connection:
        deputy = StandIn(first_day="2027-01-01", last_day="2027-01-31")
        body = PersonChangedV1(name="Ines Brandt", roles=["inspector"], person=person, deputy=deputy)
        works.own.write(connection, [body])
    assert set_pin(tablet, person, word_for(works, person), NEW).json["code"] == "pin-refused"
