# SPDX-License-Identifier: Apache-2.0
"""A slow tablet is opened while the server is off, with few own records and with many; then it sends its week."""

from __future__ import annotations

import signal
import time
from collections.abc import Iterator
from pathlib import Path

from tests.kills import page
from tests.speed.figures import Figure, at
from tests.speed.probe import MAKE, TALLY
from tests.speed.tablet import Slowed, slowed

STARTS, FINDS = 12, 20
OWN, A_WEEK, AT_ONCE = 5_000, 20_000, 500
KEYS_STAND = "speed.usable > 0"


def measure(folder: Path) -> Iterator[Figure]:
    """Start from the cache again and again; then with many own records; then send them."""
    with slowed(folder) as tablet:
        keys = tablet.to_the_keys()
        for number in range(FINDS):
            tablet.browser.click(*keys[number % len(keys)])
            time.sleep(0.4)
        tablet.wait(page.NOTHING_WAITS)
        tray = str(tablet.browser.value("location.href"))
        tablet.served.stop(signal.SIGKILL)
        yield from _starts(tablet, tray, "cold start with the server off to usable", (800, 1_500))
        held = _make(tablet, tray, OWN)
        yield from _starts(tablet, tray, f"the same with {held:,} own records", (None, None))
        yield Figure(f"JavaScript heap with {held:,} own records", tablet.heap_mb(), "MB", at_most=40)
        times = [_tally(tablet, tray) for _ in range(5)]
        yield Figure(
            f"own tally of {held:,} records, from its address to painted", at(0.5, times), "ms", at_most=100
        )
        held = _make(tablet, tray, A_WEEK)
        yield from _backlog(tablet, held)


def _starts(tablet: Slowed, address: str, name: str, most: tuple[float | None, float | None]) -> Iterator[Figure]:
    times = []
    for _ in range(STARTS):
        tablet.start_again(address)
        tablet.wait(KEYS_STAND)
        times.append(tablet.browser.value("speed.usable"))
    for share, word, target in ((0.5, "p50", most[0]), (0.95, "p95", most[1])):
        yield Figure(f"{name}, {word} of {STARTS}", at(share, times), "ms", at_most=target)


def _make(tablet: Slowed, address: str, count: int) -> int:
    """Let the store make own records until it holds so many; returns how many it holds."""
    tablet.start_again(address, slower=1)
    keys = tablet.to_the_keys()
    tablet.browser.click(*keys[0])
    tablet.wait("speed.line !== ''")
    while (held := len(tablet.journal())) < count:
        tablet.browser.value(f"{MAKE}({min(AT_ONCE, count - held)})")
    return held


def _tally(tablet: Slowed, address: str) -> float:
    tablet.start_again(address)
    tablet.wait(KEYS_STAND)
    found: float = tablet.browser.value(TALLY)
    return found


def _backlog(tablet: Slowed, held: int) -> Iterator[Figure]:
    """The server is there again: from the start of the page until nothing waits, at this machine's own speed."""
    tablet.served.start_again()
    tablet.start_again(tablet.start_page, slower=1)
    began = time.monotonic()
    tablet.wait(page.NOTHING_WAITS, 300)
    yield Figure(f"backlog of {held:,} records from a browser", time.monotonic() - began, "s", at_most=5)
