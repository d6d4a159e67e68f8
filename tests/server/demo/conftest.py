# SPDX-License-Identifier: Apache-2.0
"""The demo works with its weeks, made once for all tests that only read it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date
from pathlib import Path

import pytest
from sqlalchemy import Engine

from tallywright.access.sealing import SealingKeys
from tallywright.cli.works import open_demo_with_weeks, prepare_data
from tallywright.clock import SystemClock
from tallywright.config import Config, sqlite_url
from tallywright.log.own_chain import load_key

UNTIL = date(2026, 11, 25)


def make_weeks(folder: Path, until: date = UNTIL) -> Engine:
    """A demo works with its weeks, in a folder of its own."""
    config = Config(data=folder, database_url=sqlite_url(folder), demo=True)
    engine = prepare_data(config)
    open_demo_with_weeks(engine, load_key(config.key_file), SealingKeys(folder, SystemClock()), until)
    return engine


@pytest.fixture(scope="session")
def told_folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The data folder of the demo works."""
    folder = tmp_path_factory.mktemp("weeks")
    make_weeks(folder).dispose()
    return folder


@pytest.fixture(scope="session")
def told(told_folder: Path) -> Iterator[Engine]:
    """Its database."""
    engine = prepare_data(Config(data=told_folder, database_url=sqlite_url(told_folder), demo=True))
    yield engine
    engine.dispose()
