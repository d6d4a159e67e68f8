# SPDX-License-Identifier: Apache-2.0
"""What browsers do to a store and its tabs, with the tablet below its screens in a real Chromium."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import pytest
from playwright.sync_api import Error, Route

from tests.acceptance.journal_browser import Profile, enrol, own_ids, phase, read, tap, wait_for
from tests.served import Served

pytestmark = [pytest.mark.browser, pytest.mark.node]

LAST = "tablet.records.value.filter((one) => one.chain === tablet.signOn.value.id.split(':')[0]).at(-1)"
DURABILITIES = """() => {
    window.durabilities = [];
    const { transaction } = IDBDatabase.prototype;
    IDBDatabase.prototype.transaction = function (...words) {
        const made = transaction.apply(this, words);
        if (made.mode === 'readwrite') window.durabilities.push(made.durability);
        return made;
    };
}"""
# Somebody left the tab and came back while taps were on their way to the store.
FROZEN_UNDER_TAPS = """async () => {
    const definition = tablet.records.value.find((one) => one.kind === 'definition_published').id;
    const add = (number) =>
        tablet.add({ kind: 'batch_opened', v: 1, definition, body: { number: `F-${number}`, pieces: 1 } });
    const answers = [];
    for (let number = 0; number < 12; number += 1) {
        answers.push(add(number));
        if (number % 3 === 0) document.dispatchEvent(new Event('freeze'));
        if (number % 3 === 1) await Promise.resolve();
        if (number % 3 === 2) document.dispatchEvent(new Event('resume'));
        if (number === 6) await Promise.all(answers);
    }
    document.dispatchEvent(new Event('resume'));
    return (await Promise.all(answers)).map((answer) => answer.stored);
}"""
NEWER_DATABASE = """() => new Promise((resolve, reject) => {
    const request = indexedDB.open('tallywright', 2);
    request.onblocked = () => reject(new Error('the tablet holds the database open'));
    request.onerror = () => reject(request.error);
    request.onsuccess = () => { request.result.close(); resolve(true); };
})"""
ONE_TAP_LATER = """async (times) => {
    const definition = tablet.records.value.find((one) => one.kind === 'definition_published').id;
    for (let at = 0; at < times; at += 1) {
        const body = { number: `L-${at}`, pieces: 1 };
        await tablet.add({ kind: 'batch_opened', v: 1, definition, body });
    }
}"""


def test_hazard_a5_taps_while_the_files_are_let_go_and_taken_again_are_stored_once(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    answers = page.evaluate(FROZEN_UNDER_TAPS)
    wait_for(page, "tablet.state.value.phase === 'ready'")
    assert answers == [True] * 12
    ids = own_ids(page)
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'ready'")
    assert own_ids(page) == ids
    assert [int(one.split(":")[1]) for one in ids] == list(range(1, 15))


def test_hazard_a6_a11_the_key_is_written_strictly_and_the_browser_is_asked_to_keep_the_store_at_every_start(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    page.evaluate(DURABILITIES)
    enrol(page)
    assert read(page, "window.durabilities") == ["strict"]
    wait_for(page, "tablet.isKept.value !== undefined")
    # A fresh profile of a browser without an installed app is promised nothing.
    assert read(page, "tablet.isKept.value") == page.evaluate("() => navigator.storage.persisted()")
    page.add_init_script("StorageManager.prototype.persist = () => Promise.resolve(true)")
    page.reload()
    wait_for(page, "tablet.isKept.value === true")


def test_hazard_a12_a_browser_database_whose_files_are_broken_costs_the_key_and_no_record(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    tap(page)
    wait_for(page, "tablet.sync.value.confirmed === 3")
    ids = own_ids(page)
    profile.close()
    files = [path for path in profile.folder.glob("Default/IndexedDB/*127.0.0.1*leveldb/*") if path.is_file()]
    assert files
    for path in files:
        path.write_bytes(b"broken" * 100)
    profile = profile.again()
    page = profile.tablet()
    assert phase(page) in ("not_enrolled", "cannot_record")
    if phase(page) == "cannot_record":
        assert read(page, "tablet.state.value.why") == "failed"
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 5")
    assert own_ids(page)[:3] == ids
    opened = "tablet.records.value.filter((one) => one.kind === 'chain_opened').map((one) => one.known.body.why)"
    assert read(page, opened) == ["first", "key_lost"]
    profile.close()


def test_hazard_a14_a_page_goes_on_recording_though_a_newer_one_changed_the_browsers_database(
    open_profile: Callable[[], Profile],
) -> None:
    page = open_profile().tablet()
    enrol(page)
    assert page.evaluate(NEWER_DATABASE) is True
    assert tap(page)["stored"] is True
    wait_for(page, "tablet.sync.value.confirmed === 3")
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'ready'")
    assert tap(page)["stored"] is True


def test_hazard_c2_what_the_browser_says_of_the_network_decides_nothing(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    page = open_profile().tablet()
    page.evaluate("() => Object.defineProperty(navigator, 'onLine', { get: () => false })")
    enrol(page)
    tap(page)
    wait_for(page, "tablet.sync.value.confirmed === 3 && tablet.sync.value.contact === 'server'")
    page.reload()
    page.evaluate("() => Object.defineProperty(navigator, 'onLine', { get: () => true })")
    served.stop()
    assert tap(page)["stored"] is True
    wait_for(page, "tablet.sync.value.contact === 'none'")
    assert read(page, "tablet.sync.value.confirmed") == 3
    served.start()
    page.evaluate("() => window.tablet.syncNow()")
    wait_for(page, "tablet.sync.value.confirmed === 4")


def test_hazard_d6_a_record_is_stored_though_every_request_hangs(open_profile: Callable[[], Profile]) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 2")
    held: list[Route] = []
    profile.context.route("**/api/**", lambda route: held.append(route))
    for _ in range(5):
        assert tap(page)["stored"] is True
    wait_for(page, "tablet.sync.value.stored + tablet.sync.value.sent === 5")
    for route in held:
        route.abort()
    profile.context.unroute("**/api/**")
    page.evaluate("() => window.tablet.syncNow()")
    wait_for(page, "tablet.sync.value.confirmed === 7")


def test_hazard_d10_without_the_queue_the_files_themselves_keep_a_second_tab_out(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()

    def without_queue(route: Route) -> None:
        name = route.request.url.split("/tablet/", 1)[1].split("?")[0]
        text = "navigator.locks.request = (name, options, act) => (act ?? options)({});\n"
        text += (profile.pages / name).read_text()
        route.fulfill(status=200, body=text, headers={"content-type": "text/javascript"})

    profile.context.route("**/tablet/assets/worker*", without_queue)
    first = profile.tablet()
    enrol(first)
    tap(first)
    second = profile.tablet()
    assert phase(second) == "cannot_record"
    assert second.evaluate("() => window.tablet.signOnAs(`${'a'.repeat(26)}:1`)")["stored"] is False
    assert tap(first)["stored"] is True
    wait_for(first, "tablet.sync.value.confirmed === 4")


def test_hazard_d10_a_tab_that_crashes_frees_the_files_for_the_one_that_waits(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    first = profile.tablet()
    enrol(first)
    tap(first)
    ids = own_ids(first)
    second = profile.tablet()
    assert phase(second) == "open_elsewhere"
    with pytest.raises(Error):
        first.goto("chrome://crash")
    wait_for(second, "tablet.state.value.phase === 'ready'")
    assert own_ids(second) == ids
    assert tap(second)["stored"] is True
    wait_for(second, "tablet.sync.value.confirmed === 4")


def test_hazard_d16_a_wall_clock_that_shows_half_past_two_twice_gives_two_different_times(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    profile.context.new_cdp_session(page).send("Emulation.setTimezoneOverride", {"timezoneId": "Europe/Berlin"})
    said: list[dict[str, Any]] = []
    for instant in ("2026-10-25T00:30:00Z", "2026-10-25T01:30:00Z"):
        page.clock.set_fixed_time(instant)
        assert page.evaluate("() => new Date().toTimeString().slice(0, 5)") == "02:30"
        page.evaluate(ONE_TAP_LATER, 1)
        said.append(json.loads(read(page, f"{LAST}.line")))
    assert [(one["time_zone"], one["offset_min"]) for one in said] == [
        ("Europe/Berlin", 120),
        ("Europe/Berlin", 60),
    ]
    assert said[1]["made_at"] - said[0]["made_at"] == 60 * 60 * 1000
