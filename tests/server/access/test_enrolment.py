# SPDX-License-Identifier: Apache-2.0
"""A tablet of a live works spends a code, waits, and is let in by an administrator who compared its number."""

from __future__ import annotations

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from werkzeug.test import TestResponse

from tallywright.access.codes import DAY_MS, FIRST_ADMINISTRATOR, make_code
from tallywright.access.enrolment import WAITS_MS, number_of_key
from tallywright.cli.works import open_works, prepare_data
from tallywright.clock import new_chain_name
from tallywright.config import Config
from tallywright.db import writing
from tallywright.log.own_chain import OwnChain, load_key
from tallywright.records.asked import EnrolmentRequestedV1, RevocationRequestedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record, sha256
from tallywright.records.envelope import Body
from tallywright.records.kinds import WorksOpenedV1
from tallywright.records.signature import public_text
from tests import postgres
from tests.actors import ScriptedClock, Tablet, Works, join_works, open_session

PIN = "quay-side-9"


@pytest.fixture(params=["sqlite", "postgresql"])
def live(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Works]:
    """A live works with nobody in it yet."""
    url = f"sqlite:///{tmp_path / 'works.db'}"
    if request.param == "postgresql":
        address = request.getfixturevalue("postgres_address")
        url = postgres.make_database(address, f"live_{tmp_path.name[-40:].lower()}")
    config = Config(data=tmp_path, database_url=url, demo=False)
    engine = prepare_data(config)
    own = OwnChain(ScriptedClock(), load_key(config.key_file))
    open_works(engine, own, WorksOpenedV1(name="Skarvholm Forge", time_zone="Europe/Berlin", demo=False))
    engine.dispose()
    works = join_works(tmp_path, url, demo=False)
    yield works
    works.engine.dispose()


def first_word(works: Works) -> str:
    with writing(works.engine) as connection:
        return make_code(connection, works.clock, FIRST_ADMINISTRATOR, DAY_MS)


def open_link(
    works: Works, word: str, pin: str = PIN, key: ec.EllipticCurvePrivateKey | None = None
) -> TestResponse:
    key = key or ec.generate_private_key(ec.SECP256R1())
    question = {"code": word, "public_key": public_text(key), "name": "office", "person": "Ada Lind", "pin": pin}
    return works.client().post("/api/v1/enrolments/first", json=question)


def administrator(works: Works) -> Tablet:
    """The browser of the first administrator, signed on."""
    key = ec.generate_private_key(ec.SECP256R1())
    answer = open_link(works, first_word(works), key=key)
    assert (answer.status_code, answer.json["state"]) == (201, "enrolled"), answer.text
    client = works.client()
    open_session(client, answer.json["device"], key)
    writer = ChainWriter(
        new_chain_name(works.clock), answer.json["device"], "Europe/Berlin", site=answer.json["site"]
    )
    tablet = Tablet(works, client, key, writer, answer.json["site"], {})
    tablet.push(enclosures=[tablet.sign_on_as(works.person("Ada Lind"), PIN)])
    return tablet


def waiting(works: Works, key: ec.EllipticCurvePrivateKey) -> TestResponse:
    code = works.code()
    question = {"code": code, "public_key": public_text(key), "name": "bench 2"}
    return works.client().post("/api/v1/enrolments", json=question)


def asked(works: Works, key: ec.EllipticCurvePrivateKey) -> TestResponse:
    return works.client().post("/api/v1/enrolments/asked", json={"public_key": public_text(key)})


def ask(tablet: Tablet, body: Body) -> Record:
    request = tablet.add(body, sign_on=tablet.sign_on)
    tablet.push()
    return request


def state(works: Works, request: Record) -> tuple[str, list[str]]:
    row = next(row for row in works.rows("requests") if row["request"] == request.id)
    return row["state"], json.loads(row["reasons"])


def a_key() -> ec.EllipticCurvePrivateKey:
    return ec.generate_private_key(ec.SECP256R1())


def test_the_link_of_init_makes_one_administrator_and_enrols_the_browser(live: Works) -> None:
    office = administrator(live)
    assert office.get("/api/v1/devices").status_code == 200


def test_the_link_works_once_and_never_beside_an_administrator(live: Works) -> None:
    word, other = first_word(live), first_word(live)
    assert open_link(live, word).status_code == 201
    for used in (word, other):
        answer = open_link(live, used)
        assert (answer.status_code, answer.json["code"]) == (403, "code-refused")


def test_a_pin_that_is_too_short_for_an_administrator_leaves_the_link_good(live: Works) -> None:
    word = first_word(live)
    refused = open_link(live, word, pin="4071")
    assert (refused.status_code, refused.json["code"]) == (400, "pin-refused")
    assert open_link(live, word).status_code == 201


