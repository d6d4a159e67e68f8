# SPDX-License-Identifier: Apache-2.0
"""The tablet's store and sync in a real Chromium, on real files, in front of the real server."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest

from tests.acceptance import memory
from tests.acceptance.journal_browser import (
    Profile,
    enrol,
    own_ids,
    phase,
    read,
    tap,
    wait_for,
)
from tests.served import Served

pytestmark = [pytest.mark.browser, pytest.mark.node]

KILLS = 5


def test_the_store_on_real_files_passes_the_same_suite_as_in_memory(open_profile: Callable[[], Profile]) -> None:
    page = open_profile().tablet("acceptance.html", wait=False)
    page.wait_for_function("() => window.results !== undefined")
    results: dict[str, str] = page.evaluate("() => window.results")
    assert len(results) > 10
    assert {name: result for name, result in results.items() if result != "ok"} == {}


def test_a_tap_is_stored_sent_and_confirmed(open_profile: Callable[[], Profile], served: Served) -> None:
    page = open_profile().tablet()
    wait_for(page, "tablet.state.value.demo === true")
    enrol(page)
    answer = tap(page)
    assert answer["stored"] is True
    wait_for(page, "tablet.sync.value.confirmed === 3")
    assert read(page, "tablet.sync.value.contact") == "server"
    assert re.fullmatch("[A-Z]{2,4}", read(page, "tablet.letters.value"))
    skews = "tablet.records.value.filter((one) => one.id.startsWith(tablet.signOn.value.id.slice(0, 26)))"
    assert all(abs(skew) < 60_000 for skew in read(page, f"{skews}.map((one) => one.known.skew_ms)"))
    page.evaluate("() => window.tablet.syncNow()")
    wait_for(page, f"tablet.batches.value.lines.some((one) => one.batch === '{answer['id']}')")
    assert served.run("verify").returncode == 0


def test_a_tablet_starts_taps_and_reloads_while_the_server_is_off(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    page = open_profile().tablet()
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 2")
    signed_on = read(page, "tablet.signOn.value")
    served.stop()
    assert tap(page)["stored"] is True
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'ready'")
    assert read(page, "tablet.signOn.value") == signed_on
    assert read(page, "tablet.sync.value.confirmed") == 2
    assert read(page, "tablet.sync.value.contact") == "none"
    assert tap(page)["stored"] is True
    ids = own_ids(page)
    assert [int(one.split(":")[1]) for one in ids] == [1, 2, 3, 4]
    served.start()
    wait_for(page, "tablet.sync.value.confirmed === 4")
    assert served.run("verify").returncode == 0


def test_a_killed_browser_loses_nothing_that_was_shown_stored(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    served.stop()
    shown = [f"{own_ids(page)[0].split(':')[0]}:{n}" for n in (1, 2)]
    for taps in range(1, KILLS + 1):
        for _ in range(taps):
            answer = tap(page)
            assert answer["stored"] is True
            shown.append(answer["id"])
        profile.kill()
        profile = profile.again()
        page = profile.tablet()
        assert own_ids(page)[: len(shown)] == shown
        shown = own_ids(page)
    served.start()
    wait_for(page, f"tablet.sync.value.confirmed === {len(shown)}")
    profile.close()


def test_hazard_a4_a7_the_tap_after_the_site_data_were_cleared_is_not_called_stored_and_still_reaches_the_server(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 2")
    served.stop()
    before = tap(page)
    assert before["stored"] is True
    session = profile.context.new_cdp_session(page)
    session.send("Storage.clearDataForOrigin", {"origin": served.address, "storageTypes": "all"})
    answer = tap(page)
    assert answer["stored"] is False
    assert answer["why"] == "file_gone"
    assert answer["kept"] is True
    assert len(own_ids(page)) == 4
    served.start()
    # Memory and the key in it are all that is left, and both are enough.
    wait_for(page, "tablet.sync.value.confirmed === 4")
    assert served.run("verify").returncode == 0


def test_hazard_a13_a17_a_second_tab_waits_and_has_the_files_when_the_first_closes(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    first = profile.tablet()
    enrol(first)
    wait_for(first, "tablet.sync.value.confirmed === 2")
    # What the first tab could not send before it was closed goes out from the second.
    first.route("**/sync/push", lambda route: route.abort())
    tap(first)
    second = profile.tablet()
    assert phase(second) == "open_elsewhere"
    assert second.evaluate("() => window.tablet.signOnAs(`${'a'.repeat(26)}:1`)")["stored"] is False
    ids = own_ids(first)
    assert read(first, "tablet.sync.value.confirmed") == 2
    first.close()
    wait_for(second, "tablet.state.value.phase === 'ready'")
    assert own_ids(second) == ids
    wait_for(second, "tablet.sync.value.confirmed === 3")
    assert tap(second)["stored"] is True


def test_a_second_tab_has_the_files_when_the_first_reloads_and_the_first_waits(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    first = profile.tablet()
    enrol(first)
    second = profile.tablet()
    assert phase(second) == "open_elsewhere"
    first.reload()
    wait_for(second, "tablet.state.value.phase === 'ready'")
    wait_for(first, "tablet.state.value.phase === 'open_elsewhere'")


def test_a_tab_frozen_while_it_has_the_files_keeps_the_next_waiting_and_goes_on_when_it_wakes(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    first = profile.tablet()
    enrol(first)
    assert tap(first)["stored"] is True
    tools = profile.context.new_cdp_session(first)
    tools.send("Page.setWebLifecycleState", {"state": "frozen"})
    second = profile.tablet()
    assert phase(second) == "open_elsewhere"
    assert second.evaluate("() => window.tablet.signOnAs(`${'a'.repeat(26)}:1`)")["stored"] is False
    tools.send("Page.setWebLifecycleState", {"state": "active"})
    assert tap(first)["stored"] is True
    ids = own_ids(first)
    first.close()
    wait_for(second, "tablet.state.value.phase === 'ready'")
    assert own_ids(second) == ids


LOOK_AWAY = """(state) => {
    Object.defineProperty(document, 'visibilityState', { value: state, configurable: true });
    document.dispatchEvent(new Event('visibilitychange'));
}"""


def test_a_tab_nobody_looks_at_lets_the_files_go_once_all_is_confirmed(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    profile = open_profile()
    first = profile.tablet()
    enrol(first)
    wait_for(first, "tablet.sync.value.confirmed === 2")
    served.stop()
    assert tap(first)["stored"] is True
    first.evaluate(LOOK_AWAY, "hidden")
    second = profile.tablet()
    assert phase(second) == "open_elsewhere"
    served.start()
    # A request that was under way may still fail after the server is back; a hidden tab asks but once a minute.
    for _ in range(30):
        first.evaluate("() => window.tablet.syncNow()")
        second.wait_for_timeout(500)
        if phase(second) == "ready":
            break
    assert phase(second) == "ready"
    assert tap(second)["stored"] is True
    wait_for(second, "tablet.sync.value.confirmed === 4")
    second.evaluate(LOOK_AWAY, "hidden")
    first.evaluate(LOOK_AWAY, "visible")
    wait_for(first, "tablet.sync.value.confirmed === 4 && tablet.state.value.phase === 'ready'")
    assert own_ids(first) == own_ids(second)
    assert tap(first)["stored"] is True


def test_hazard_a8_a_full_disk_is_shown_at_the_tap_and_what_waits_is_stored_when_there_is_room(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 2")
    served.stop()
    session = profile.context.new_cdp_session(page)
    session.send("Storage.overrideQuotaForOrigin", {"origin": served.address, "quotaSize": 1})
    # A handle that was opened before has room set aside for it.
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'ready'")
    answers = [tap(page) for _ in range(200)]
    refused = [answer for answer in answers if not answer["stored"]]
    assert refused
    assert {answer["kept"] for answer in refused} == {True}
    session.send("Storage.overrideQuotaForOrigin", {"origin": served.address})
    # No further tap is needed: the tablet writes what waits by itself.
    with page.expect_event("console", lambda message: message.text == "settled"):
        page.evaluate(
            """async () => {
                const folder = await navigator.storage.getDirectory();
                const size = async () => (await (await folder.getFileHandle('journal-a')).getFile()).size;
                const before = await size();
                const look = setInterval(async () => {
                    if ((await size()) === before) return;
                    clearInterval(look);
                    console.log('settled');
                }, 50);
            }"""
        )
    ids = own_ids(page)
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'ready'")
    assert own_ids(page) == ids
    assert len(ids) == 202


def test_hazard_a12_a_journal_broken_in_the_middle_is_red_and_its_export_holds_every_whole_line(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    for _ in range(4):
        tap(page)
    wait_for(page, "tablet.sync.value.confirmed === 6")
    ids = own_ids(page)
    page.goto(f"{profile.served.address}/api/v1/works")
    page.evaluate(
        """async () => {
            const folder = await navigator.storage.getDirectory();
            const file = await folder.getFileHandle('journal-a');
            const text = await (await file.getFile()).text();
            const at = text.split('\\n').slice(0, 4).join('\\n').length - 1;
            const writer = await file.createWritable({ keepExistingData: true });
            await writer.write({ type: 'write', position: at, data: '?' });
            await writer.close();
        }"""
    )
    page = profile.tablet()
    assert phase(page) == "journal_broken"
    assert own_ids(page) == ids[:2] + ids[3:]
    assert page.evaluate("() => window.tablet.signOnAs(`${'a'.repeat(26)}:1`)")["stored"] is False


def test_a_tablet_whose_key_was_lost_goes_on_in_a_new_chain_beside_the_old(
    open_profile: Callable[[], Profile], served: Served
) -> None:
    page = open_profile().tablet()
    enrol(page)
    tap(page)
    wait_for(page, "tablet.sync.value.confirmed === 3")
    served.stop()
    tap(page)
    old = own_ids(page)
    page.evaluate(
        """() => new Promise((resolve, reject) => {
            const request = indexedDB.deleteDatabase('tallywright');
            request.onsuccess = resolve;
            request.onerror = reject;
        })"""
    )
    page.reload()
    wait_for(page, "tablet.state.value.phase === 'not_enrolled'")
    served.start()
    enrol(page)
    # What the lost key had not sent stays here: not confirmed, shown, and in the export.
    wait_for(page, "tablet.sync.value.confirmed === 5")
    assert read(page, "[tablet.sync.value.stored, tablet.sync.value.sent]") == [1, 0]
    ids = own_ids(page)
    assert ids[:4] == old
    assert [int(one.split(":")[1]) for one in ids[4:]] == [1, 2]
    opened = read(
        page, "tablet.records.value.filter((one) => one.kind === 'chain_opened').map((one) => one.known.body)"
    )
    assert opened[1]["why"] == "key_lost"
    assert re.fullmatch("[0-9a-f]{64}", opened[1]["before"])


def test_nothing_stands_between_a_sign_on_and_what_its_pin_was_given_for(
    open_profile: Callable[[], Profile],
) -> None:
    page = open_profile().tablet()
    enrol(page)
    kinds = page.evaluate(
        """async () => {
            const records = tablet.records.value;
            const person = records.find((one) => one.kind === 'person_changed').id;
            const definition = records.find((one) => one.kind === 'definition_published').id;
            const batch = (number) => ({ kind: 'batch_opened', v: 1, definition, body: { number, pieces: 1 } });
            const pair = (number) => tablet.signOnAs(person, '4071', batch(number));
            const tap = (number) => tablet.add(batch(number));
            await Promise.all([tap('a'), pair('b'), tap('c'), pair('d'), tap('e')]);
            const [chain] = tablet.signOn.value.id.split(':');
            const own = tablet.records.value.filter((one) => one.chain === chain);
            return own.slice(2).map((one) => one.known.body.number ?? one.kind);
        }"""
    )
    assert sorted(kinds) == ["a", "b", "c", "d", "e", "signed_on", "signed_on"]
    assert [kinds[at + 1] for at, kind in enumerate(kinds) if kind == "signed_on"] == ["b", "d"]


def test_hazard_a3_two_tablets_of_one_batch_agree_after_they_took_up_the_same_look(
    open_profile: Callable[[], Profile],
) -> None:
    pages = [open_profile().tablet() for _ in range(2)]
    tally = """async () => {
        const batch = tablet.batches.value.lines.at(-1);
        tablet.carry(batch.batch, 'first');
        const about = { batch: batch.batch, definition: batch.definition, v: 1 };
        const opened = { look: 'first', number: 1, places: 9 };
        const tray = await tablet.add({ ...about, kind: 'tray_opened', body: opened });
        for (let n = 0; n < 3; n += 1) {
            const body = { look: 'first', tray: tray.record.id, defect: 'lap' };
            await tablet.add({ ...about, kind: 'defect_tallied', body });
        }
    }"""
    for page in pages:
        enrol(page)
        wait_for(page, "tablet.batches.value !== undefined")
        page.evaluate(tally)
    marks = "tablet.records.value.filter((one) => one.kind === 'defect_tallied').map((one) => one.id).sort()"
    for page in pages:
        page.evaluate("() => window.tablet.syncNow()")
        wait_for(page, f"({marks}).length === 6")
    assert read(pages[0], marks) == read(pages[1], marks)
    # One person at both: two devices with a chain each, of which neither is taken for the other.
    device = "tablet.records.value.find((one) => one.id === tablet.signOn.value.id).known.device"
    assert read(pages[0], device) != read(pages[1], device)
    opened = "tablet.records.value.filter((one) => one.kind === 'chain_opened').map((one) => one.known.body.why)"
    assert [read(page, opened) for page in pages] == [["first"], ["first"]]
    whole = "tablet.isWhole(tablet.batches.value.lines.at(-1).batch, 'first')"
    assert [read(page, whole) for page in pages] == [True, True]


TALLY = """async (look) => {
    const { batch, definition } = tablet.batches.value.lines.at(-1);
    tablet.carry(batch, look);
    const about = { v: 1, batch, definition };
    const tray = await tablet.add({ ...about, kind: 'tray_opened', body: { look, number: 1, places: 9 } });
    for (let n = 0; n < 3; n += 1) {
        await tablet.add({ ...about, kind: 'defect_tallied', body: { look, tray: tray.record.id, defect: 'lap' } });
    }
    return tray.record.chain;
}"""


def test_a_second_look_is_sent_no_mark_of_the_first_and_none_is_in_its_memory(
    open_profile: Callable[[], Profile],
) -> None:
    profiles = [open_profile() for _ in range(2)]
    first, second = (profile.tablet() for profile in profiles)
    chains = []
    for page, look in ((first, "first"), (second, "second")):
        enrol(page)
        wait_for(page, "tablet.batches.value !== undefined")
        chains.append(page.evaluate(TALLY, look))
        wait_for(page, "tablet.sync.value.confirmed === 6")
    second.evaluate("() => window.tablet.syncNow()")
    wait_for(second, "tablet.isWhole(tablet.batches.value.lines.at(-1).batch, 'second')")
    looks = "tablet.records.value.filter((one) => one.kind === 'tray_opened').map((one) => one.known.body.look)"
    assert read(second, looks) == ["second"]
    # A record and its id begin with the name of its chain: nothing the first look's tablet wrote is anywhere.
    theirs, own = chains
    heaps = memory.heaps(second)
    assert set(heaps) == {"page", "worker"}
    for heap in heaps.values():
        assert own in heap
        assert theirs not in heap
    assert memory.holds(profiles[1].folder, own)
    assert not memory.holds(profiles[1].folder, theirs)
    # The same search finds them once they are there.
    read(second, "tablet.carry(tablet.batches.value.lines.at(-1).batch, 'first')")
    marks = f"tablet.records.value.filter((one) => one.kind === 'defect_tallied' && one.chain === '{theirs}')"
    wait_for(second, f"{marks}.length === 3")
    assert theirs in memory.heaps(second)["page"]
    assert memory.holds(profiles[1].folder, theirs)


def test_hazard_d3_d4_a_session_that_ended_is_renewed_with_the_devices_key(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.tablet()
    enrol(page)
    wait_for(page, "tablet.sync.value.confirmed === 2")
    profile.context.route("**/api/**", lambda route: route.abort())
    for _ in range(50):
        assert tap(page)["stored"] is True
    signed_on = read(page, "tablet.signOn.value.id")
    profile.context.clear_cookies()
    profile.context.unroute("**/api/**")
    with page.expect_response(lambda answer: answer.url.endswith("/api/v1/sessions") and answer.ok):
        page.evaluate("() => window.tablet.syncNow()")
    with page.expect_response(lambda answer: "/sync/pull" in answer.url and answer.ok):
        page.evaluate("() => window.tablet.syncNow()")
    wait_for(page, "tablet.sync.value.contact === 'server' && tablet.sync.value.confirmed === 52")
    opened = "tablet.records.value.filter((one) => one.kind === 'batch_opened' && one.known.body.pieces === 1)"
    assert read(page, f"[...new Set({opened}.map((one) => one.known.sign_on))]") == [signed_on]


def test_hazard_e8_a_page_without_a_secure_context_says_that_it_cannot_record(
    open_profile: Callable[[], Profile],
) -> None:
    profile = open_profile()
    page = profile.context.new_page()
    # The name is answered by the browser's own map, not by a look-up: only 127.0.0.1 and localhost are secure.
    page.route("http://tablet.test/**", profile._answer)
    page.goto("http://tablet.test/tablet/index.html")
    wait_for(page, "tablet.state.value.phase === 'cannot_record'")
    assert read(page, "tablet.state.value.why") == "no_secure_context"
