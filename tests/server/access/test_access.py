# SPDX-License-Identifier: Apache-2.0
"""Who gets in: codes once and in time, sessions by key, and one rule for every route."""

from __future__ import annotations

import json
from typing import Any

import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from flask.testing import FlaskClient

from tallywright.access.codes import CODE_LIFE_MS, WRONG_CODES_A_MINUTE, normal_form
from tallywright.access.rules import RULES, Rule, rule_of
from tallywright.access.session import CHALLENGE_LIFE_MS, SESSION_LIFE_MS
from tallywright.db import reading
from tallywright.errors import NotAllowed
from tallywright.log.read import every_line
from tallywright.records.signature import public_text, sign
from tallywright.web.joined import NAME
from tests.actors import Works


def a_key() -> ec.EllipticCurvePrivateKey:
    return ec.generate_private_key(ec.SECP256R1())


def ask(works: Works, code: str, key: str | None = None) -> Any:
    body = {"code": code, "public_key": key or public_text(a_key()), "name": "bench"}
    return works.client().post("/api/v1/enrolments", json=body)


def test_every_route_has_a_rule_and_every_rule_a_route(works: Works) -> None:
    assert {rule.endpoint for rule in works.app.url_map.iter_rules()} == set(RULES)


def test_a_route_without_a_rule_is_refused() -> None:
    with pytest.raises(NotAllowed):
        rule_of("web.forgotten", demo=True)


@pytest.mark.parametrize("endpoint", [name for name, rule in RULES.items() if rule is Rule.ENROLLED])
def test_what_needs_a_session_is_refused_without_one(works: Works, endpoint: str) -> None:
    rule = next(rule for rule in works.app.url_map.iter_rules() if rule.endpoint == endpoint)
    client = works.client()
    answer = client.post(rule.rule, json={}) if "POST" in (rule.methods or ()) else client.get(rule.rule)
    assert (answer.status_code, answer.json["code"]) == (401, "not-enrolled")


def test_a_session_somebody_made_up_is_refused(works: Works) -> None:
    client = works.client()
    client.set_cookie("__Host-tallywright", "made up", domain="localhost", secure=True)
    assert client.get("/api/v1/batches").json["code"] == "not-enrolled"


def test_a_code_enrols_one_device_and_then_no_other(works: Works) -> None:
    code = works.code()
    assert ask(works, code).status_code == 201
    answer = ask(works, code)
    assert (answer.status_code, answer.json["code"]) == (403, "code-refused")


def test_a_code_is_refused_after_ten_minutes(works: Works) -> None:
    code = works.code()
    works.clock.now += CODE_LIFE_MS
    assert ask(works, code).json["code"] == "code-refused"


def test_a_code_may_be_typed_with_dashes_blanks_and_look_alikes(works: Works) -> None:
    assert normal_form(" 0i1l-o abc ") == "01110ABC"
    code = works.code()
    assert ask(works, f"{code[:4].lower()}-{code[4:]}").status_code == 201


def test_too_many_wrong_codes_close_the_door_for_a_minute_even_to_a_right_one(works: Works) -> None:
    code = works.code()
    for _ in range(WRONG_CODES_A_MINUTE):
        assert ask(works, "WRONG").json["code"] == "code-refused"
    answer = ask(works, code)
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (429, "too-many-tries", True)
    works.clock.now += 60_000
    assert ask(works, code).status_code == 201


def test_the_same_key_again_is_the_same_device(works: Works) -> None:
    key = public_text(a_key())
    devices = {ask(works, works.code(), key).json["device"] for _ in range(2)}
    assert len(devices) == 1


def test_tag_letters_are_given_to_one_device_only(works: Works) -> None:
    letters = [ask(works, works.code()).json["letters"] for _ in range(30)]
    assert len(set(letters)) == 30
    assert all(len(text) >= 2 and text.isupper() for text in letters)


@pytest.mark.parametrize("key", ["A" * 100, "not base64 at all, but long enough " * 3])
def test_a_key_that_is_none_is_refused_and_the_code_is_still_good(works: Works, key: str) -> None:
    code = works.code()
    assert ask(works, code, key).json["code"] == "request-not-understood"
    assert ask(works, code).status_code == 201


def test_a_key_on_another_curve_is_refused(works: Works) -> None:
    key = public_text(ec.generate_private_key(ec.SECP384R1()))
    assert ask(works, works.code(), key).json["code"] == "request-not-understood"


