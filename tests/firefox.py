# SPDX-License-Identifier: Apache-2.0
"""A stock Firefox for the tests, where one is installed: Playwright speaks WebDriver BiDi to it."""

from __future__ import annotations

import os
import shutil
from pathlib import Path

from playwright.sync_api import BrowserContext, Playwright

NAMES = ("firefox-esr", "firefox")
# Behind a kill the app is what opens: no page that offers to restore, no start without its settings.
PREFERENCES: dict[str, str | float | bool] = {
    "browser.sessionstore.resume_from_crash": False,
    "toolkit.startup.max_resumed_crashes": -1,
}
PRIVATE = "browser.privatebrowsing.autostart"  # every window is a private one


def program() -> str | None:
    """Where Firefox is, if it is installed."""
    return next(filter(None, map(shutil.which, NAMES)), None)


def open_profile(playwright: Playwright, profile: Path, is_private: bool = False) -> BrowserContext:
    """Start Firefox on a profile of its own; raises LookupError where there is none."""
    path = program()
    if path is None:
        raise LookupError("No Firefox is on the PATH.")
    return playwright.firefox.launch_persistent_context(
        profile,
        channel="moz-firefox",
        executable_path=path,
        env={**os.environ, "MOZ_CRASHREPORTER_DISABLE": "1"},  # no helper that outlives it
        firefox_user_prefs={**PREFERENCES, PRIVATE: is_private},
        viewport={"width": 1280, "height": 800},
        has_touch=True,
    )
