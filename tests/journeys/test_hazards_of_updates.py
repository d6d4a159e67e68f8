# SPDX-License-Identifier: Apache-2.0
"""A newer build of the app comes to the server while tablets work with the one before."""

from __future__ import annotations

import http.client
import os
import re
import shutil
import signal
import sqlite3
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.node import REPOSITORY
from tests.served import Served, free_port

pytestmark = pytest.mark.browser

WAITS = """async () => {
    const registration = await navigator.serviceWorker.ready;
    await registration.update();
    for (let tries = 0; registration.waiting === null && tries < 600; tries += 1)
        await new Promise((resolve) => setTimeout(resolve, 50));
    return registration.waiting !== null;
}"""
CACHE = """async () => {
    const { active, navigationPreload } = await navigator.serviceWorker.ready;  // it kept all by then
    const found = [];
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const asked of await cache.keys()) found.push(asked.url);
    }
    if (navigator.serviceWorker.controller !== active) {  // it takes the page over a moment behind its start
        await new Promise((heard) => {
            navigator.serviceWorker.addEventListener("controllerchange", heard, { once: true });
            setTimeout(heard, 20_000);
        });
    }
    const preload = (await navigationPreload.getState()).enabled;
    return { found, preload, isControlled: navigator.serviceWorker.controller === active };
}"""
# Through the page, as an import of the app would ask: status and kind of every file.
ASKED_FOR = """async (names) => {
    const answers = {};
    for (const name of names) {
        const answer = await fetch(`/assets/${name}`);
        answers[name] = `${answer.status} ${(answer.headers.get('content-type') ?? '').split(';')[0]}`;
    }
    return answers;
}"""
LOADED = """() => [...document.querySelectorAll('script[src], link[rel=stylesheet]')]
    .map((one) => (one.src || one.href).split('/').at(-1))"""
KIND = {".js": "text/javascript", ".css": "text/css"}


@pytest.fixture
def built(tmp_path: Path) -> Path:
    """The built app of a server's own copy of the tree, which can become another build."""
    tree = tmp_path / "tree"
    for part in ("server", "migrations", "demo_seed", "static/dist"):
        shutil.copytree(REPOSITORY / part, tree / part, ignore=shutil.ignore_patterns("__pycache__"))
    return tree / "static" / "dist"


@pytest.fixture
def served(tmp_path: Path, built: Path) -> Iterator[Served]:
    """A demo works that serves that app."""
    server = Served(tmp_path / "works", free_port())
    server.start()
    server.stop()
    # An interpreter of its own: servers are forked from one that has loaded this repository's tree.
    words = ["demo", "--no-weeks", "--data", str(server.data), "--port", str(server.port)]
    own = subprocess.Popen(
        [sys.executable, "-m", "tallywright.cli.main", *words],
        env={**os.environ, "PYTHONPATH": str(built.parents[1] / "server")}, start_new_session=True,
    )  # fmt: skip
    for _ in range(300):
        try:
            server.ask()
        except (OSError, http.client.HTTPException):
            assert own.poll() is None
            time.sleep(0.1)
        else:
            break
    yield server
    os.killpg(own.pid, signal.SIGKILL)
    own.wait(30)


def build_anew(dist: Path) -> dict[str, str]:
    """Put a build with other names for every hashed file in its place; returns the new names by the old."""
    names = {
        path.name: re.sub(r"-[^-]{8}\.", "-ANOTHER1.", path.name, count=1) if path.name.count("-") else path.name
        for path in (dist / "assets").iterdir()
    }
    names = {old: f"{place:03}-{new}" for place, (old, new) in enumerate(sorted(names.items()))}
    for path in [*dist.glob("*.*"), *(dist / "assets").iterdir()]:
        if path.suffix not in (".js", ".css", ".html"):
            continue
        text = path.read_text(encoding="utf-8")
        for old, new in names.items():
            text = text.replace(old, new)
        if path.name == "service_worker.js":
            text = re.sub(r'("?revision"?:\s*)"[0-9a-f]{32}"', rf'\1"{"1" * 32}"', text)
        path.write_text(text, encoding="utf-8")
    for old, new in names.items():
        (dist / "assets" / old).rename(dist / "assets" / new)
    return names


