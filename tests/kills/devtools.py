# SPDX-License-Identifier: Apache-2.0
"""A browser as bare as it can be started and killed: one process group, spoken to through a pipe.

Playwright starts a process of its own before each browser and asks it a hundred things; here a start is worth a
second, and what the page says has to come with nothing in between: its last word is in the pipe when it is dead.
"""

from __future__ import annotations

import json
import os
import signal
import subprocess
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path
from queue import Empty, Queue
from threading import Lock, Thread
from typing import Any

from playwright.sync_api import Playwright

from tests.browser import launch_options

FLAGS = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage", "--remote-debugging-pipe",
    "--no-first-run", "--no-default-browser-check", "--disable-background-networking", "--disable-sync",
    "--disable-component-update", "--disable-extensions", "--disable-breakpad", "--disable-crash-reporter",
    "--disable-default-apps", "--mute-audio", "--window-size=1280,800",
)  # fmt: skip
PATIENCE_SECONDS = 60
READ_END, WRITE_END = 3, 4  # where the browser looks for its pipes


class Gone(Exception):
    """The browser does not answer any more."""


@dataclass(frozen=True, slots=True)
class Program:
    """Which browser to start, and with which variables."""

    path: str
    environment: dict[str, str]

    @classmethod
    def found(cls, driver: Playwright) -> Program:
        """The browser that all tests use."""
        options = launch_options(driver)
        path = options.get("executable_path", driver.chromium.executable_path)
        return cls(path, options.get("env", dict(os.environ)))


@dataclass
class Browser:
    """A running browser with one page."""

    process: subprocess.Popen[bytes]
    told: int
    heard: int
    on_said: Callable[[str], None]
    answers: Queue[dict[str, Any] | None] = field(default_factory=Queue)
    number: int = 0
    session: str = ""
    lock: Lock = field(default_factory=Lock)

    @classmethod
    def start(cls, program: Program, profile: Path, on_said: Callable[[str], None]) -> Browser:
        """Start a browser on a profile; what its page says through `say(text)` is handed on, the last word too."""
        theirs_in, told = os.pipe()
        heard, theirs_out = os.pipe()

        def place_ends() -> None:
            ends = os.dup(theirs_in), os.dup(theirs_out)
            os.dup2(ends[0], READ_END)
            os.dup2(ends[1], WRITE_END)

        process = subprocess.Popen(
            [program.path, *FLAGS, f"--user-data-dir={profile}", "about:blank"],
            env=program.environment, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            preexec_fn=place_ends, pass_fds=(READ_END, WRITE_END, theirs_in, theirs_out), start_new_session=True,
        )  # fmt: skip
        os.close(theirs_in)
        os.close(theirs_out)
        browser = cls(process, told, heard, on_said)
        browser.listener = Thread(target=browser._listen, daemon=True)
        browser.listener.start()
        return browser

    listener: Thread = field(init=False)
    touch_seconds = 0.02  # by then what comes of a touch has reached the disk

    def open(self, address: str, script: str) -> None:
        """Open an address in the browser's page, with a script of ours before any of its own."""
        pages = [one for one in self.ask("Target.getTargets")["targetInfos"] if one["type"] == "page"]
        self.session = self.ask("Target.attachToTarget", targetId=pages[0]["targetId"], flatten=True)["sessionId"]
        for method in ("Page.enable", "Runtime.enable"):
            self.ask(method)
        self.ask("Runtime.addBinding", name="say")
        size = {"width": 1280, "height": 800, "deviceScaleFactor": 1, "mobile": False}
        self.ask("Emulation.setDeviceMetricsOverride", **size)
        self.ask("Page.addScriptToEvaluateOnNewDocument", source=script)
        self.ask("Page.navigate", url=address)

    def ask(self, method: str, **parameters: Any) -> dict[str, Any]:
        """Ask, and wait for the answer; raises Gone."""
        number = self.tell(method, **parameters)
        while True:
            try:
                answer = self.answers.get(timeout=PATIENCE_SECONDS)
            except Empty as problem:
                raise TimeoutError(f"The browser did not answer {method}.") from problem
            if answer is None:
                self.answers.put(None)
                raise Gone(method)
            if answer["id"] == number:
                assert "error" not in answer, (method, answer)
                result: dict[str, Any] = answer["result"]
                return result

    def tell(self, method: str, **parameters: Any) -> int:
        """Ask, and do not wait; raises Gone."""
        with self.lock:
            self.number += 1
            words: dict[str, Any] = {"id": self.number, "method": method, "params": parameters}
            if self.session:
                words["sessionId"] = self.session
            try:
                os.write(self.told, json.dumps(words).encode() + b"\0")
            except OSError as problem:
                raise Gone(method) from problem
            return self.number

    def value(self, script: str) -> Any:
        """The value of an expression in the page, awaited."""
        told = self.ask("Runtime.evaluate", expression=script, awaitPromise=True, returnByValue=True)
        assert "exceptionDetails" not in told, told["exceptionDetails"]
        return told["result"].get("value")

    def click(self, x: float, y: float) -> None:
        """Press and let go at a place of the page, without waiting for what comes of it."""
        for kind in ("mousePressed", "mouseReleased"):
            self.tell("Input.dispatchMouseEvent", type=kind, x=x, y=y, button="left", clickCount=1)

    def choose(self, selector: str, file: Path) -> None:
        """Hand a file to the chooser's field, without waiting for what comes of it."""
        told = self.ask("Runtime.evaluate", expression=f"document.querySelector({json.dumps(selector)})")
        self.tell("DOM.setFileInputFiles", files=[str(file)], objectId=told["result"]["objectId"])

    def rest(self, seconds: float) -> None:
        """Let time pass; what the page says meanwhile is heard."""
        time.sleep(seconds)

    def strike(self) -> None:
        """End every process of the browser's group, at once."""
        with suppress(ProcessLookupError):
            os.killpg(self.process.pid, signal.SIGKILL)

    def kill(self) -> None:
        """End every process of the browser at once, and hear out what stands in the pipe."""
        self.strike()
        self.process.wait()
        for other in of_session(self.process.pid):
            os.kill(other, signal.SIGKILL)
        self.listener.join()
        os.close(self.told)
        os.close(self.heard)

    def _listen(self) -> None:
        rest = b""
        while True:
            content = os.read(self.heard, 1 << 20)
            if not content:
                break
            *whole, rest = (rest + content).split(b"\0")
            for message in map(json.loads, whole):
                if "id" in message:
                    self.answers.put(message)
                elif message["method"] == "Runtime.bindingCalled":
                    self.on_said(message["params"]["payload"])
        self.answers.put(None)


def of_session(leader: int) -> list[int]:
    """The processes that still run in a session whose leader is dead."""
    found = []
    for process in Path("/proc").iterdir():
        try:
            words = (process / "stat").read_text().rpartition(")")[2].split()
        except (OSError, ValueError):
            continue
        if words[0] not in "ZX" and int(words[3]) == leader:
            found.append(int(process.name))
    return found
