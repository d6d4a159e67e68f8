# SPDX-License-Identifier: Apache-2.0
"""The checks at the machines over HTTP."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.machine_checks import machine_checks
from tallywright.web.joined import joined
from tallywright.web.schemas.machine_checks import MachineChecksQuerySchema, MachineChecksSchema

machine_checks_api = Blueprint(
    "machine_checks", __name__, url_prefix="/api/v1", description="What was checked at the machines, and what not"
)


@machine_checks_api.route("/machine-checks")
class MachineChecks(MethodView):
    """Checks of a span."""

    @machine_checks_api.arguments(MachineChecksQuerySchema, location="query", unknown="raise")
    @machine_checks_api.response(200, MachineChecksSchema)
    def get(self, query: dict[str, Any]) -> dict[str, Any]:
        """Return what is missing, late, repeated, out and worth a look in a span, or in the shift of now."""
        here = joined()
        now = here.clock.now_ms()
        with reading(here.engine) as connection:
            return {"as_of": now, **asdict(machine_checks(connection, now, query.get("start"), query.get("end")))}
