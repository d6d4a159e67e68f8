# SPDX-License-Identifier: Apache-2.0
"""The list of what was set aside, over HTTP. Nothing is admitted here: a request is a record, and comes by push."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.set_aside import set_aside_list
from tallywright.web.joined import joined
from tallywright.web.schemas.set_aside import SetAsideListSchema

set_aside_api = Blueprint(
    "set_aside", __name__, url_prefix="/api/v1", description="What does not count yet, and why"
)


@set_aside_api.route("/set-aside")
class SetAside(MethodView):
    """Lines that came and were not stored."""

    @set_aside_api.response(200, SetAsideListSchema)
    def get(self) -> dict[str, Any]:
        """Return what was set aside, by chain and reason, with the time of this list."""
        here = joined()
        with reading(here.engine) as connection:
            return {"as_of": here.clock.now_ms(), "chains": set_aside_list(connection)}
