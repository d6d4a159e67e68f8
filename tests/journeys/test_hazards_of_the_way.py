# SPDX-License-Identifier: Apache-2.0
"""Networks that answer in the server's place, refuse, lose and cut answers: nothing is lost or comes twice."""

from __future__ import annotations

import json
import sqlite3
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import WHOLE_DEMO, Served
from tests.way_station import PULL, PUSH, WayStation

pytestmark = pytest.mark.browser

CACHED = """async () => {
    const kept = {};
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const asked of await cache.keys()) kept[asked.url] = (await (await cache.match(asked)).text()).length;
    }
    return kept;
}"""
UPDATED = """async () => {
    const registration = await navigator.serviceWorker.ready;
    return registration.update().then(() => 'updated', (problem) => problem.name);
}"""
FETCHED = """async () => {
    const folder = await navigator.storage.getDirectory();
    return (await (await folder.getFileHandle('fetched')).getFile()).text();
}"""
COME_ONLINE = "() => { window.dispatchEvent(new Event('online')); }"


@pytest.fixture
def station(served: Served) -> Iterator[WayStation]:
    """A station before the served works."""
    with WayStation(served.port).stand() as made:
        yield made


@pytest.fixture
def behind(browser: Browser, station: WayStation) -> Iterator[Hands]:
    """Somebody at a tablet that reaches the works through the station."""
    context = new_tablet(browser)
    yield Hands.at(context, f"http://127.0.0.1:{station.port}")
    context.close()


def rows(served: Served, query: str) -> list[tuple[Any, ...]]:
    with sqlite3.connect(served.data / "works.db") as connection:
        return connection.execute(query).fetchall()


def meets(hands: Hands, station: WayStation, path: str) -> None:
    """Wait until a request of that path met its fate."""
    for _ in range(60):
        if any(met.startswith(path) for met in station.met):
            return
        hands.page.evaluate(COME_ONLINE)
        hands.page.wait_for_timeout(100)
    raise AssertionError(f"no request to {path} came")


def finds(hands: Hands) -> set[str]:
    return {line for line in hands.journal() if '"defect_tallied"' in line}


def test_hazard_c1_c3_c5_d2_whatever_a_network_answers_nothing_is_lost_and_nothing_comes_twice(
    behind: Hands, other: Hands, station: WayStation, served: Served
) -> None:
    page = behind.page
    behind.enrol()
    behind.sign_on()
    behind.take_up()
    behind.begin_tray(1)
    behind.find("Lap")
    behind.wait_until_confirmed()
    page.evaluate("() => navigator.serviceWorker.ready.then(() => true)")
    cached = page.evaluate(CACHED)

    # A sign-in page answers everything, the question for a newer app too.
    station.fate = "portal"
    behind.find("Burn")
    meets(behind, station, PUSH)
    assert page.evaluate(UPDATED) != "updated"
    page.reload()
    expect(page.get_by_label("Defect keys")).to_be_visible()
    behind.find("Staining")
    meets(behind, station, PULL)
    expect(page.get_by_text("No contact", exact=False).first).to_be_visible()
    expect(page.get_by_text("nothing waits")).to_have_count(0)
    assert page.evaluate(CACHED) == cached
    assert "Welcome" not in page.evaluate(FETCHED)
    assert rows(served, "SELECT count(*) FROM finds") == [(1,)]

    station.only = "/api/"
    for status in (400, 401, 403, 409, 422, 429, 500):
        station.fate, before = status, finds(behind)
        station.met.clear()
        behind.find("Lap")
        meets(behind, station, PUSH)
        assert before < finds(behind)
    assert rows(served, "SELECT count(*) FROM finds") == [(1,)]

    # Three pushes are done, and nobody hears of it.
    for done in (11, 12, 13):
        station.fate = "open"
        page.evaluate(COME_ONLINE)
        behind.wait_until_confirmed()
        station.fate, station.only = "lost", PUSH
        station.met.clear()
        behind.find("Cold shut")
        meets(behind, station, PUSH)
        assert rows(served, "SELECT count(*) FROM finds") == [(done,)]
        expect(page.get_by_text("nothing waits")).to_have_count(0)
    station.fate = "open"
    page.evaluate(COME_ONLINE)
    behind.wait_until_confirmed()
    assert len(finds(behind)) == 13
    assert rows(served, "SELECT count(*) FROM finds") == [(13,)]
    assert rows(served, "SELECT count(*) FROM set_aside") == [(0,)]

    # What another tablet found comes over a way that cuts every answer, each time a hundred bytes later.
    station.fate, station.only, station.cut_at = "cut", PULL, 0
    other.enrol()
    other.sign_on("Piotr Zielny")
    other.take_up()
    other.begin_tray(2)
    other.find_several(3)
    other.wait_until_confirmed()
    before = page.evaluate(FETCHED)
    for station.cut_at in range(0, 2_000, 100):
        station.met.clear()
        meets(behind, station, PULL)
    assert page.evaluate(FETCHED).count("defect_tallied") == before.count("defect_tallied")
    station.fate = "open"
    page.evaluate(COME_ONLINE)
    for _ in range(100):
        if page.evaluate(FETCHED).count("defect_tallied") >= 3:
            break
        page.wait_for_timeout(100)
    # Each once: of its own lines none comes back, and no page was kept twice.
    entries = [json.loads(line.split(" ", 2)[2]) for line in page.evaluate(FETCHED).splitlines()]
    pages = [line for entry in entries if entry["entry"] == "page" for line in entry["page"]["lines"]]
    pages += [line for entry in entries if entry["entry"] == "all" for line in entry["copies"]["lines"]]
    came = [line for line in pages if '"defect_tallied"' in line]
    assert len(came) == len(set(came)) == 3
    verified = served.run("verify")
    assert (verified.returncode, verified.stdout) == (0, WHOLE_DEMO)