def test_a_code_for_a_tablet_makes_no_administrator(live: Works) -> None:
    assert open_link(live, live.code()).json["code"] == "code-refused"


def test_threat_1_a_tablet_with_a_code_waits_and_both_sides_see_the_same_number(live: Works) -> None:
    office, key = administrator(live), a_key()
    answer = waiting(live, key)
    assert (answer.status_code, answer.json["state"], answer.json["device"]) == (202, "waiting", "")
    [shown] = office.get("/api/v1/devices").json["waiting"]
    assert shown["number"] == answer.json["number"] == number_of_key(sha256(public_text(key).encode()))
    assert asked(live, key).json["state"] == "waiting"


def test_an_administrators_yes_lets_it_in(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    request = ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"]))
    assert state(live, request) == ("granted", [])
    answer = asked(live, key)
    assert answer.json["state"] == "enrolled"
    open_session(live.client(), answer.json["device"], key)
    devices = office.get("/api/v1/devices").json
    assert ([one["name"] for one in devices["devices"]], devices["waiting"]) == (["office", "bench 2"], [])


def test_who_waits_is_forgotten_after_an_hour(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    live.clock.now += WAITS_MS
    request = ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"]))
    assert state(live, request) == ("declined", ["not_waiting"])
    assert asked(live, key).status_code == 404


def test_a_device_that_is_turned_away_waits_no_more_and_may_come_back_with_a_new_code(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    headers = {"Tallywright-Sign-On": office.sign_on}
    for status in (200, 404):
        answer = office.client.post("/api/v1/devices/turned-away", json={"key": shown["key"]}, headers=headers)
        assert answer.status_code == status
    assert office.get("/api/v1/devices").json["waiting"] == []
    assert (asked(live, key).status_code, asked(live, key).json["code"]) == (404, "not-found")
    request = ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"]))
    assert state(live, request) == ("declined", ["not_waiting"])
    assert waiting(live, key).json["number"] == shown["number"]


def test_a_device_whose_answer_was_lost_gets_its_enrolment_again(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"]))
    again = waiting(live, key)
    assert (again.status_code, again.json["device"]) == (201, asked(live, key).json["device"])


def test_a_device_is_enrolled_once(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    requests = [ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"])) for _ in range(2)]
    assert [state(live, one)[0] for one in requests] == ["granted", "declined"]


def test_a_key_nobody_spent_a_code_for_is_not_enrolled(live: Works) -> None:
    request = ask(administrator(live), EnrolmentRequestedV1(name="x", key="0" * 64))
    assert state(live, request) == ("declined", ["not_waiting"])


def test_threat_2_a_device_revoked_by_request_reads_no_more_and_only_once(live: Works) -> None:
    office, key = administrator(live), a_key()
    waiting(live, key)
    [shown] = office.get("/api/v1/devices").json["waiting"]
    ask(office, EnrolmentRequestedV1(name="bench 2", key=shown["key"]))
    device = asked(live, key).json["device"]
    client = live.client()
    open_session(client, device, key)
    assert client.get("/api/v1/batches").status_code == 200
    requests = [ask(office, RevocationRequestedV1(device=device, why="lost")) for _ in range(2)]
    assert [state(live, one) for one in requests] == [("granted", []), ("declined", ["revoked_already"])]
    assert client.get("/api/v1/batches").status_code == 401


@pytest.mark.parametrize("which", ["nobody's", "the server's own"])
def test_what_is_no_tablet_is_not_revoked(live: Works, which: str) -> None:
    office = administrator(live)
    server = next(row["device"] for row in live.rows("devices") if row["letters"] == "ZZ")
    device = server if which == "the server's own" else f"{'z' * 26}:4"
    request = ask(office, RevocationRequestedV1(device=device, why="x"))
    assert state(live, request) == ("declined", ["no_such_device"])


def test_a_code_made_for_a_tablet_comes_with_the_address_that_fills_it_in(live: Works) -> None:
    office = administrator(live)
    headers = {"Tallywright-Sign-On": office.sign_on}
    answer: Any = office.client.post("/api/v1/enrolment-codes", json={}, headers=headers).json
    assert answer["address"].endswith(f"/#code={answer['code']}")
    assert answer["trust_page"] == ""  # nobody has to learn to trust this server
    sizes = {len(row) for row in answer["qr"]}
    assert sizes == {len(answer["qr"])}
    key = a_key()
    question = {"code": answer["code"], "public_key": public_text(key), "name": "bench 2"}
    assert live.client().post("/api/v1/enrolments", json=question).status_code == 202
