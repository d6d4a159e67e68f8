# SPDX-License-Identifier: Apache-2.0
"""Tallywright: checks, tallies, two full looks and a provable record for batches of metal parts.

`create_app` is the one place where the rooms are joined.
"""

from __future__ import annotations

import os
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask

    from tallywright.clock import Clock
    from tallywright.config import Config


def create_app(config: Config | None = None, clock: Clock | None = None) -> Flask:
    """Join the rooms into one application.

    config  settings; read from the environment when left out
    clock   time and chance; the machine's own when left out
    raises  WrongSetting, NotReady when the database was not set up
    """
    # Inside, so that importing a lower room never loads the web.
    from flask import Flask

    from tallywright.access.sealing import SealingKeys
    from tallywright.clock import SystemClock
    from tallywright.config import config_from
    from tallywright.db import db, prepare, writing
    from tallywright.log.own_chain import OwnChain, load_key
    from tallywright.projections.rebuild import ensure
    from tallywright.web.app_files import app_files
    from tallywright.web.description import hang_api
    from tallywright.web.door import hang_door
    from tallywright.web.forwarded import Forwarded
    from tallywright.web.joined import NAME, Joined

    config = config or config_from(os.environ)
    clock = clock or SystemClock()
    app = Flask("tallywright", static_folder=None)
    app.config.update(
        SQLALCHEMY_DATABASE_URI=config.database_url,
        MAX_CONTENT_LENGTH=1024 * 1024 + 64 * 1024,  # a push of one mebibyte and its head line
    )
    db.init_app(app)
    with app.app_context():
        engine = prepare(db.engine)
    with writing(engine) as connection:
        ensure(connection)
    engine.dispose()  # a server forks its workers from here, and no connection may cross a fork
    app.extensions[NAME] = Joined(
        config, clock, engine, OwnChain(clock, load_key(config.key_file)), SealingKeys(config.data, clock)
    )
    if config.proxies:
        app.wsgi_app = Forwarded(app.wsgi_app, config.proxies)  # type: ignore[method-assign]  # the way of Flask
    hang_door(app)
    hang_api(app)
    app.register_blueprint(app_files)
    return app
