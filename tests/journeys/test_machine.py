# SPDX-License-Identifier: Apache-2.0
"""An operator at the forge, without contact: first-offs, the next check by pieces made, one out of its limits."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tests.hands import Hands
from tests.journeys.test_tally import COUNT_TAPS, TABLET, bodies, taps
from tests.reach import way_seconds
from tests.served import Served

pytestmark = pytest.mark.browser

# What a routine check may cost: its taps, and the whole of its time; a hand on its way is a small part of that.
MOST_TAPS, MOST_SECONDS = 14, 30.0
FORGE = "Heat and hot forge"
KEY_WIDTH, KEY_HEIGHT = 189, 126


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """An operator before the operations of the batch."""
    context = browser.new_context(**TABLET)  # type: ignore[arg-type]  # one dict of mixed options
    context.add_init_script(COUNT_TAPS)
    found = Hands.at(context, served.address)
    found.enrol()
    found.sign_on("Maren Holt")
    found.press(re.compile("SK70-0501"))
    found.press(re.compile("At the machine"))
    yield found
    context.close()


def type_in(hands: Hands, number: str) -> None:
    """Tap a number on the pad and store it."""
    pad = hands.page.locator(".number-pad, .keypad-keys")
    for key in number:
        pad.get_by_role("button", name=key, exact=True).click()
    hands.press(re.compile("^Store$"))


def begin(hands: Hands) -> None:
    """Begin at the forge."""
    hands.press(re.compile(FORGE))
    hands.press(re.compile("^Begin this operation"))
    expect(hands.page.locator(".check-entry")).to_be_visible()


def answer(hands: Hands, checks: dict[str, str]) -> str:
    """Answer the check that stands open, within its limits; returns its name."""
    name: str = hands.page.locator(".check-asked h1").inner_text()
    if hands.page.locator(".number-pad").count():
        type_in(hands, checks.get(name, "1"))
    else:
        hands.page.locator(".answers .main").click()
    return name


VALUES = {
    "Forged thickness at parting line": "13.20",
    "Die mismatch": "0.12",
    "Flash thickness": "1.6",
    "Leg opening, cold": "34.0",
}


def test_an_operator_at_the_forge_without_contact(hands: Hands) -> None:
    begin(hands)
    hands.context.set_offline(True)
    hands.picture("machine_first_off")
    seen = []
    while hands.page.locator(".check-entry").count():
        seen.append(answer(hands, VALUES))
        hands.page.wait_for_timeout(120)
        assert len(seen) < 60
    assert {"Forged thickness at parting line", "Die mismatch"} <= set(seen)
    expect(hands.page.get_by_text("Nothing is due now")).to_be_visible()
    hands.picture("machine_nothing_due")
    hands.press("Pieces made")
    type_in(hands, "25")
    expect(hands.page.locator(".check-entry")).to_be_visible()
    hands.press(re.compile("^All due"))
    hands.press(re.compile("^Forged thickness"))
    hands.picture("machine_check_due")
    type_in(hands, "13.61")
    expect(hands.page.locator(".out")).to_contain_text("13.61 mm")
    hands.picture("machine_out")
    hands.press("Measure again")
    type_in(hands, "13.58")
    expect(hands.page.locator(".out")).to_be_visible()  # a good value beside a bad one makes it no good one
    hands.press("Stopped and put right")
    hands.picture("machine_reaction")
    type_in(hands, "25")
    expect(hands.page.locator(".out")).to_have_count(0)
    [reaction] = bodies(hands, "reaction_taken")
    assert reaction["pieces_back"] == 25
    values = [one["value"] for one in bodies(hands, "check_taken") if one["characteristic"] == 4]
    assert values[-2:] == ["13.61", "13.58"]
    hands.context.set_offline(False)
    hands.wait_until_confirmed()


def test_a_routine_check_is_within_its_budget(hands: Hands) -> None:
    begin(hands)
    while hands.page.locator(".check-entry").count():
        answer(hands, VALUES)
        hands.page.wait_for_timeout(120)
    taps(hands)
    hands.press("Pieces made")
    type_in(hands, "25")
    hands.press(re.compile("^All due"))
    hands.press(re.compile("^Forged thickness"))
    type_in(hands, "13.20")
    way = taps(hands)
    assert 8 <= len(way) <= MOST_TAPS
    assert way_seconds(way) < MOST_SECONDS / 2


def test_the_keys_of_an_entry_are_large_and_nothing_scrolls(hands: Hands) -> None:
    begin(hands)
    while not hands.page.locator(".number-pad").count():
        answer(hands, VALUES)
    for size in ({"width": 1280, "height": 800}, {"width": 800, "height": 1280}):
        hands.page.set_viewport_size(size)  # type: ignore[arg-type]
        boxes: list[dict[str, Any]] = json.loads(
            hands.page.evaluate(
                "() => JSON.stringify([...document.querySelectorAll('.number-pad .key, .store')]"
                ".map((key) => key.getBoundingClientRect()))"
            )
        )
        assert len(boxes) == 13
        assert all(box["width"] >= KEY_WIDTH and box["height"] >= KEY_HEIGHT for box in boxes)
        assert all(box["top"] >= 0 and box["bottom"] <= size["height"] for box in boxes)
