# SPDX-License-Identifier: Apache-2.0
"""The parts of the measurement, by the names the command takes."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from pathlib import Path

from tests.speed import backlog, growth, hand, loopback, memory, pull, push, sizes, start
from tests.speed.figures import Figure

PARTS: dict[str, Callable[[Path], Iterator[Figure]]] = {
    "push": push.on_sqlite,
    "push_postgres": push.on_postgres,
    "small_push": push.small,
    "loopback": loopback.measure,
    "pull": pull.measure,
    "growth": growth.pushes,
    "pareto": growth.paretos,
    "backlog": backlog.measure,
    "memory": memory.measure,
    "taps": hand.measure,
    "bytes": sizes.measure,
    "start": start.measure,
}
