# SPDX-License-Identifier: Apache-2.0
"""A served demo works and a browser for each journey."""

from __future__ import annotations

import itertools
import signal
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, expect

from tests.acceptance.journal_browser import Profile, build_page
from tests.browser import launch_options, new_tablet
from tests.hands import Hands
from tests.served import Served, free_port

# A journey asks whether something happens, not how soon: speed has measurements of its own.
expect.set_options(timeout=20_000)


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    """A browser; journeys open contexts of their own in it."""
    opened = playwright.chromium.launch(**launch_options(playwright))
    yield opened
    opened.close()


@pytest.fixture
def served(tmp_path: Path) -> Iterator[Served]:
    """A demo works, being served."""
    server = Served(tmp_path / "works", free_port())
    server.start()
    yield server
    server.stop(signal.SIGKILL)  # nobody looks at what it leaves, and to end in order takes a second


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """Somebody before a tablet that is not enrolled yet."""
    context = new_tablet(browser)
    yield Hands.at(context, served.address)
    context.close()


@pytest.fixture
def other(browser: Browser, served: Served) -> Iterator[Hands]:
    """Somebody at another tablet of the same works."""
    context = browser.new_context(viewport={"width": 800, "height": 1280}, has_touch=True)
    yield Hands.at(context, served.address)
    context.close()


@pytest.fixture(scope="session")
def pages(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The built test page."""
    return build_page(tmp_path_factory.mktemp("tablet_page"))


@pytest.fixture(scope="module")
def steady(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """A demo works for the tests that never stop it."""
    server = Served(tmp_path_factory.mktemp("steady") / "works", free_port())
    server.start()
    yield server
    server.stop()


@pytest.fixture
def open_profile(
    request: pytest.FixtureRequest, playwright: Playwright, tmp_path: Path, pages: Path, steady: Served
) -> Iterator[Callable[[], Profile]]:
    """Make profiles, each new; all are closed at the end. A test that asks for `served` has a server of its own."""
    server: Served = request.getfixturevalue("served") if "served" in request.fixturenames else steady
    number = itertools.count()
    opened: list[Profile] = []

    def make() -> Profile:
        opened.append(Profile.open(playwright, tmp_path / f"profile-{next(number)}", pages, server))
        return opened[-1]

    yield make
    for profile in opened:
        profile.close()
