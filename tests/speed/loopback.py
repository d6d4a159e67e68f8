# SPDX-License-Identifier: Apache-2.0
"""A push over HTTP to a real gunicorn here, beside the same body sent to an application that does nothing."""

from __future__ import annotations

import signal
import statistics
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from http.client import HTTPConnection
from pathlib import Path

from tallywright.config import sqlite_url
from tests.actors import LINES, join_works, make_demo_works
from tests.node import REPOSITORY
from tests.served import Served, free_port
from tests.speed.figures import Figure, Floor, children_of, cpu_of
from tests.speed.pushes import Push, whole_batches

A_PUSH, PUSHES = 500, 40
PATH = "/api/v1/sync/push"


def measure(folder: Path) -> Iterator[Figure]:
    """Send the same bodies to both, one after the other, over one connection."""
    data = folder / "works"
    data.mkdir()
    make_demo_works(data, sqlite_url(data))
    works = join_works(data, sqlite_url(data))
    tablet = works.tablet()
    tablet.push()
    pushes = whole_batches(tablet, PUSHES, A_PUSH, "LOOPBACK")
    works.engine.dispose()
    with _bare_server() as (port, leader):
        wall, cpu = _send(port, leader, pushes)
    floor = Floor("the same body to an application that does nothing", A_PUSH / wall, cpu)
    server = Served(data, free_port())
    server.start_again()
    try:
        assert server.process is not None
        wall, cpu = _send(server.port, server.process.pid, pushes)
    finally:
        server.stop(signal.SIGKILL)
    yield Figure(f"push of {A_PUSH} over loopback, SQLite", A_PUSH / wall, "records/s", floor=floor, cpu=cpu)


def _send(port: int, leader: int, pushes: list[Push]) -> tuple[float, float]:
    """The median seconds of a push, and CPU of the workers  [ms a record]."""
    way = HTTPConnection("127.0.0.1", port, timeout=60)
    way.request("GET", "/")
    way.getresponse().read()
    times, before = [], cpu_of(children_of(leader))
    for push in pushes:
        start = time.perf_counter()
        way.request("POST", PATH, push.body, {"Content-Type": LINES})
        with way.getresponse() as answer:
            said = answer.read()
            assert answer.status == 200, said
        times.append(time.perf_counter() - start)
    spent = cpu_of(children_of(leader)) - before
    way.close()
    return statistics.median(times), spent * 1000 / (len(pushes) * A_PUSH)


@contextmanager
def _bare_server() -> Iterator[tuple[int, int]]:
    """Serve `bare.py` with the workers and threads that a works has; the port, and the process that leads."""
    port = free_port()
    words = [sys.executable, "-m", "gunicorn", "--worker-class", "gthread", "--workers", "2", "--threads", "4"]
    words += ["--preload", "--log-level", "warning", "--bind", f"127.0.0.1:{port}"]
    process = subprocess.Popen([*words, "tests.speed.bare:application"], cwd=REPOSITORY)
    try:
        for _ in range(300):
            try:
                HTTPConnection("127.0.0.1", port, timeout=10).connect()
            except OSError:
                time.sleep(0.1)
            else:
                break
        yield port, process.pid
    finally:
        process.terminate()
        process.wait()