def names_of(dist: Path) -> list[str]:
    """The app's hashed files, without those of the page that shows trust, which no worker keeps."""
    every = sorted(path.name for path in (dist / "assets").iterdir())
    return [name for name in every if not re.search(r"trust|unprotected", name)]


def finds(served: Served) -> int:
    with sqlite3.connect(served.data / "works.db") as connection:
        return int(connection.execute("SELECT count(*) FROM finds").fetchone()[0])


def test_hazard_a9_b5_b6_the_browser_caches_the_app_and_nothing_else(hands: Hands, built: Path) -> None:
    hands.enrol()
    hands.sign_on("Jonas Falk")
    for page in ("shift", "pareto", "decide", "holds"):
        hands.page.goto(f"{hands.address}/#/en/{page}")
    hands.wait_until_confirmed()
    kept = hands.page.evaluate(CACHE)
    assert kept["isControlled"]
    assert not kept["preload"]
    assert {url.split("/api/")[0].startswith(f"{hands.address}/") for url in kept["found"]} == {True}
    paths = {url.removeprefix(f"{hands.address}/").split("?")[0] for url in kept["found"]}
    files = {str(path.relative_to(built)) for path in built.rglob("*") if path.is_file()}
    assert paths <= files
    assert {f"assets/{name}" for name in names_of(built)} <= paths


def test_hazard_b1_b2_b3_a_newer_build_waits_for_an_idle_moment_and_is_taken_up_as_a_whole(
    browser: Browser, served: Served, built: Path
) -> None:
    context = new_tablet(browser)
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(2)
    hands.wait_until_confirmed()
    waits = context.new_page()
    waits.goto(served.address)
    expect(waits.get_by_role("heading")).to_be_visible()
    old = names_of(built)

    # It comes in the middle of a count, with records that were not sent.
    context.route("**/api/**", lambda route: route.abort())
    hands.find("Burn")
    hands.press("Tray end")
    hands.press(re.compile("^1$"))
    renamed = build_anew(built)
    assert hands.page.evaluate(WAITS)
    expect(hands.page.get_by_role("button", name="Show the tally")).to_be_visible()
    assert not set(hands.page.evaluate(LOADED)) & set(renamed.values())
    # The server has none of the old files any more; the page still has all of them.
    assert hands.page.request.get(f"{served.address}/assets/{old[0]}").status == 404
    answers = hands.page.evaluate(ASKED_FOR, old)
    assert answers == {name: f"200 {KIND[Path(name).suffix]}" for name in old}
    hands.press("Show the tally")
    hands.press(re.compile("^All looked at"))
    expect(hands.page.get_by_text("is closed and stored")).to_be_visible()

    # One key at an idle moment; page and files are then of the new build.
    hands.page.goto(f"{served.address}/#/en/batches")
    with hands.page.expect_event("load"):
        hands.press("Change to it now")
    take_over(hands.page, waits)
    loaded = hands.page.evaluate(LOADED)
    assert loaded
    assert set(loaded) <= set(renamed.values())
    # The other tab still runs the old build, has none of its further files, and comes over with one key.
    waits.goto(f"{served.address}/#/en/pareto")
    expect(waits.get_by_text("This page did not come")).to_be_visible()
    with waits.expect_event("load"):
        waits.get_by_role("button", name="Try again").click()
    assert set(waits.evaluate(LOADED)) <= set(renamed.values())
    waits.close()

    expect(hands.page.get_by_text("nothing waits")).to_have_count(0)
    assert finds(served) == 2
    context.unroute("**/api/**")
    hands.wait_until_confirmed()
    assert finds(served) == 3
    context.close()


def take_over(first: Page, second: Page) -> None:
    """The tab that waited has the files as soon as the other starts anew."""
    expect(second.get_by_role("button", name="Pareto")).to_be_visible()
    expect(first.get_by_role("heading")).to_be_visible()
