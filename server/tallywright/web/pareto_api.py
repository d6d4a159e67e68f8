# SPDX-License-Identifier: Apache-2.0
"""The defect Pareto over HTTP."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.shift_pareto import ShiftPareto, pareto_of_shift, pareto_of_span
from tallywright.web.joined import joined
from tallywright.web.schemas.pareto import ParetoQuerySchema, ParetoSchema

pareto_api = Blueprint("pareto", __name__, url_prefix="/api/v1", description="Which defects, how often")


@pareto_api.route("/pareto")
class Pareto(MethodView):
    """The defect Pareto."""

    @pareto_api.arguments(ParetoQuerySchema, location="query", unknown="raise")
    @pareto_api.response(200, ParetoSchema)
    def get(self, query: dict[str, Any]) -> ShiftPareto:
        """Return the bars of a span, or of the shift of now."""
        here = joined()
        look, batch = query["look"], query["batch"]
        with reading(here.engine) as connection:
            if "start" in query:
                return pareto_of_span(connection, query["start"], query["end"], look, batch)
            return pareto_of_shift(connection, here.clock.now_ms(), look, batch)
