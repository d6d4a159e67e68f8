# SPDX-License-Identifier: Apache-2.0
"""The end of a shift in a lead's hands: what waits, settled from here, and the Pareto with its causes."""

from __future__ import annotations

import re
import sqlite3

import pytest
from playwright.sync_api import Locator, expect

from tests.hands import DEMO_PINS, Hands
from tests.served import Served

pytestmark = pytest.mark.browser

BATCH = "SK70-0501"
HEADINGS = [
    "Critical finds",
    "Holds",
    "Not sure: which verdict?",
    "Counts that differ",
    "Checks at the machines",
    "Tablets not heard from",
    "PINs wrong too often",
    "Batches that wait",
    "Late finds",
    "What was found",
]


@pytest.fixture
def lead(hands: Hands) -> Hands:
    """A lead at the shift page, after an inspector's tray with critical finds and a question."""
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    hands.find_several(3)
    hands.page.locator(".not-sure").click()
    hands.wait_until_confirmed()
    hands.press("Trays")
    hands.hand_over("Jonas Falk")
    hands.press("Shift")
    expect(hands.page.locator(".pareto-chart svg")).to_be_visible()
    return hands


def section(lead: Hands, heading: str) -> Locator:
    return lead.page.locator("section", has=lead.page.get_by_role("heading", name=re.compile(f"^{heading}")))


def bars(lead: Hands) -> list[tuple[str, int]]:
    rows = lead.page.locator(".twin tbody tr").all()
    cells = [row.locator("th, td").all_inner_texts() for row in rows]
    return [(row[0], int(row[1])) for row in cells]


def test_criticals_stand_first_and_every_heading_says_how_many(lead: Hands) -> None:
    titles = lead.page.locator("main h2")
    expect(titles).to_have_count(len(HEADINGS))
    expect(lead.page.get_by_text("not known", exact=True)).to_have_count(0)
    assert [re.sub(r"\s*\d+$", "", text) for text in titles.all_inner_texts()] == HEADINGS
    numbers = lead.page.locator("main .how-many").all_inner_texts()
    assert numbers == ["3", "0", "1", "0", "0", "0", "0", "0", "0"]


def test_where_a_pin_was_wrong_ten_times_stands_by_tablet_and_person(lead: Hands, served: Served) -> None:
    with sqlite3.connect(served.data / "works.db") as connection:
        connection.execute(
            "INSERT INTO wrong_pins SELECT sign_ons.person, chains.device, 10 FROM sign_ons"
            " JOIN chains ON chains.chain = sign_ons.chain LIMIT 1"
        )
    lead.page.reload()
    expect(section(lead, "PINs wrong too often").locator(".how-many")).to_have_text("1")
    expect(section(lead, "PINs wrong too often").get_by_role("listitem")).to_contain_text("Ines Brandt")
    lead.picture("shift_wrong_pins")


def test_a_hold_is_lifted_where_its_line_stands(lead: Hands) -> None:
    page = lead.page
    criticals = section(lead, "Critical finds")
    line = criticals.get_by_role("button", name=re.compile(f"{BATCH}.*Critical find: Lap")).first
    line.click()
    expect(page.get_by_text("A hold keeps pieces where they are", exact=False)).to_be_visible()
    choose = criticals.get_by_role("button", name="Choose for the lift")
    for left in reversed(range(choose.count())):
        choose.first.click()
        expect(choose).to_have_count(left)
    page.get_by_label("Why it is lifted").fill("A shadow of the lamp")
    page.get_by_label("PIN of Jonas Falk, for this alone").first.fill(DEMO_PINS["Jonas Falk"])
    lead.press("Ask for the lift")
    expect(page.get_by_text("Asked, waits for a second name").first).to_be_visible()
    line.click()
    expect(page.get_by_role("button", name="Ask for the lift")).to_have_count(0)


def test_a_question_is_settled_with_one_tap_and_is_gone(lead: Hands) -> None:
    section(lead, "Not sure").get_by_role("button", name="Reject").click()
    expect(lead.page.get_by_text("Granted. It holds now.")).to_be_visible()
    expect(section(lead, "Not sure").locator(".how-many")).to_have_text("0")


def test_a_cause_is_reached_in_three_taps_from_the_shift_page(lead: Hands) -> None:
    page = lead.page
    assert dict(bars(lead))["Lap"] == 2
    page.get_by_role("button", name="This day").click()
    page.locator(".twin").get_by_role("button", name="Lap").click()
    expect(page.get_by_text("Only Defect: Lap")).to_be_visible()
    page.get_by_role("button", name="Tray", exact=True).click()
    expect(page.locator(".twin thead th").first).to_have_text("Tray")
    assert bars(lead) == [("Tray 1", 2)]
    page.get_by_role("button", name="Operation of origin").click()
    expect(page.locator(".twin tbody th")).to_have_text(["40 Heat and hot forge"])
    page.get_by_role("button", name="Lap: look at all again").click()
    expect(page.get_by_text("n = 5 marks on 5 pieces")).to_be_visible()


def test_a_bar_of_the_drawing_narrows_as_its_row_does(lead: Hands) -> None:
    lead.page.locator(".pareto-chart .can-narrow").first.click()
    expect(lead.page.get_by_text("Only Defect:")).to_be_visible()
    expect(lead.page.locator(".twin tbody tr")).to_have_count(1)


def test_without_contact_the_page_and_its_pareto_stand_with_their_age(lead: Hands) -> None:
    page = lead.page
    before = bars(lead)
    lead.lose_contact()
    old = page.get_by_text("No new answer. This is what the server said", exact=False)
    expect(old.first).to_be_visible()
    lead.press("Ask again")
    expect(old).to_have_count(2)
    assert bars(lead) == before
    expect(section(lead, "Not sure").get_by_role("button", name="Reject")).to_have_count(0)
    lead.find_contact()
    lead.press("Ask again")
    expect(old).to_have_count(0)


def test_to_an_inspector_the_page_shows_nothing_of_the_works(lead: Hands) -> None:
    lead.hand_over("Piotr Zielny")
    expect(lead.page.get_by_role("button", name="Shift", exact=True)).to_have_count(0)
    lead.page.goto(f"{lead.address}/#/en/shift")
    expect(lead.page.get_by_role("alert").first).to_be_visible()
    expect(lead.page.get_by_text("Only the records this tablet holds", exact=False)).to_be_visible()
