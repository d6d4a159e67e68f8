# SPDX-License-Identifier: Apache-2.0
"""A critical find holds the batch until a lead and a second person lift it; a query waits for a lead's verdict."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.hands import DEMO_PINS, Hands
from tests.served import Served

pytestmark = pytest.mark.browser


def find_lap(hands: Hands) -> None:
    """An inspector makes a critical find, and leaves the tray."""
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Lap")
    hands.wait_until_confirmed()
    hands.press("Trays")


def to_holds(hands: Hands, person: str) -> None:
    """Hand the tablet to somebody, and open the page of holds."""
    hands.hand_over(person)
    expect(hands.page.locator("button.person")).to_contain_text(person)
    hands.press("Holds")
    expect(hands.page.get_by_role("heading", name="Holds and queries")).to_be_visible()


def pin_of(hands: Hands, person: str, pin: str | None = None) -> None:
    hands.page.get_by_label(f"PIN of {person}, for this alone").last.fill(pin or DEMO_PINS[person])


def test_a_critical_hold_is_lifted_by_two_names_and_by_nothing_less(hands: Hands, served: Served) -> None:
    page = hands.page
    find_lap(hands)

    to_holds(hands, "Jonas Falk")
    expect(page.get_by_text("Critical find: Lap")).to_be_visible()
    hands.press("Choose for the lift")
    page.get_by_label("Why it is lifted").fill("It was a shadow")
    hands.press("Ask for the lift")
    expect(page.get_by_text("A reason or a PIN is missing")).to_be_visible()
    pin_of(hands, "Jonas Falk")
    hands.press("Ask for the lift")
    expect(page.get_by_text("Asked, waits for a second name")).to_be_visible()
    expect(page.get_by_text("Critical find: Lap")).to_be_visible()

    to_holds(hands, "Piotr Zielny")
    pin_of(hands, "Piotr Zielny")
    hands.press("Put my name to it")
    expect(page.get_by_text("Critical find: Lap")).to_have_count(0)
    hands.wait_until_confirmed()
    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")


def test_a_wrong_pin_lifts_nothing_and_the_reason_is_said(hands: Hands) -> None:
    page = hands.page
    find_lap(hands)
    to_holds(hands, "Jonas Falk")
    hands.press("Choose for the lift")
    page.get_by_label("Why it is lifted").fill("It was a shadow")
    pin_of(hands, "Jonas Falk", "harbour-72")
    hands.press("Ask for the lift")
    expect(page.get_by_text("The PIN was wrong. Sign on again and ask anew.").first).to_be_visible()


def test_a_piece_nobody_was_sure_of_gets_a_leads_verdict(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.press(re.compile("^Not sure"))
    hands.wait_until_confirmed()
    hands.press("Trays")
    to_holds(hands, "Jonas Falk")
    expect(page.get_by_text("Not sure: which verdict?")).to_be_visible()
    hands.press("Reject")
    expect(page.get_by_text("Granted. It holds now.")).to_be_visible()
    expect(page.get_by_text("Not sure: which verdict?")).to_have_count(0)


def make_lead(hands: Hands, person: str) -> None:
    """The administrator, signed on here, is made a lead too."""
    hands.press("People")
    hands.page.locator(".people .tile").filter(has_text=person).click()
    hands.page.locator(".roles").get_by_role("button", name="lead").click()
    hands.press("Ask the server to change")
    expect(hands.page.get_by_text("Granted. It holds now.")).to_be_visible()


def fill_lift(hands: Hands, person: str, why: str) -> None:
    """Everything a lift needs, but for the last tap."""
    hands.press("Choose for the lift")
    hands.page.get_by_label("Why it is lifted").fill(why)
    hands.page.get_by_label(f"PIN of {person}, for this alone").first.fill(DEMO_PINS[person])


def test_of_two_leads_who_ask_at_once_one_is_granted_and_both_read_why_the_other_was_not(
    hands: Hands, other: Hands
) -> None:
    hands.enrol()
    hands.sign_on("Edda Quist")
    make_lead(hands, "Edda Quist")
    hands.hand_over("Jonas Falk")
    hands.press("To decide")
    hands.press(re.compile("SK70-0501"))
    hands.press("Put this batch on hold")
    hands.page.get_by_label("Why it is put on hold").fill("Two trays were mixed up")
    hands.press("Put on hold")
    expect(hands.page.get_by_text("The hold is stored here")).to_be_visible()
    hands.press("Holds")
    expect(hands.page.get_by_text("Placed by hand: Two trays were mixed up")).to_be_visible()
    other.enrol()
    other.sign_on("Edda Quist")
    other.press("Holds")
    expect(other.page.get_by_text("Placed by hand: Two trays were mixed up")).to_be_visible()

    fill_lift(hands, "Jonas Falk", "They were sorted again")
    fill_lift(other, "Edda Quist", "Counted, nothing is missing")
    hands.press("Ask for the lift")
    other.press("Ask for the lift")

    for page in (hands.page, other.page):
        expect(page.get_by_text("Placed by hand")).to_have_count(0)
        lifts = page.locator(".hold-list li").filter(has_text="lift")
        expect(lifts.filter(has_text=re.compile("granted"))).to_have_count(1)
        expect(lifts.filter(has_text="declined: A hold it names is lifted already.")).to_have_count(1)


def test_a_granted_verdict_stays_to_be_read(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.press(re.compile("^Not sure"))
    hands.wait_until_confirmed()
    hands.press("Trays")
    to_holds(hands, "Jonas Falk")
    query = page.locator(".hold-list li").filter(has_text="Tray 1")
    expect(query).to_contain_text("found by Ines Brandt")
    expect(query).to_contain_text(re.compile(r"piece [A-Z]+\d+"))
    hands.press("Rework")
    expect(page.get_by_role("heading", name="Decided in the last seven days")).to_be_visible()
    verdict = page.locator(".decided ~ .held-batch .hold-list li").filter(has_text="verdict")
    expect(verdict).to_contain_text("granted")


def test_an_inspector_reads_the_holds_and_is_offered_no_lift_and_no_verdict(hands: Hands) -> None:
    find_lap(hands)
    to_holds(hands, "Piotr Zielny")
    expect(hands.page.get_by_text("Critical find: Lap")).to_be_visible()
    expect(hands.page.get_by_role("button", name="Choose for the lift")).to_have_count(0)
    expect(hands.page.get_by_role("button", name="Ask for the lift")).to_have_count(0)
