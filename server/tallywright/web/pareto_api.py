# SPDX-License-Identifier: Apache-2.0
"""The defect Pareto over HTTP."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.shift_pareto import Question, ShiftPareto, shift_pareto
from tallywright.reports.strata import Only, only_of
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
        only = [only_of(text) for text in query["narrowed"]]
        only += [Only(name, "value", query[name]) for name in ("look", "batch", "part") if query[name]]
        question = Question(
            query.get("start"), query.get("end"), query["by"], query["unit"], tuple(only), query["axis"]
        )
        with reading(here.engine) as connection:
            return shift_pareto(connection, here.clock.now_ms(), question)
