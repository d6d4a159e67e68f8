# SPDX-License-Identifier: Apache-2.0
"""The lines of the shift of now over HTTP."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from flask import g
from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.shift_lines import shift_lines
from tallywright.web.joined import joined
from tallywright.web.schemas.shift import ShiftLinesSchema

shift_api = Blueprint("shift", __name__, url_prefix="/api/v1", description="What waits at the end of a shift")


@shift_api.route("/shift")
class Shift(MethodView):
    """The shift of now."""

    @shift_api.response(200, ShiftLinesSchema)
    def get(self) -> dict[str, Any]:
        """Return counts that differ, tablets not heard from, PINs wrong too often, and the time of this page."""
        here = joined()
        now = here.clock.now_ms()
        with reading(here.engine) as connection:
            return {"as_of": now, **asdict(shift_lines(connection, now, g.device))}
