# SPDX-License-Identifier: Apache-2.0
"""The tablet below its screens in a real browser, in front of the real server: what the browser tests share."""

from __future__ import annotations

import mimetypes
import os
import signal
import subprocess
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import BrowserContext, Error, Page, Playwright, Route

from tests import node
from tests.browser import launch_options
from tests.served import Served

PAGES = Path(__file__).parent / "journal_page"
PATIENCE_MS = 15_000


def build_page(folder: Path) -> Path:
    """Build the test page, with the tablet's own code inside, into a folder."""
    node.install()
    words = [*node.npm(), "exec", "--", "vite", "build", str(PAGES)]
    words += ["--outDir", str(folder), "--emptyOutDir", "--base", "/tablet/", "--logLevel", "error"]
    done = subprocess.run(words, cwd=node.STATIC, env=node.environment(), capture_output=True, check=False)
    assert done.returncode == 0, done.stderr.decode()
    return folder


@dataclass
class Profile:
    """One browser profile that outlives its browser; the test page stands beside the server's API."""

    playwright: Playwright
    folder: Path
    pages: Path
    served: Served
    context: BrowserContext

    @classmethod
    def open(cls, playwright: Playwright, folder: Path, pages: Path, served: Served) -> Profile:
        """Start a browser on the profile."""
        context = playwright.chromium.launch_persistent_context(str(folder), **launch_options(playwright))
        context.set_default_timeout(PATIENCE_MS)
        profile = cls(playwright, folder, pages, served, context)
        context.route("**/tablet/**", profile._answer)
        return profile

    def again(self) -> Profile:
        """Start a new browser on the same profile."""
        return Profile.open(self.playwright, self.folder, self.pages, self.served)

    def kill(self) -> None:
        """End every process of this profile's browser at once, as a power cut ends them."""
        for process in Path("/proc").iterdir():
            try:
                words = (process / "cmdline").read_bytes().split(b"\0")
            except (OSError, ValueError):
                continue
            if f"--user-data-dir={self.folder}".encode() in words:
                os.kill(int(process.name), signal.SIGKILL)
        self.close()

    def close(self) -> None:
        """Close the browser, if it is still there."""
        with suppress(Error):
            self.context.close()

    def tablet(self, name: str = "index.html", wait: bool = True) -> Page:
        """Open the page and wait until the tablet knows what it is."""
        page = self.context.new_page()
        page.goto(f"{self.served.address}/tablet/{name}")
        if wait:
            wait_for(page, "tablet.state.value.phase !== 'starting'")
        return page

    def _answer(self, route: Route) -> None:
        name = route.request.url.split("/tablet/", 1)[1].split("?")[0]
        file = self.pages / name
        kind = mimetypes.guess_type(name)[0] or "application/octet-stream"
        route.fulfill(status=200, body=file.read_bytes(), headers={"content-type": kind})


def wait_for(page: Page, condition: str) -> None:
    """Wait until an expression over `tablet` is true in the page."""
    page.wait_for_function(f"() => {{ const tablet = window.tablet; return {condition}; }}", timeout=PATIENCE_MS)


def read(page: Page, expression: str) -> Any:
    """The value of an expression over `tablet`."""
    return page.evaluate(f"() => {{ const tablet = window.tablet; return {expression}; }}")


def phase(page: Page) -> str:
    """The phase of the tablet."""
    return str(read(page, "tablet.state.value.phase"))


def enrol(page: Page) -> None:
    """Enrol in the demo works and sign on as its first person."""
    answer = page.evaluate("() => window.tablet.enrol({ by: 'demo', name: 'bench 1' })")
    assert answer == {"ok": True}, answer
    wait_for(page, "tablet.state.value.phase === 'ready'")
    wait_for(page, "tablet.records.value.some((one) => one.kind === 'person_changed')")
    assert page.evaluate(
        """async () => {
            const person = tablet.records.value.find((one) => one.kind === 'person_changed').id;
            return (await tablet.signOnAs(person)).stored;
        }"""
    )


def tap(page: Page) -> dict[str, Any]:
    """Open one more batch, the smallest act of a signed-on person; returns the answer and the record's id."""
    answer: dict[str, Any] = page.evaluate(
        """async () => {
            const definition = tablet.records.value.find((one) => one.kind === 'definition_published').id;
            const body = { number: `T-${tablet.records.value.length}`, pieces: 1 };
            const stored = await tablet.add({ kind: 'batch_opened', v: 1, definition, body });
            return { stored: stored.stored, why: stored.why, kept: stored.kept, id: stored.record?.id };
        }"""
    )
    return answer


def own_ids(page: Page) -> list[str]:
    """The ids of the records of this tablet's own chain."""
    ids: list[str] = page.evaluate(
        """async () => {
            const text = await (await tablet.exportJournal()).text();
            const records = text.split('\\n').filter(Boolean).map((line) => JSON.parse(line));
            return records.map((one) => `${one.chain}:${one.n}`);
        }"""
    )
    return ids
