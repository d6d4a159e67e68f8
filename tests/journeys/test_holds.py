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
    expect(page.get_by_text("A reason, a PIN or a chosen hold is missing")).to_be_visible()
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
