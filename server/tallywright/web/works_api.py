# SPDX-License-Identifier: Apache-2.0
"""The works and the list of its batches over HTTP."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.definitions.published import works
from tallywright.reports.batch_pages import every_batch
from tallywright.web.joined import joined
from tallywright.web.schemas.works import BatchesSchema, WorksSchema

works_api = Blueprint("works", __name__, url_prefix="/api/v1", description="The works and its batches")


@works_api.route("/works")
class Works(MethodView):
    """The works this server serves."""

    @works_api.response(200, WorksSchema)
    def get(self) -> dict[str, Any]:
        """Return its name, and whether it is a demo."""
        here = joined()
        with reading(here.engine) as connection:
            body = works(connection)[1]
        return {
            "name": body.name,
            "time_zone": body.time_zone,
            "demo": body.demo and here.config.demo,
            "server_time": here.clock.now_ms(),
        }


@works_api.route("/batches")
class Batches(MethodView):
    """Batches of the works."""

    @works_api.response(200, BatchesSchema)
    def get(self) -> dict[str, Any]:
        """Return all batches, the newest first, with the time of this list."""
        here = joined()
        with reading(here.engine) as connection:
            found = every_batch(connection)
        return {"as_of": here.clock.now_ms(), "batches": found}
