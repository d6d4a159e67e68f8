# SPDX-License-Identifier: Apache-2.0
"""The batches of the works over HTTP, as a lead reads them; and who looked before, as the bench needs it."""

from __future__ import annotations

import re
from typing import Any

from flask.views import MethodView
from flask_smorest import Blueprint

from tallywright.db import reading
from tallywright.errors import BatchUnknown
from tallywright.reports.batch_pages import batch_list, one_batch
from tallywright.reports.eyes import earlier_eyes
from tallywright.web.joined import joined
from tallywright.web.schemas.batch_pages import (
    BATCH,
    BatchPageSchema,
    BatchPagesQuerySchema,
    BatchPagesSchema,
    EyesQuerySchema,
    EyesSchema,
)

A_RECORD = re.compile(r"[a-z2-7]{26}:[1-9][0-9]{0,15}")

batch_pages_api = Blueprint(
    "batch_pages", __name__, url_prefix="/api/v1", description="How far each batch is, and what is open"
)


@batch_pages_api.route("/batch-pages")
class BatchPages(MethodView):
    """The batches of the works."""

    @batch_pages_api.arguments(BatchPagesQuerySchema, location="query", unknown="raise")
    @batch_pages_api.response(200, BatchPagesSchema)
    def get(self, query: dict[str, Any]) -> dict[str, Any]:
        """Return the newest batches, or those behind one, with the time of this list."""
        here = joined()
        with reading(here.engine) as connection:
            found = batch_list(connection, query["after"])
        return {"as_of": here.clock.now_ms(), "pages": found.pages, "more": found.more}


@batch_pages_api.route("/batch-pages/<batch>", parameters=[BATCH])
class BatchPage(MethodView):
    """One batch."""

    @batch_pages_api.response(200, BatchPageSchema)
    def get(self, batch: str) -> dict[str, Any]:
        """Return all that is shown of it, with the time of this page."""
        here = joined()
        if not A_RECORD.fullmatch(batch):
            raise BatchUnknown("This is no id of a batch. Go back to the list and choose again.")
        with reading(here.engine) as connection:
            return {"as_of": here.clock.now_ms(), **one_batch(connection, batch)}


@batch_pages_api.route("/eyes")
class Eyes(MethodView):
    """Who looked before."""

    @batch_pages_api.arguments(EyesQuerySchema, location="query", unknown="raise")
    @batch_pages_api.response(200, EyesSchema)
    def get(self, query: dict[str, Any]) -> dict[str, Any]:
        """Return who looked at how many pieces in the looks before one, and nothing of what they found."""
        here = joined()
        with reading(here.engine) as connection:
            found = earlier_eyes(connection, query["batch"], query["look"])
        return {"as_of": here.clock.now_ms(), "looked": found.looked, "eyes": found.eyes}
