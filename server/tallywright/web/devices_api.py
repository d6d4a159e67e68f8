# SPDX-License-Identifier: Apache-2.0
"""Devices over HTTP: the list, and codes to let another one in. Enrolling and revoking are requests, by push."""

from __future__ import annotations

from typing import Any

from flask import request
from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.access.codes import CODE_LIFE_MS, make_code
from tallywright.access.devices import devices_heard
from tallywright.access.enrolment import turn_away, waiting_now
from tallywright.db import reading, writing
from tallywright.web.joined import joined
from tallywright.web.reach import qr_rows, reach
from tallywright.web.schemas.enrolment import CodeSchema, DevicesSchema, TurnedAwaySchema, TurningAwaySchema

devices_api = Blueprint("devices", __name__, url_prefix="/api/v1", description="Devices of the works")


@devices_api.route("/devices")
class Devices(MethodView):
    """Every device, and those that wait."""

    @devices_api.response(200, DevicesSchema)
    def get(self) -> dict[str, Any]:
        """Return the devices by their letters, and those that wait, the one that asked first at the top."""
        here = joined()
        now = here.clock.now_ms()
        with reading(here.engine) as connection:
            return {
                "as_of": now,
                "devices": devices_heard(connection),
                "waiting": waiting_now(connection, now),
            }


@devices_api.route("/devices/turned-away")
class TurnedAway(MethodView):
    """Devices that waited and are not wanted."""

    @devices_api.arguments(TurningAwaySchema)
    @devices_api.response(200, TurnedAwaySchema)
    def post(self, question: dict[str, str]) -> dict[str, Any]:
        """Take a device off the list of those that wait. Nothing happened to the works, so nothing is recorded."""
        here = joined()
        with writing(here.engine) as connection:
            turn_away(connection, here.clock.now_ms(), question["key"])
        return {"key": question["key"]}


@devices_api.route("/enrolment-codes")
class EnrolmentCodes(MethodView):
    """Codes for tablets."""

    @devices_api.response(201, CodeSchema)
    def post(self) -> dict[str, Any]:
        """Make a code for one tablet, and the address that fills it in when the tablet's camera reads it."""
        here = joined()
        with writing(here.engine) as connection:
            code = make_code(connection, here.clock)
        address = f"{request.host_url}#code={code}"
        return {
            "code": code,
            "address": address,
            "qr": qr_rows(address),
            "trust_page": reach(here.config, request.host_url)["trust_page"],
            "ends_at": here.clock.now_ms() + CODE_LIFE_MS,
        }
