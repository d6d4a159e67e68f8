# SPDX-License-Identifier: Apache-2.0
"""The lead's page at the end of a shift, held to the measures of every other screen: both languages, every size."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Browser, Page, expect

from tests.hands import Hands
from tests.journeys.test_screens_measured import (
    SIZES,
    WIDE,
    Note,
    served_once,
    test_controls_have_a_contrast_of_three_to_one,
    test_everything_that_is_touched_is_at_least_56_px,
    test_other_screens_reflow_without_a_sideways_scroll,
    test_text_has_a_contrast_of_seven_to_one,
    test_text_is_at_least_24_px_and_counts_32,
    test_text_stays_inside_its_key_and_its_field,
    test_texts_do_not_lie_on_one_another,
)
from tests.screens import Screen
from tests.served import Served

pytestmark = pytest.mark.browser

__all__ = [
    "served_once",
    "test_controls_have_a_contrast_of_three_to_one",
    "test_everything_that_is_touched_is_at_least_56_px",
    "test_other_screens_reflow_without_a_sideways_scroll",
    "test_text_has_a_contrast_of_seven_to_one",
    "test_text_is_at_least_24_px_and_counts_32",
    "test_text_stays_inside_its_key_and_its_field",
    "test_texts_do_not_lie_on_one_another",
]


def walk(page: Page, note: Note) -> None:
    """The shift, one bar of it by tray, by operation, and days that are still to be chosen."""
    expect(page.locator(".pareto-chart svg")).to_be_visible()
    note("shift")
    page.locator(".pareto-chart .can-narrow").first.click()
    expect(page.locator(".narrowing .key")).to_be_visible()
    strata = page.locator(".pareto-part > .choice-row").first.get_by_role("button")
    strata.nth(4).click()
    expect(page.locator(".pareto-chart svg")).to_be_visible()
    note("one bar by tray")
    page.locator(".narrowing .key").click()
    strata.nth(1).click()
    expect(page.locator(".twin tbody tr").nth(1)).to_be_visible()
    note("by operation")
    page.locator(".choices .choice-row").first.get_by_role("button").last.click()
    expect(page.locator("input[type=date]").first).to_be_visible()
    note("days to choose")


@pytest.fixture(scope="module")
def screens(browser: Browser, served_once: Served) -> list[Screen]:
    """Every screen of the walk in both languages at every size."""
    context = browser.new_context(viewport={"width": WIDE[0], "height": WIDE[1]}, has_touch=True)
    hands = Hands.at(context, served_once.address)
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.press(re.compile("^Begin tray"))
    hands.find_several(4)
    hands.page.locator(".not-sure").click()
    hands.wait_until_confirmed()
    hands.end_tray()
    hands.wait_until_confirmed()
    hands.hand_over("Jonas Falk")
    found: list[Screen] = []
    for language in ("en", "de"):
        hands.page.goto(f"{served_once.address}/#/{language}/shift")
        hands.page.reload()

        def note(stage: str, language: str = language) -> None:
            found.extend(Screen.measure(hands.page, stage, language, size) for size in (*SIZES, WIDE))

        walk(hands.page, note)
    context.close()
    return found