def test_the_session_cookie_is_locked_to_host_https_and_scripts(works: Works) -> None:
    tablet = works.tablet()
    text = challenge(tablet.client, tablet.writer.device)
    cookie = answer(works.client(), tablet.writer.device, text, tablet.key).headers["Set-Cookie"]
    assert cookie.startswith("__Host-tallywright=")
    for word in ("Secure", "HttpOnly", "SameSite=Strict", "Path=/"):
        assert word in cookie
    assert "Domain" not in cookie


def challenge(client: FlaskClient, device: str) -> str:
    text: str = client.post("/api/v1/sessions/challenges", json={"device": device}).json["challenge"]
    return text


def answer(client: FlaskClient, device: str, text: str, key: ec.EllipticCurvePrivateKey) -> Any:
    signature = sign(key, f"tallywright-session-1|{device}|{text}".encode())
    return client.post("/api/v1/sessions", json={"device": device, "challenge": text, "signature": signature})


def test_hazard_d3_a_session_ends_after_a_week_and_the_key_opens_a_new_one(works: Works) -> None:
    tablet = works.tablet()
    works.clock.now += SESSION_LIFE_MS
    assert tablet.client.get("/api/v1/batches").status_code == 401
    text = challenge(tablet.client, tablet.writer.device)
    assert answer(tablet.client, tablet.writer.device, text, tablet.key).status_code == 200
    assert tablet.client.get("/api/v1/batches").status_code == 200


def test_a_challenge_is_good_once(works: Works) -> None:
    tablet = works.tablet()
    text = challenge(tablet.client, tablet.writer.device)
    assert answer(works.client(), tablet.writer.device, text, tablet.key).status_code == 200
    assert answer(works.client(), tablet.writer.device, text, tablet.key).status_code == 401


def test_a_challenge_is_good_for_two_minutes(works: Works) -> None:
    tablet = works.tablet()
    text = challenge(tablet.client, tablet.writer.device)
    works.clock.now += CHALLENGE_LIFE_MS
    assert answer(works.client(), tablet.writer.device, text, tablet.key).status_code == 401


def test_a_challenge_signed_by_another_key_opens_nothing(works: Works) -> None:
    tablet = works.tablet()
    text = challenge(tablet.client, tablet.writer.device)
    assert answer(works.client(), tablet.writer.device, text, a_key()).status_code == 401


def test_a_challenge_of_another_device_opens_nothing(works: Works) -> None:
    first, second = works.tablet(), works.tablet()
    text = challenge(first.client, first.writer.device)
    assert answer(works.client(), second.writer.device, text, second.key).status_code == 401


def test_no_code_no_token_and_no_private_key_is_in_the_log(works: Works) -> None:
    code = works.code()
    tablet = works.tablet()
    text = challenge(tablet.client, tablet.writer.device)
    cookie = answer(works.client(), tablet.writer.device, text, tablet.key).headers["Set-Cookie"]
    token = cookie.split("=", 1)[1].split(";", 1)[0]
    private = works.own.key.private_numbers().private_value.to_bytes(32)
    with reading(works.engine) as connection:
        log = b"\n".join(line for _, line in every_line(connection))
    assert b"device_enrolled" in log
    for secret in (code.encode(), token.encode(), private, private.hex().encode()):
        assert secret not in log


def test_the_servers_key_file_is_for_its_user_only(works: Works) -> None:
    assert works.config.key_file.stat().st_mode & 0o777 == 0o600


def test_a_demo_enrols_a_browser_in_one_request(works: Works) -> None:
    body = {"public_key": public_text(a_key()), "name": "this browser"}
    assert works.client().post("/api/v1/enrolments/demo", json=body).status_code == 201


def test_a_works_that_is_not_run_as_a_demo_has_no_such_door(works: Works) -> None:
    from dataclasses import replace

    from tallywright import create_app

    live = create_app(replace(works.config, demo=False), works.clock)
    body = {"public_key": public_text(a_key()), "name": "this browser"}
    found = live.test_client().post("/api/v1/enrolments/demo", json=body)
    live.extensions[NAME].engine.dispose()
    assert (found.status_code, found.json["code"]) == (403, "not-allowed")


@pytest.mark.parametrize("site", ["cross-site", "same-site"])
def test_a_request_from_another_site_is_refused(works: Works, site: str) -> None:
    body = {"code": works.code(), "public_key": public_text(a_key()), "name": "bench"}
    found = works.client().post("/api/v1/enrolments", json=body, headers={"Sec-Fetch-Site": site})
    assert (found.status_code, found.json["code"]) == (403, "not-allowed")


def test_a_form_of_another_page_cannot_post(works: Works) -> None:
    body = json.dumps({"code": works.code(), "public_key": public_text(a_key()), "name": "bench"})
    found = works.client().post("/api/v1/enrolments", data=body, content_type="text/plain")
    assert found.json["code"] == "not-allowed"
