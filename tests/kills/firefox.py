# SPDX-License-Identifier: Apache-2.0
"""A Firefox to kill, with the few methods of the Chromium in devtools.py.

What its page says passes through two more processes on the way here, so a last word may die with it: then less is
claimed, and what was heard counts.
"""

from __future__ import annotations

import os
import signal
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Error, Page, Playwright

from tests.firefox import open_profile
from tests.kills.devtools import Gone, of_session


@dataclass
class Firefox:
    """A running browser with one page."""

    context: BrowserContext
    page: Page
    pid: int
    is_struck: bool = False
    touch_seconds = 0.15  # by then what comes of a touch has reached the disk

    @classmethod
    def start(cls, driver: Playwright, profile: Path, on_said: Callable[[str], None]) -> Firefox:
        """Start a browser on a profile; what its page says through `say(text)` is handed on."""
        context = open_profile(driver, profile)
        context.expose_binding("say", lambda _source, text: on_said(text))
        # The profile's lock names the process: address, colon, plus sign, number.
        return cls(context, context.pages[0], int((profile / "lock").readlink().name.rpartition("+")[2]))

    def open(self, address: str, script: str) -> None:
        """Open an address in the browser's page, with a script of ours before any of its own."""
        with self._until_struck():
            self.page.add_init_script(script)
            self.page.goto(address)

    def value(self, script: str) -> Any:
        """The value of an expression in the page, awaited; raises Gone."""
        with self._until_struck():
            return self.page.evaluate(script)

    def click(self, x: float, y: float) -> None:
        """Press and let go at a place of the page, without waiting for what comes of it."""
        with suppress(Gone), self._until_struck():  # it may have come through: it counts as a touch
            self.page.mouse.click(x, y)

    def choose(self, selector: str, file: Path) -> None:
        """Hand a file to the chooser's field; raises Gone."""
        with self._until_struck():
            self.page.set_input_files(selector, file)

    def rest(self, seconds: float) -> None:
        """Let time pass, and hear what the page says meanwhile; raises Gone."""
        with self._until_struck():
            self.page.wait_for_timeout(seconds * 1000)

    def strike(self) -> None:
        """End every process of the browser's group, at once."""
        self.is_struck = True
        with suppress(ProcessLookupError):
            os.killpg(self.pid, signal.SIGKILL)

    def kill(self) -> None:
        """End every process of the browser at once, and hear out what is on its way."""
        self.strike()
        while others := of_session(self.pid):
            for other in others:
                with suppress(ProcessLookupError):
                    os.kill(other, signal.SIGKILL)
            time.sleep(0.01)
        with suppress(Error):
            self.context.close()

    @contextmanager
    def _until_struck(self) -> Iterator[None]:
        """An error behind our own blow says that the browser is gone; one before it is an error."""
        try:
            yield
        except Error as problem:
            if not self.is_struck:
                raise
            raise Gone from problem
