# SPDX-License-Identifier: Apache-2.0
"""The list of holds and requests over HTTP. Nothing is lifted here: a request is a record, and comes by push."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.open_holds import open_holds
from tallywright.web.joined import joined
from tallywright.web.schemas.holds import HoldsSchema

holds_api = Blueprint("holds", __name__, url_prefix="/api/v1", description="What stands in a batch's way")


@holds_api.route("/holds")
class Holds(MethodView):
    """Holds and requests of the works."""

    @holds_api.response(200, HoldsSchema)
    def get(self) -> dict[str, Any]:
        """Return holds that stand, and requests that wait or were decided lately, with the time of this list."""
        here = joined()
        now = here.clock.now_ms()
        with reading(here.engine) as connection:
            found = open_holds(connection, now)
        return {
            "as_of": now,
            "holds": found.holds,
            "queries": found.queries,
            "requests": found.requests,
            "batches": found.batches,
        }
