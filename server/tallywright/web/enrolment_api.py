# SPDX-License-Identifier: Apache-2.0
"""Enrolment and sessions over HTTP."""

from __future__ import annotations

from typing import Any

from flask import Response, jsonify
from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.access.enrolment import Enrolled, check_tries, count_wrong_code, enrol, make_code
from tallywright.access.session import SESSION_LIFE_MS, answer_challenge, make_challenge, open_session
from tallywright.db import writing
from tallywright.definitions.published import works
from tallywright.errors import CodeRefused, NotAllowed
from tallywright.web.door import COOKIE
from tallywright.web.joined import Joined, joined
from tallywright.web.schemas.answer import Answer
from tallywright.web.schemas.enrolment import (
    ChallengeQuestionSchema,
    ChallengeSchema,
    DemoEnrolmentSchema,
    EnrolledSchema,
    EnrolmentSchema,
    SessionQuestionSchema,
    SessionSchema,
)

enrolment_api = Blueprint("enrolment", __name__, url_prefix="/api/v1", description="Devices and their sessions")


@enrolment_api.route("/enrolments")
class Enrolments(MethodView):
    """Devices of the works."""

    @enrolment_api.arguments(EnrolmentSchema)
    @enrolment_api.response(201, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Spend a code and enrol the device that holds the key."""
        here = joined()
        try:
            with writing(here.engine) as connection:
                check_tries(connection, here.clock)
                enrolled = enrol(
                    connection,
                    here.clock,
                    here.own,
                    question["code"],
                    question["public_key"],
                    question["name"],
                )
                token = open_session(connection, here.clock, enrolled.device)
        except CodeRefused:
            with writing(here.engine) as connection:
                count_wrong_code(connection, here.clock)
            raise
        return _enrolled(here, enrolled, token)


@enrolment_api.route("/enrolments/demo")
class DemoEnrolments(MethodView):
    """Browsers that try the demo works."""

    @enrolment_api.arguments(DemoEnrolmentSchema)
    @enrolment_api.response(201, EnrolledSchema)
    def post(self, question: dict[str, str]) -> Response:
        """Enrol this browser in the demo works: a code is made and spent in one step."""
        here = joined()
        with writing(here.engine) as connection:
            if not works(connection)[1].demo:
                raise NotAllowed("This is a live works: a tablet is enrolled with a code.")
            code = make_code(connection, here.clock)
            enrolled = enrol(connection, here.clock, here.own, code, question["public_key"], question["name"])
            token = open_session(connection, here.clock, enrolled.device)
        return _enrolled(here, enrolled, token)


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
        return _with_session(SessionSchema(), {"device": device}, 200, token)


def _enrolled(here: Joined, enrolled: Enrolled, token: str) -> Response:
    content = {
        "device": enrolled.device,
        "letters": enrolled.letters,
        "site": enrolled.site,
        "server_time": here.clock.now_ms(),
    }
    return _with_session(EnrolledSchema(), content, 201, token)


def _with_session(schema: Answer, content: dict[str, Any], status: int, token: str) -> Response:
    answer = jsonify(schema.dump(content))
    answer.status_code = status
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
