# SPDX-License-Identifier: Apache-2.0
"""A week's backlog of one tablet: its real core, requests and records in Node, against a real gunicorn."""

from __future__ import annotations

import json
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from tests import node
from tests.served import Served, free_port
from tests.speed.figures import Figure, children_of, cpu_of

MARKS, A_BATCH = 19_629, 480  # with trays, batches and the sign-on: 20,000 records
MOST_SECONDS = 5


def measure(folder: Path) -> Iterator[Figure]:
    """Send 20,000 records; the clock runs from the first request until the server has all."""
    photos = folder / "photos"
    photos.mkdir()
    served = Served(folder / "works", free_port())
    served.start()
    try:
        assert served.process is not None
        workers = children_of(served.process.pid)
        before = cpu_of(workers)
        words = ["tests/static/sync/backlog.mjs", served.address, str(photos), str(MARKS), str(A_BATCH)]
        told: dict[str, Any] = json.loads(node.run(words))
        cpu = cpu_of(workers) - before
    finally:
        served.stop(signal.SIGKILL)
    yield Figure(
        f"backlog of {told['records']:,} records, SQLite", told["milliseconds"] / 1000, "s", at_most=MOST_SECONDS,
        cpu=cpu * 1000 / told["records"],
    )  # fmt: skip
    yield Figure("requests of it that failed and were made again", told["failures"], "requests")
