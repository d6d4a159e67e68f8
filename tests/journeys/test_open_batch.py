# SPDX-License-Identifier: Apache-2.0
"""A batch that nobody opened yet: begun on a tablet without contact, and taken up on another."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Page, expect

from tests.hands import Hands

pytestmark = pytest.mark.browser


def open_batch(page: Page, number: str, pieces: str) -> None:
    page.get_by_role("button", name="Open a new batch").click()
    page.get_by_role("button", name=re.compile("^SK-70")).click()
    page.get_by_label("Number of the batch").fill(number)
    page.get_by_label("How many pieces begin together?").fill(pieces)
    page.get_by_role("button", name="Open this batch").click()


def test_a_batch_begun_without_contact_is_taken_up_on_another_tablet(hands: Hands, other: Hands) -> None:
    hands.enrol()
    hands.sign_on()
    hands.lose_contact()
    open_batch(hands.page, "SK70-0777", "240")
    expect(hands.page.get_by_text("SK70-0777")).to_be_visible()
    hands.find_contact()
    hands.wait_until_confirmed()
    other.enrol()
    other.sign_on("Piotr Zielny")
    other.take_up("SK70-0777")
    expect(other.page.get_by_text("SK70-0777").first).to_be_visible()


def test_what_is_missing_is_said_and_a_number_that_is_there_already_too(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on()
    page = hands.page
    page.get_by_role("button", name="Open a new batch").click()
    page.get_by_role("button", name=re.compile("^SK-70")).click()
    page.get_by_role("button", name="Open this batch").click()
    expect(page.get_by_role("alert")).to_contain_text("Enter the number")
    page.get_by_label("Number of the batch").fill("sk70-0501")
    expect(page.get_by_text("A batch SK70-0501 is there already")).to_be_visible()
    page.get_by_role("button", name="Open this batch").click()
    expect(page.get_by_role("alert")).to_contain_text("at least one")


def test_a_reader_is_offered_nothing_to_record_whatever_address_is_typed(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    of_look = hands.page.url
    hands.hand_over("Otto Reiher")
    for address in (of_look, re.sub(r"#/en/.*", "#/en/open", of_look)):
        hands.page.goto(address)
        expect(hands.page.get_by_text("You may see what was found, and record nothing.")).to_be_visible()
        expect(hands.page.locator("main button")).to_have_count(0)
