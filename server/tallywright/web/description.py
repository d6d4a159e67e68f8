# SPDX-License-Identifier: Apache-2.0
"""The API with all its resources, and its description, the source of the tablet's generated answer types.

Run as `python -m tallywright.web.description`; static/src/api/described.ts is made from its output.
"""

from __future__ import annotations

import sys
from typing import Any

import msgspec
from flask import Flask

from tallywright.web.batch_pages_api import batch_pages_api
from tallywright.web.devices_api import devices_api
from tallywright.web.door import OurApi
from tallywright.web.enrolment_api import enrolment_api
from tallywright.web.files_api import files_api
from tallywright.web.gauges_api import gauges_api
from tallywright.web.goods_api import goods_api
from tallywright.web.health_api import health_api
from tallywright.web.holds_api import holds_api
from tallywright.web.machine_checks_api import machine_checks_api
from tallywright.web.pareto_api import pareto_api
from tallywright.web.people_api import people_api
from tallywright.web.set_aside_api import set_aside_api
from tallywright.web.shift_api import shift_api
from tallywright.web.sync_api import sync_api
from tallywright.web.works_api import works_api

RESOURCES = (
    sync_api,
    enrolment_api,
    works_api,
    health_api,
    pareto_api,
    shift_api,
    machine_checks_api,
    goods_api,
    gauges_api,
    holds_api,
    batch_pages_api,
    set_aside_api,
    files_api,
    devices_api,
    people_api,
)


def hang_api(app: Flask) -> OurApi:
    """Register every resource with an application."""
    app.config.update(
        API_TITLE="Tallywright",
        API_VERSION="v1",
        OPENAPI_VERSION="3.1.0",
        OPENAPI_URL_PREFIX="/api/v1",
        OPENAPI_JSON_PATH="openapi.json",
    )
    api = OurApi(app)
    for resource in RESOURCES:
        api.register_blueprint(resource)
    return api


def describe() -> dict[str, Any]:
    """Return the OpenAPI document; needs neither a database nor a server."""
    app = Flask("tallywright", static_folder=None)
    api = hang_api(app)
    with app.app_context():
        document: dict[str, Any] = api.spec.to_dict()
    return document


if __name__ == "__main__":
    sys.stdout.buffer.write(msgspec.json.format(msgspec.json.encode(describe(), order="sorted"), indent=1))
