# SPDX-License-Identifier: Apache-2.0
"""The lead's list of batches and the page of one: with contact and without."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.hands import Hands

pytestmark = pytest.mark.browser

BATCH = "SK70-0501"


def test_a_critical_find_stands_first_and_its_page_names_piece_tray_and_finder(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    hands.wait_until_confirmed()
    hands.press("Trays")
    hands.hand_over("Jonas Falk")
    hands.press("To decide")
    first = page.locator(".batch-line").first
    expect(first).to_contain_text(BATCH)
    expect(first).to_contain_text("Critical find: on hold")

    first.click()
    hold = page.locator(".hold-list li").filter(has_text="Critical find: Lap")
    expect(hold).to_contain_text(re.compile(r"First look, piece [A-Z]+\d+, Tray 1, found by Ines Brandt"))
    expect(page.get_by_text("Nobody has counted the pieces in for this look.").first).to_be_visible()
    expect(page.get_by_text("The records are not complete")).to_be_visible()
    expect(page.get_by_role("button", name="Ask for the release")).to_have_count(0)
    hands.press("To the holds")
    expect(page.get_by_role("heading", name="Holds and queries")).to_be_visible()


def test_without_contact_the_page_says_how_old_it_is_and_offers_no_request(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Jonas Falk")
    hands.press("To decide")
    hands.press(re.compile(BATCH))
    expect(page.get_by_role("heading", name=f"Batch {BATCH}")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    hands.context.set_offline(True)
    expect(page.get_by_text("No new answer. This is what the server said", exact=False)).to_be_visible()
    hands.press("To decide")
    expect(page.locator(".batch-line").filter(has_text=BATCH)).to_be_visible()
    expect(page.get_by_text("No new answer. This is what the server said", exact=False)).to_be_visible()

    hands.press(re.compile(BATCH))
    hands.press("Put this batch on hold")
    page.get_by_label("Why it is put on hold").fill("Dust on the lens")
    hands.press("Put on hold")
    expect(page.get_by_text("The hold is stored here")).to_be_visible()
    hands.context.set_offline(False)
    hands.press("Holds")
    expect(page.get_by_text("Placed by hand: Dust on the lens")).to_be_visible()


def test_the_leads_pages_open_without_contact_from_the_apps_cache(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Jonas Falk")
    expect(page.get_by_role("button", name="To decide")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    page.reload()  # from here on the service worker answers
    expect(page.get_by_role("button", name="To decide")).to_be_visible()
    hands.context.set_offline(True)
    for key, heading in (("To decide", "Batches to decide on"), ("Pareto", "What was found"), ("Holds", "Holds")):
        hands.press(key)
        expect(page.get_by_role("heading", name=heading)).to_be_visible()
