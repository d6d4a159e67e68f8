# SPDX-License-Identifier: Apache-2.0
"""Whose work it was: a wrong PIN keeps every find, says so, and is put right tray by tray; an idle tablet asks."""

from __future__ import annotations

import re
import sqlite3

import pytest
from playwright.sync_api import expect

from tests.hands import Hands
from tests.served import Served

pytestmark = pytest.mark.browser

WHO, PIN, WRONG = "Ines Brandt", "4071", "9182"


def rows(served: Served, query: str) -> list[tuple[object, ...]]:
    with sqlite3.connect(served.data / "works.db") as connection:
        return connection.execute(query).fetchall()


def authors_of_finds(served: Served) -> list[bool]:
    """Whether the author of each find is proven, as the server says."""
    return [author != "" for (author,) in rows(served, "SELECT author FROM finds ORDER BY id")]


def test_a_tray_closed_under_a_wrong_pin_is_kept_marked_and_confirmed_later(hands: Hands, served: Served) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on(WHO, WRONG)
    hands.press("Go on")
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(3)
    hands.end_tray()
    hands.wait_until_confirmed()
    expect(page.locator("button.person")).to_contain_text("author not proven")
    expect(page.get_by_text("closed, counts once its author is proven")).to_be_visible()
    expect(page.get_by_role("button", name="Tray 1 was mine")).to_be_disabled()
    assert authors_of_finds(served) == [False] * 3

    hands.press("Sign on with your PIN to confirm")
    hands.sign_on(WHO, PIN)
    expect(page.locator("button.person")).not_to_contain_text("author not proven")
    hands.press("Tray 1 was mine")
    expect(page.get_by_text("Trays that wait for their author")).to_have_count(0)
    expect(page.get_by_text("closed, 60 pieces looked at", exact=True)).to_be_visible()
    hands.wait_until_confirmed()
    assert authors_of_finds(served) == [True] * 3


def test_what_was_confirmed_without_contact_counts_once_the_pin_is_judged(hands: Hands, served: Served) -> None:
    hands.enrol()
    hands.sign_on(WHO, "")
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(1)
    hands.end_tray()
    hands.wait_until_confirmed()
    hands.lose_contact()
    hands.press("Sign on with your PIN to confirm")
    hands.sign_on(WHO, PIN)
    hands.press("Tray 1 was mine")
    expect(hands.page.locator("button.person")).to_contain_text("PIN not judged yet")
    assert authors_of_finds(served) == [False]
    hands.find_contact()
    hands.wait_until_confirmed()
    expect(hands.page.locator("button.person")).not_to_contain_text("PIN not judged yet")
    assert authors_of_finds(served) == [True]


def test_hazard_d8_d9_who_takes_the_tablet_over_without_contact_sends_the_others_finds_as_the_others(
    hands: Hands, served: Served
) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on(WHO)
    hands.take_up()
    hands.begin_tray(1)
    hands.wait_until_confirmed()
    served.stop()
    hands.find_several(7)
    hands.press("Trays")
    hands.hand_over("Piotr Zielny")
    expect(page.get_by_text("8 stored here")).to_be_visible()  # seven finds and a sign-on
    hands.press("Go on with tray 1")
    expect(page.get_by_label("Defect keys")).to_be_visible()
    assert hands.marked() == 7
    served.start()
    hands.find("Burn")
    hands.wait_until_confirmed(timeout_ms=80_000)
    query = """
        SELECT json_extract(CAST(line AS TEXT), '$.body.name'), count(*) FROM finds
        JOIN records ON records.chain || ':' || records.n = finds.author GROUP BY 1 ORDER BY 1
    """
    assert rows(served, query) == [("Ines Brandt", 7), ("Piotr Zielny", 1)]


def test_an_idle_tablet_asks_who_goes_on_and_keeps_the_tray_in_hand(hands: Hands) -> None:
    hands.page.clock.install()
    hands.page.reload()
    hands.enrol()
    hands.sign_on(WHO)
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(2)
    hands.page.clock.fast_forward("16:00")
    expect(hands.page.get_by_text("Who works here now?")).to_be_visible()
    expect(hands.page.get_by_label("Defect keys")).to_have_count(0)
    hands.press(re.compile("Piotr Zielny"))
    for digit in "5823":
        hands.page.get_by_role("button", name=digit, exact=True).click()
    hands.press(re.compile("^Begin$"))
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()
    assert hands.marked() == 2
    hands.find_several(1)
    expect(hands.page.locator("button.person")).to_contain_text("Piotr Zielny")
