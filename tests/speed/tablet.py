# SPDX-License-Identifier: Apache-2.0
"""A tablet: a real Chromium with a profile of its own, as slow as one wants it, before a real server."""

from __future__ import annotations

import json
import signal
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from queue import Queue
from typing import Any

from playwright.sync_api import sync_playwright

from tests.hands import ONE_TAP
from tests.kills import page
from tests.kills.devtools import Browser, Program
from tests.served import Served, free_port
from tests.speed.probe import PROBE

SLOWER = 6  # a cheap tablet beside the machine that this runs on
BATCH = "SK70-0501"


@dataclass
class Slowed:
    """One profile and the browser that is open on it."""

    program: Program
    profile: Path
    served: Served
    heard: Queue[str] = field(default_factory=Queue)  # what the page says
    browser: Browser = field(init=False)

    def start(self) -> None:
        """Start a browser on the profile."""
        self.browser = Browser.start(self.program, self.profile, self.heard.put)

    @property
    def start_page(self) -> str:
        """Where somebody begins."""
        return f"{self.served.address}/#/en/batches"

    def to_the_keys(self) -> list[list[float]]:
        """Walk to the keys of an open tray; returns where those lie that make a find with one tap."""
        page.go_to_the_keys(self.browser, BATCH)
        self.browser.value(page.IS_KEPT)
        keys: list[list[float]] = self.browser.value(f"({page.KEYS})({json.dumps(ONE_TAP)})")
        return keys

    def slow_down(self, times: float = SLOWER) -> None:
        """Let the page's thread be so many times slower; a worker's is not, the browser has no way to it."""
        self.browser.ask("Emulation.setCPUThrottlingRate", rate=times)

    def start_again(self, address: str, slower: float = SLOWER) -> None:
        """A new browser on the same profile, slow from before its first page on."""
        self.browser.kill()
        self.start()
        self.browser.open("about:blank", PROBE)
        self.slow_down(slower)
        self.browser.ask("Page.navigate", url=address)

    def wait(self, condition: str, seconds: float = page.PATIENCE_SECONDS) -> None:
        """Wait until an expression is true in the page."""
        page.wait(self.browser, condition, seconds)

    def journal(self) -> list[dict[str, Any]]:
        """The records in the tablet's journal."""
        lines = self.browser.value(page.FILES)["journal"].splitlines()[1:]
        return [json.loads(line[line.index("{") :]) for line in lines]

    def thread_ms(self) -> float:
        """CPU milliseconds that the page's thread has used."""
        self.browser.ask("Performance.enable")
        found = {one["name"]: one["value"] for one in self.browser.ask("Performance.getMetrics")["metrics"]}
        return float(found["ThreadTime"]) * 1000

    def heap_mb(self) -> float:
        """Megabytes of JavaScript that the page holds, behind a collection."""
        self.browser.ask("HeapProfiler.enable")
        self.browser.ask("HeapProfiler.collectGarbage")
        used: float = self.browser.ask("Runtime.getHeapUsage")["usedSize"]
        return used / 1e6


@contextmanager
def slowed(folder: Path) -> Iterator[Slowed]:
    """A demo works, and a tablet before it that nobody enrolled yet, at full speed."""
    with sync_playwright() as driver:
        program = Program.found(driver)
    served = Served(folder / "works", free_port())
    served.start()
    tablet = Slowed(program, folder / "profile", served)
    tablet.start()
    try:
        tablet.browser.open(tablet.start_page, PROBE)
        yield tablet
    finally:
        tablet.browser.kill()
        served.stop(signal.SIGKILL)
