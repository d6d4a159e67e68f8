# SPDX-License-Identifier: Apache-2.0
"""The road of a tap in a real browser: online, offline, over a reload, back, to the server and to the Pareto."""

from __future__ import annotations

import sqlite3
from collections import Counter

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import WHOLE_DEMO, Served

pytestmark = pytest.mark.browser


def server_finds(served: Served) -> list[tuple[str, str]]:
    """The rows of `finds` as they lie in the server's database."""
    with sqlite3.connect(served.data / "works.db") as connection:
        return sorted(connection.execute("SELECT id, defect FROM finds"))


def table_on_screen(hands: Hands) -> dict[str, int]:
    """The Pareto page's table twin: defect word and marks."""
    rows = hands.page.locator("main table tbody tr").all()
    cells = [row.locator("th, td").all_inner_texts() for row in rows]
    return {row[0]: int(row[1]) for row in cells}


def test_one_tap_goes_all_the_way(browser: Browser, served: Served) -> None:
    context = new_tablet(browser)
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on()
    hands.take_up()

    hands.begin_tray(1)
    hands.find_several(15)
    hands.end_tray()
    hands.begin_tray(2)
    hands.find_several(15)
    hands.wait_until_confirmed()
    assert len(server_finds(served)) == 30

    hands.lose_contact()
    hands.find_several(10)
    hands.undo()
    hands.undo()
    assert hands.marked() == 23
    hands.page.reload()
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()
    assert hands.marked() == 23
    hands.find_several(5)
    hands.end_tray(empty=2)
    assert len(server_finds(served)) == 30

    hands.find_contact()
    hands.wait_until_confirmed()
    rows = server_finds(served)
    assert len(rows) == 43

    # What the whole works found is for the lead, not for an inspector.
    hands.page.goto(f"{served.address}/#/en/pareto")
    expect(hands.page.get_by_text("Only the records this tablet holds", exact=False)).to_be_visible()
    hands.hand_over("Jonas Falk")
    expect(hands.page.get_by_text("What was found")).to_be_visible()
    hands.wait_until_confirmed()
    hands.page.goto(f"{served.address}/#/en/pareto")
    expect(hands.page.get_by_text("n = 43 marks on 43 pieces")).to_be_visible()
    on_screen = table_on_screen(hands)
    assert sum(on_screen.values()) == 43
    assert sorted(on_screen.values()) == sorted(Counter(defect for _, defect in rows).values())

    # The tablet's own fold of its own journal, without any contact, says the same.
    hands.lose_contact()
    hands.page.reload()
    expect(hands.page.get_by_text("No contact", exact=False).first).to_be_visible()
    expect(hands.page.get_by_text("n = 43 marks on 43 pieces")).to_be_visible()
    assert table_on_screen(hands) == on_screen
    hands.find_contact()

    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")
    assert served.run("rebuild").returncode == 0
    assert server_finds(served) == rows
    verified = served.run("verify")
    assert (verified.returncode, verified.stdout) == (0, WHOLE_DEMO)
    context.close()


def test_what_taps_drew_before_is_not_kept(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    tools = hands.context.new_cdp_session(hands.page)
    tools.send("Performance.enable")

    def nodes_held() -> float:
        for _ in range(2):
            tools.send("HeapProfiler.collectGarbage")
        measured = tools.send("Performance.getMetrics")["metrics"]
        return float(next(one["value"] for one in measured if one["name"] == "Nodes"))

    hands.find_several(10)
    before = nodes_held()
    hands.find_several(30)
    # Were each drawing of a key kept, every tap would hold three nodes more.
    assert nodes_held() < before + 30


def test_two_tablets_on_one_batch_agree_after_three_rounds(browser: Browser, served: Served) -> None:
    contexts = [new_tablet(browser), new_tablet(browser)]
    first, second = (Hands.at(context, served.address) for context in contexts)
    first.enrol()
    first.sign_on("Ines Brandt")
    first.take_up()
    first.begin_tray(1)
    first.find_several(4)
    first.wait_until_confirmed()

    second.enrol()
    second.sign_on("Piotr Zielny")
    second.take_up()
    second.begin_tray(2)
    second.find_several(3)
    second.wait_until_confirmed()
    first.find("Burn")
    first.wait_until_confirmed()

    assert len(server_finds(served)) == 8
    tables = []
    for hands in (first, second):
        # Three rounds of asking every five seconds, at the longest.
        hands.page.wait_for_timeout(3 * 5_500 if hands is first else 0)
        hands.lose_contact()
        hands.page.goto(f"{served.address}/#/en/pareto")
        expect(hands.page.get_by_text("n = 8 marks on 8 pieces")).to_be_visible()
        tables.append(table_on_screen(hands))
        hands.find_contact()
    assert tables[0] == tables[1]
    assert sum(tables[0].values()) == 8
    for context in contexts:
        context.close()


def test_hazard_b5_d5_a_tablet_starts_and_tallies_while_the_server_is_off(browser: Browser, served: Served) -> None:
    context = new_tablet(browser)
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(2)
    hands.wait_until_confirmed()
    served.stop()

    hands.page.close()
    context.clear_cookies()  # the session ended, too
    hands = Hands(context, context.new_page(), served.address)
    hands.page.goto(f"{served.address}/#/en/batches")
    hands.take_up()
    hands.press("Go on with tray 1")
    hands.find_several(3)
    assert hands.marked() == 5
    expect(hands.page.get_by_text("3 stored here")).to_be_visible()

    served.start()
    # After many failures a tablet pauses for up to a minute.
    hands.wait_until_confirmed(timeout_ms=80_000)
    assert len(server_finds(served)) == 5
    context.close()
