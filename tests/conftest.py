# SPDX-License-Identifier: Apache-2.0
"""Fixtures of all tests: a works on each database, and no connection to anywhere but this machine."""

from __future__ import annotations

import shutil
import socket
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import settings
from playwright.sync_api import Playwright, sync_playwright

from tallywright.config import sqlite_url
from tests import postgres
from tests.actors import Works, join_works, make_demo_works

# A property is tried without a deadline: on a busy machine an example may wait for its turn.
settings.register_profile("tests", deadline=None)
settings.load_profile("tests")

# Each minutes in one process: begun last, it would leave the others with nothing to do.
LONG = ("test_tablet_code.py", "test_simulation.py")

LOCAL = ("127.0.0.1", "::1", "localhost")


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Begin with the files that take longest."""
    items.sort(key=lambda item: item.path.name not in LONG)


@pytest.fixture(autouse=True)
def stay_on_this_machine(monkeypatch: pytest.MonkeyPatch) -> None:
    """Fail a test that opens a connection to another machine."""
    connect = socket.socket.connect

    def guarded(self: socket.socket, address: Any) -> None:
        if isinstance(address, tuple) and address[0] not in LOCAL:
            raise AssertionError(f"a test tried to reach {address[0]}")
        connect(self, address)

    monkeypatch.setattr(socket.socket, "connect", guarded)


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    """Playwright's driver: one in a process."""
    with sync_playwright() as driver:
        yield driver


@pytest.fixture(scope="session")
def postgres_address() -> Iterator[str]:
    """The address of a PostgreSQL server, started at the first test that needs one."""
    with postgres.server() as address:
        yield address


@pytest.fixture(scope="session")
def sqlite_template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The folder of a demo works on SQLite, made once and copied for each test."""
    folder = tmp_path_factory.mktemp("sqlite_template")
    make_demo_works(folder, sqlite_url(folder))
    return folder


@pytest.fixture(scope="session")
def postgres_template(postgres_address: str, tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The folder and the database of a demo works on PostgreSQL, made once and copied for each test."""
    folder = tmp_path_factory.mktemp("postgres_template")
    make_demo_works(folder, postgres.make_database(postgres_address, "demo_template"))
    return folder, "demo_template"


@pytest.fixture
def sqlite_works(sqlite_template: Path, tmp_path: Path) -> Iterator[Works]:
    """A demo works and its server, on SQLite alone."""
    folder = tmp_path / "works"
    shutil.copytree(sqlite_template, folder)
    opened = join_works(folder, sqlite_url(folder))
    yield opened
    opened.engine.dispose()


@pytest.fixture(params=["sqlite", "postgresql"])
def works(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Works]:
    """A demo works and its server, on each database."""
    if request.param == "sqlite":
        yield request.getfixturevalue("sqlite_works")
        return
    template, database = request.getfixturevalue("postgres_template")
    address = request.getfixturevalue("postgres_address")
    folder = tmp_path / "works"
    shutil.copytree(template, folder)
    name = f"test_{uuid.uuid4().hex}"
    opened = join_works(folder, postgres.make_database(address, name, template=database))
    yield opened
    opened.engine.dispose()
    postgres.drop_database(address, name)
