# SPDX-License-Identifier: Apache-2.0
"""Enrolment and sessions over HTTP."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from flask import Response, jsonify
from flask.views import MethodView
from flask_smorest import Blueprint
from sqlalchemy import Connection

from tallywright.access.codes import count_wrong_code
from tallywright.access.enrolment import Enrolled, Waiting, ask_with_code, enrol, enrol_first, how_it_stands
from tallywright.access.session import SESSION_LIFE_MS, answer_challenge, make_challenge
from tallywright.db import reading, writing
from tallywright.definitions.published import works
from tallywright.errors import CodeRefused, NotAllowed
from tallywright.web.door import COOKIE
from tallywright.web.joined import Joined, joined
from tallywright.web.schemas.enrolment import (
    AskedSchema,
    ChallengeQuestionSchema,
    ChallengeSchema,
    DemoEnrolmentSchema,
    EnrolledSchema,
    EnrolmentSchema,
    FirstSchema,
    SessionQuestionSchema,
    SessionSchema,
)

enrolment_api = Blueprint("enrolment", __name__, url_prefix="/api/v1", description="Devices and their sessions")


@contextmanager
def counting_wrong_codes(here: Joined) -> Iterator[Connection]:
    """Open a transaction in which a code is spent; a refused one is counted, though the rest is rolled back."""
    try:
        with writing(here.engine) as connection:
            yield connection
    except CodeRefused:
        with writing(here.engine) as connection:
            count_wrong_code(connection, here.clock)
        raise


@enrolment_api.route("/enrolments")
class Enrolments(MethodView):
    """Devices that ask to be let in."""

    @enrolment_api.arguments(EnrolmentSchema)
    @enrolment_api.response(202, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Spend a code; the device waits for an administrator's yes. A demo works says yes by itself."""
        here = joined()
        with counting_wrong_codes(here) as connection:
            stands: Enrolled | Waiting = ask_with_code(
                connection, here.own, question["code"], question["public_key"], question["name"]
            )
            if isinstance(stands, Waiting) and works(connection)[1].demo:
                stands = enrol(connection, here.own, question["public_key"], question["name"])
        return _stands(here, stands)


@enrolment_api.route("/enrolments/asked")
class AskedEnrolments(MethodView):
    """How it stands with a device that asked."""

    @enrolment_api.arguments(AskedSchema)
    @enrolment_api.response(200, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Say whether the device waits or was enrolled; its key is public, so this opens no session."""
        here = joined()
        with reading(here.engine) as connection:
            return _stands(here, how_it_stands(connection, here.own, question["public_key"]))


@enrolment_api.route("/enrolments/first")
class FirstEnrolments(MethodView):
    """The first administrator."""

    @enrolment_api.arguments(FirstSchema)
    @enrolment_api.response(201, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Spend the link of `init`: write the first administrator, and enrol the browser that opened it."""
        here = joined()
        with counting_wrong_codes(here) as connection:
            enrolled = enrol_first(
                connection,
                here.own,
                question["code"],
                question["public_key"],
                question["name"],
                question["person"],
                question["pin"],
            )
        return _stands(here, enrolled)


@enrolment_api.route("/enrolments/demo")
class DemoEnrolments(MethodView):
    """Browsers that try the demo works."""

    @enrolment_api.arguments(DemoEnrolmentSchema)
    @enrolment_api.response(201, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Enrol this browser in the demo works, which asks nobody."""
        here = joined()
        with writing(here.engine) as connection:
            if not works(connection)[1].demo:
                raise NotAllowed("This is a live works: a tablet is enrolled with a code.")
            enrolled = enrol(connection, here.own, question["public_key"], question["name"])
        return _stands(here, enrolled)


@enrolment_api.route("/sessions/challenges")
class Challenges(MethodView):
    """Texts to sign."""

    @enrolment_api.arguments(ChallengeQuestionSchema)
    @enrolment_api.response(200, ChallengeSchema)
    def post(self, question: dict[str, str]) -> dict[str, Any]:
        """Return a text for the device to sign, usable once."""
        here = joined()
        with writing(here.engine) as connection:
            return {"challenge": make_challenge(connection, here.clock, question["device"])}


@enrolment_api.route("/sessions")
class Sessions(MethodView):
    """Sessions of enrolled devices."""

    @enrolment_api.arguments(SessionQuestionSchema)
    @enrolment_api.response(200, SessionSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Open a session for the device that signed its challenge."""
        here = joined()
        device, challenge = question["device"], question["challenge"]
        with writing(here.engine) as connection:
            token = answer_challenge(connection, here.clock, device, challenge, question["signature"])
        answer = jsonify(SessionSchema().dump({"device": device}))
        answer.set_cookie(
            COOKIE,
            token,
            max_age=SESSION_LIFE_MS // 1000,
            secure=True,
            httponly=True,
            samesite="Strict",
            path="/",
        )
        return answer


def _stands(here: Joined, stands: Enrolled | Waiting) -> Response:
    content = {"device": "", "letters": "", "site": "", "number": "", "server_time": here.clock.now_ms()}
    if isinstance(stands, Waiting):
        answer = jsonify(EnrolledSchema().dump({**content, "state": "waiting", "number": stands.number}))
        answer.status_code = 202
        return answer
    enrolled = {"device": stands.device, "letters": stands.letters, "site": stands.site}
    answer = jsonify(EnrolledSchema().dump({**content, "state": "enrolled", **enrolled}))
    answer.status_code = 201
    return answer
