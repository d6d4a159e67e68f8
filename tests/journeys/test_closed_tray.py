# SPDX-License-Identifier: Apache-2.0
"""What was entered in a closed tray is taken back with a reason, and by nobody but whoever entered it."""

from __future__ import annotations

import json
import re

import pytest
from playwright.sync_api import expect

from tests.hands import Hands
from tests.journeys.test_looks import count_in, type_number

pytestmark = pytest.mark.browser


def open_entries(hands: Hands, number: int) -> None:
    hands.press(f"Entries in tray {number}")
    expect(hands.page.get_by_role("heading", name=f"Tray {number} is closed")).to_be_visible()


def take_back(hands: Hands, entry: str, reason: str) -> None:
    hands.page.locator(".closed-entries li", has_text=entry).get_by_role("button", name="Take back").click()
    hands.press(reason)
    expect(hands.page.locator(".closed-entries li", has_text=entry)).to_have_count(0)


def withdrawals(hands: Hands) -> list[str | None]:
    records = [json.loads(line) for line in hands.journal()]
    return [record["body"].get("why") for record in records if record["kind"] == "record_withdrawn"]


def test_a_find_taken_back_behind_the_closing_leaves_its_piece_to_the_lead(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Underfill")
    hands.find("Burn")
    hands.end_tray()
    hands.lose_contact()
    open_entries(hands, 1)
    expect(page.locator(".closed-entries li")).to_have_count(3)
    take_back(hands, "Burn", "Wrong key")
    expect(page.locator(".closed-entries li")).to_have_count(2)
    hands.find_contact()
    hands.wait_until_confirmed()
    assert withdrawals(hands) == ["wrong_key"]

    hands.hand_over("Jonas Falk")
    hands.press("Holds")
    expect(page.get_by_role("button", name="Reject")).to_have_count(1)


def test_a_critical_find_taken_back_leaves_its_hold(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    hands.end_tray()
    open_entries(hands, 1)
    hands.page.locator(".closed-entries li", has_text="Lap").get_by_role("button", name="Take back").click()
    hands.page.get_by_label("Another reason, in words").fill("It was a shadow of the lamp")
    hands.press("Take back")
    hands.wait_until_confirmed()
    assert withdrawals(hands) == ["It was a shadow of the lamp"]
    hands.hand_over("Jonas Falk")
    hands.press("Holds")
    expect(hands.page.get_by_text("Critical find: Lap")).to_be_visible()


def test_a_closing_taken_back_opens_the_tray_again(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Maren Holt")
    hands.take_up()
    count_in(hands, 0, 58)
    hands.hand_over("Ines Brandt")
    hands.begin_tray(1)
    hands.end_tray()
    expect(page.get_by_text("Tray 1: 2 more looked at than due.")).to_be_visible()
    open_entries(hands, 1)
    page.locator(".closed-entries li").get_by_role("button", name="Take back").click()
    hands.press("Counted twice")
    expect(page.get_by_text("The tray is open again.", exact=False)).to_be_visible()
    hands.press("Go on with tray 1")
    hands.end_tray(2)
    expect(page.locator(".look-numbers dd")).to_have_text(["58", "0", "58"])
    expect(page.get_by_text("Tray 1: 2 more looked at than due.")).to_have_count(0)


def test_nobody_takes_back_what_somebody_else_entered(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Underfill")
    hands.end_tray()
    hands.wait_until_confirmed()
    hands.hand_over("Piotr Zielny")
    open_entries(hands, 1)
    expect(hands.page.get_by_text("You entered nothing in this tray.", exact=False)).to_be_visible()
    expect(hands.page.get_by_role("button", name="Take back")).to_have_count(0)


def test_a_tray_left_at_a_place_is_gone_on_with_from_there(hands: Hands, other: Hands) -> None:
    for one, person in ((hands, "Ines Brandt"), (other, "Piotr Zielny")):
        one.enrol()
        one.sign_on(person)
        one.take_up()
    hands.begin_tray(1)
    hands.find("Underfill")
    hands.press("Tray end")
    hands.press("Leave this tray")
    type_number(hands, 24)
    hands.press("Leave the tray")
    hands.wait_until_confirmed()
    expect(other.page.locator(".tray-card").first).to_contain_text("left at place 24")
    other.press("Take over tray 1")
    other.press(re.compile("^Go on from place 25"))
    expect(other.page.locator(".tally-head")).to_contain_text("from place 25")
    assert other.marked() == 1
    other.find("Staining")
    other.end_tray()
    other.wait_until_confirmed()
    expect(hands.page.locator(".tray-card").first).to_contain_text("closed, 60 pieces looked at")
