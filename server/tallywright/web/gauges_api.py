# SPDX-License-Identifier: Apache-2.0
"""Gauges over HTTP."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.gauges import gauges
from tallywright.web.joined import joined
from tallywright.web.schemas.gauges import GaugesSchema

gauges_api = Blueprint("gauges", __name__, url_prefix="/api/v1", description="Gauges, and where they were used")


@gauges_api.route("/gauges")
class Gauges(MethodView):
    """The works' gauges."""

    @gauges_api.response(200, GaugesSchema)
    def get(self) -> dict[str, Any]:
        """Return every gauge, what was said of it, and the batches with values that are in doubt by it."""
        here = joined()
        now = here.clock.now_ms()
        with reading(here.engine) as connection:
            return {"as_of": now, "gauges": gauges(connection, now)}
