# SPDX-License-Identifier: Apache-2.0
"""The lead's list of batches and the page of one: from a critical find and a short tray to a release."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.hands import DEMO_PINS, Hands
from tests.journeys.test_looks import begin_and_close, count_in, sign
from tests.served import Served

pytestmark = pytest.mark.browser

BATCH = "SK70-0501"


def to_batch(hands: Hands, person: str = "Jonas Falk") -> None:
    """Hand the tablet to a lead, who opens the batch's page from the list."""
    hands.hand_over(person)
    hands.press("To decide")
    hands.press(re.compile(BATCH))
    expect(hands.page.get_by_role("heading", name=f"Batch {BATCH}")).to_be_visible()


def standing(hands: Hands, words: str) -> None:
    """The list says this of the batch."""
    hands.press("To decide")
    expect(hands.page.locator(".batch-line").filter(has_text=BATCH)).to_contain_text(words)


def second(hands: Hands, person: str) -> None:
    """Somebody else puts a name under the one request that waits, on the page of holds."""
    hands.hand_over(person)
    hands.press("Holds")
    hands.page.get_by_label(f"PIN of {person}, for this alone").last.fill(DEMO_PINS[person])
    hands.press("Put my name to it")
    expect(hands.page.get_by_text("Granted. It holds now.")).to_be_visible()


def take_look(hands: Hands, look: str, inspector: str, last: int, empty: int) -> None:
    """Count in a full tray and one more, look at both, and sign."""
    hands.hand_over("Maren Holt")
    hands.press("Batches")
    hands.take_up(look=look)
    count_in(hands, 1, last)
    hands.hand_over(inspector)
    begin_and_close(hands, 1)
    begin_and_close(hands, 2, empty)
    hands.press("End of this look")
    sign(hands, inspector)
    hands.wait_until_confirmed()


def ask_release(hands: Hands) -> None:
    hands.page.get_by_label("PIN of Jonas Falk, for this alone").last.fill(DEMO_PINS["Jonas Falk"])
    hands.press("Ask for the release")
    expect(hands.page.get_by_text("Asked, waits for a second name")).to_be_visible()


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


def test_a_short_tray_is_accepted_and_the_batch_released_each_under_two_names(hands: Hands, served: Served) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Maren Holt")
    take_look(hands, "First look", "Ines Brandt", last=58, empty=3)
    take_look(hands, "Second look", "Piotr Zielny", last=57, empty=3)

    hands.hand_over("Jonas Falk")
    standing(hands, "Being looked at")
    hands.press(re.compile(BATCH))
    expect(page.get_by_text("Tray 2: 1 fewer looked at than due.")).to_be_visible()
    expect(page.get_by_text("of 117 pieces: 117 certain, 0 possible, 0 not.")).to_be_visible()
    expect(page.get_by_text("Signed by Ines Brandt")).to_be_visible()
    hands.press("Accept as it is")
    hands.press("Ask for acceptance")
    expect(page.get_by_text("The reason is missing")).to_be_visible()
    page.get_by_label("Searched where, and why it is accepted").fill("Found in the drain, destroyed")
    hands.press("Ask for acceptance")
    expect(page.get_by_text("Asked, waits for a second name")).to_be_visible()
    second(hands, "Piotr Zielny")

    to_batch(hands)
    accepted = page.locator(".hold-list li").filter(has_text="Tray 2: 1 fewer").first
    expect(accepted).to_contain_text("Accepted as it is: Jonas Falk, Piotr Zielny")
    standing(hands, "Complete: waits for the release")
    hands.press(re.compile(BATCH))
    expect(page.get_by_text("This is not a statement that the parts are safe.")).to_be_visible()
    ask_release(hands)
    standing(hands, "Complete: waits for the release")
    second(hands, "Ines Brandt")

    hands.hand_over("Jonas Falk")
    standing(hands, "Released")
    hands.press(re.compile(BATCH))
    expect(
        page.get_by_text(re.compile("Released under the names Jonas Falk, Ines Brandt; asked for ."))
    ).to_be_visible()
    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")

    # At the bench it is found by its number alone.
    hands.press("Batches")
    expect(page.get_by_text("1 released batch does not stand here.", exact=False)).to_be_visible()
    expect(page.get_by_role("button", name=re.compile(BATCH))).to_have_count(0)
    page.get_by_label("Number on the card").fill(BATCH)
    expect(page.get_by_role("button", name=re.compile(BATCH))).to_contain_text("released")

    # What comes behind the release opens the batch again.
    standing(hands, "Released")
    hands.press(re.compile(BATCH))
    hands.press("Put this batch on hold")
    page.get_by_label("Why it is put on hold").fill("A customer called")
    hands.press("Put on hold")
    expect(page.get_by_text("1 record came behind the release.", exact=False)).to_be_visible()
    standing(hands, "On hold")


def test_without_contact_the_page_says_how_old_it_is_and_offers_no_request(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Jonas Falk")
    hands.press("To decide")
    hands.press(re.compile(BATCH))
    expect(page.get_by_role("heading", name=f"Batch {BATCH}")).to_be_visible()
    page.evaluate("navigator.serviceWorker.ready.then(() => true)")
    hands.lose_contact()
    expect(page.get_by_text("No new answer. This is what the server said", exact=False)).to_be_visible()
    hands.press("To decide")
    expect(page.locator(".batch-line").filter(has_text=BATCH)).to_be_visible()
    expect(page.get_by_text("No new answer. This is what the server said", exact=False)).to_be_visible()

    hands.press(re.compile(BATCH))
    hands.press("Put this batch on hold")
    page.get_by_label("Why it is put on hold").fill("Dust on the lens")
    hands.press("Put on hold")
    expect(page.get_by_text("The hold is stored here")).to_be_visible()
    hands.find_contact()
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
    hands.lose_contact()
    for key, heading in (("To decide", "Batches to decide on"), ("Pareto", "What was found"), ("Holds", "Holds")):
        hands.press(key)
        expect(page.get_by_role("heading", name=heading)).to_be_visible()
