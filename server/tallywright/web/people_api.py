# SPDX-License-Identifier: Apache-2.0
"""PINs over HTTP: an administrator makes a one-time word, its person sets the PIN with it. People come by push."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.access.codes import DAY_MS, make_code, pin_of, spend_code
from tallywright.access.pins import set_pin
from tallywright.db import writing
from tallywright.definitions.people import people
from tallywright.errors import NotFound
from tallywright.web.enrolment_api import counting_wrong_codes
from tallywright.web.joined import joined
from tallywright.web.schemas.people import PinSchema, PinSetSchema, PinWordQuestionSchema, PinWordSchema

people_api = Blueprint("people", __name__, url_prefix="/api/v1", description="PINs of people")


@people_api.route("/pin-words")
class PinWords(MethodView):
    """One-time words with which people set their PINs."""

    @people_api.arguments(PinWordQuestionSchema)
    @people_api.response(201, PinWordSchema)
    def post(self, question: dict[str, str]) -> dict[str, Any]:
        """Make a word for one person, good for a day."""
        here = joined()
        with writing(here.engine) as connection:
            if question["person"] not in people(connection):
                raise NotFound("Nobody with this id is known here.")
            word = make_code(connection, here.clock, pin_of(question["person"]), DAY_MS)
        return {"word": word, "ends_at": here.clock.now_ms() + DAY_MS}


@people_api.route("/pins")
class Pins(MethodView):
    """PINs, set by their persons."""

    @people_api.arguments(PinSchema)
    @people_api.response(201, PinSetSchema)
    def post(self, question: dict[str, str]) -> dict[str, Any]:
        """Spend a word and keep a verifier of the PIN; tablets that guessed too often may try again."""
        here = joined()
        person = question["person"]
        with counting_wrong_codes(here) as connection:
            spend_code(connection, here.clock, question["word"], pin_of(person))
            known = people(connection).get(person)
            roles = frozenset[str]() if known is None else known.roles_ever
            set_pin(connection, here.clock.now_ms(), person, roles, question["pin"])
        return {"person": person}
