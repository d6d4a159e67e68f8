# SPDX-License-Identifier: Apache-2.0
"""Fixtures of all tests: a works on each database, and no connection to anywhere but this machine."""

from __future__ import annotations

import socket
import uuid
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tallywright.config import sqlite_url
from tests import postgres
from tests.actors import Works, open_demo_works

LOCAL = ("127.0.0.1", "::1", "localhost")


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
def postgres_address() -> Iterator[str]:
    """The address of a PostgreSQL server, started at the first test that needs one."""
    with postgres.server() as address:
        yield address


@pytest.fixture(params=["sqlite", "postgresql"])
def database_url(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    """An empty database of each kind."""
    if request.param == "sqlite":
        yield sqlite_url(tmp_path)
        return
    address = request.getfixturevalue("postgres_address")
    name = f"test_{uuid.uuid4().hex}"
    yield postgres.make_database(address, name)
    postgres.drop_database(address, name)


@pytest.fixture
def works(database_url: str, tmp_path: Path) -> Iterator[Works]:
    """A demo works and its server, on each database."""
    opened = open_demo_works(tmp_path, database_url)
    yield opened
    opened.engine.dispose()
