# SPDX-License-Identifier: Apache-2.0
"""A real server for the journeys: `tallywright demo` in a process of its own, stopped and started like a plug."""

from __future__ import annotations

import atexit
import functools
import http.client
import json
import os
import secrets
import shutil
import signal
import socket
import ssl
import subprocess
import sys
import tempfile
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

from tests import command
from tests.command import Done

# What `verify` says of a works whose log is whole and whose records name no file.
WHOLE = "0 files are here and whole, 0 that records name are missing.\nThe log is whole.\n"
# The demo's part is too large for a record.
WHOLE_DEMO = WHOLE.replace("0 files", "1 files")
FRESH_S = 900  # for so long a demo's first day is copied from the same one


@dataclass(frozen=True, slots=True)
class Running:
    """A server's process, which another process started: it leads a group with its workers."""

    pid: int

    def is_there(self) -> bool:
        """True while it runs."""
        try:
            os.kill(self.pid, 0)
        except ProcessLookupError:
            return False
        return True

    def wait(self) -> None:
        """Wait until it is gone."""
        for _ in range(3000):
            if not self.is_there():
                return
            time.sleep(0.01)
        raise TimeoutError("the server did not end within 30 seconds")


@dataclass
class Served:
    """A works in a folder, served at a port of this machine: the demo, or one that `init` opened there."""

    data: Path
    port: int
    command: str = "demo"
    weeks: bool = False  # with what the demo's people did before: most journeys begin on its first day
    options: tuple[str, ...] = ()
    settings: dict[str, str] = field(default_factory=dict)
    trusts: Path | None = None  # the authority of its certificate, where it is served over HTTPS
    database_url: str = ""  # where the log is kept outside the folder
    process: Running | None = None

    @property
    def address(self) -> str:
        """Where the app is."""
        return f"{'http' if self.trusts is None else 'https'}://127.0.0.1:{self.port}"

    def ask(self) -> None:
        """Ask it for something that is open to anybody; raises what a connection fails with."""
        if self.trusts is None:
            asked = http.client.HTTPConnection("127.0.0.1", self.port, timeout=10)
        else:
            context = ssl.create_default_context(cafile=self.trusts)
            asked = http.client.HTTPSConnection("127.0.0.1", self.port, timeout=10, context=context)
        try:
            asked.request("GET", "/api/v1/works")
            asked.getresponse().read()
        finally:
            asked.close()

    def start(self) -> None:
        """Start the server and wait until it answers; a demo's first day is copied from one made before."""
        if self.command == "demo" and not self.weeks and not self.database_url and not self.data.exists():
            shutil.copytree(_first_day(int(time.monotonic() / FRESH_S)), self.data)
        self.start_again()

    def start_again(self) -> None:
        """Start the server on what its folder holds, and wait until it answers."""
        clean = {name: value for name, value in os.environ.items() if not name.startswith("TALLYWRIGHT_")}
        words = [self.command, *self._place[0], "--port", str(self.port), *self.options]
        words += ["--no-weeks"] if self.command == "demo" and not self.weeks else []
        asked = {
            "words": words,
            "settings": {**clean, **self.settings, **self._place[1]},
            "log": str(self.data.parent / "server.log"),
        }
        self.process = Running(_fork(asked))
        for _ in range(300):
            try:
                self.ask()
            except (OSError, http.client.HTTPException):
                assert self.process.is_there(), (self.data.parent / "server.log").read_text()
                time.sleep(0.1)
            else:
                return
        raise TimeoutError("the server did not answer within 30 seconds")

    def stop(self, how: signal.Signals = signal.SIGTERM) -> None:
        """Stop the server; SIGKILL is the pulled plug, and takes its workers with it."""
        if self.process is None:
            return
        os.killpg(self.process.pid, how)
        self.process.wait()
        self.process = None
        _wait_until_free(self.port)

    def run(self, *words: str) -> Done:
        """Run a command on the same folder."""
        return command.run(*words, *self._place[0], **self._place[1])

    @property
    def _place(self) -> tuple[list[str], dict[str, str]]:
        """The words and settings that name the works to a command."""
        if not self.database_url:
            return ["--data", str(self.data)], {}
        return [], {"TALLYWRIGHT_DATA": str(self.data), "TALLYWRIGHT_DATABASE_URL": self.database_url}


@functools.cache
def _fork_server() -> subprocess.Popen[str]:
    """The process that makes servers for this one; it ends when nobody can ask it any more."""
    return subprocess.Popen(
        [sys.executable, "-m", "tests.fork_server"],
        stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True, cwd=Path(__file__).parents[1],
    )  # fmt: skip


def _fork(asked: Mapping[str, object]) -> int:
    """Let a server be made; return its process id."""
    maker = _fork_server()
    assert maker.stdin is not None
    assert maker.stdout is not None
    print(json.dumps(asked), file=maker.stdin, flush=True)
    return int(maker.stdout.readline())


@functools.cache
def _first_day(_part: int) -> Path:
    """A demo works that was made once for this process and part of an hour: making one takes seconds, and whoever
    looks at it later than that finds that its tablet was not heard for half an hour."""
    folder = Path(tempfile.mkdtemp())
    atexit.register(shutil.rmtree, folder, ignore_errors=True)
    made = Served(folder / "works", free_port())
    made.start_again()
    made.stop()
    return made.data


def _wait_until_free(port: int) -> None:
    """Wait until nobody serves at a port: a worker may live for a moment longer than the process that led it."""
    for _ in range(3000):
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                time.sleep(0.01)
            else:
                return
    raise TimeoutError(f"port {port} was not free within 30 seconds")


def free_port() -> int:
    """Return a port nobody serves at, below those that connections of other tests are given."""
    while True:
        port = secrets.choice(range(15_000, 32_000))
        with socket.socket() as probe, suppress(OSError):
            probe.bind(("127.0.0.1", port))
            return port
