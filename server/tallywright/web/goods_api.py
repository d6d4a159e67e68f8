# SPDX-License-Identifier: Apache-2.0
"""Receipts over HTTP."""

from __future__ import annotations

from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.reports.goods import goods
from tallywright.web.joined import joined
from tallywright.web.schemas.goods import GoodsSchema

goods_api = Blueprint("goods", __name__, url_prefix="/api/v1", description="What came in, and where it went")


@goods_api.route("/receipts")
class Receipts(MethodView):
    """Bars and components that came in."""

    @goods_api.response(200, GoodsSchema)
    def get(self) -> dict[str, Any]:
        """Return the newest receipts with the batches made of each, and the bar ends of each alloy."""
        here = joined()
        with reading(here.engine) as connection:
            found = goods(connection)
        return {"as_of": here.clock.now_ms(), "receipts": found.receipts, "bar_ends": found.bar_ends}
