# SPDX-License-Identifier: Apache-2.0
"""How the server is and how it is reached: for a monitor, and for a browser that came without protection."""

from __future__ import annotations

import shutil
from datetime import UTC, datetime
from typing import Any

from flask import request
from flask.views import MethodView
from flask_smorest import Blueprint
from sqlalchemy.exc import SQLAlchemyError

from tallywright.db import reading
from tallywright.log.append import newest_number
from tallywright.trust.kept import ends_at_ms
from tallywright.web.joined import joined
from tallywright.web.reach import reach
from tallywright.web.schemas.health import HealthSchema, ReachSchema

health_api = Blueprint("health", __name__, description="How the server is, and how it is reached")


@health_api.route("/health")
class Health(MethodView):
    """What a monitor asks."""

    @health_api.response(200, HealthSchema)
    @health_api.alt_response(503, schema=HealthSchema, description="The database is not reached.")
    def get(self) -> tuple[dict[str, Any], int]:
        """Return that it lives, whether its database answers, its newest number, room on the disk, a last day."""
        here = joined()
        try:
            with reading(here.engine) as connection:
                newest: int | None = newest_number(connection)
        except SQLAlchemyError:
            newest = None
        ends = ends_at_ms(here.config.certificate)
        answer = {
            "live": True,
            "database": newest is not None,
            "newest": newest,
            "disk_free_mb": shutil.disk_usage(here.config.data).free // 1_000_000,
            "certificate_last_day": datetime.fromtimestamp(ends / 1000, UTC).date().isoformat() if ends else None,
        }
        return answer, 503 if newest is None else 200


@health_api.route("/api/v1/reach")
class Reach(MethodView):
    """Where to open this server instead."""

    @health_api.response(200, ReachSchema)
    def get(self) -> dict[str, Any]:
        """Return the address that begins with https and the page that shows trust; empty where there is none."""
        return reach(joined().config, request.host_url)
