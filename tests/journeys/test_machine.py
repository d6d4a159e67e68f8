# SPDX-License-Identifier: Apache-2.0
"""An operator at the forge, without contact: first-offs, the next check by pieces made, one out of its limits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.hands import Hands
from tests.journeys.test_tally import COUNT_TAPS, TABLET, bodies, taps
from tests.reach import Box, way_seconds
from tests.screens import Screen, height, width
from tests.served import Served

pytestmark = pytest.mark.browser

# What a routine check may cost: its taps, and the whole of its time; a hand on its way is a small part of that.
MOST_TAPS, MOST_SECONDS = 14, 30.0
FORGE = "Heat and hot forge"
KEY_WIDTH, KEY_HEIGHT = 189, 126
TABLETS = ((1280, 800), (800, 1280))
SIZES = (*TABLETS, (320, 900))


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


def walk(hands: Hands, note: Callable[[str], None]) -> None:
    """Past every screen of the machine, noting each; two checks are out of their limits on the way."""
    page = hands.page
    note("operations")
    page.click(".tiles .tile >> nth=2")
    page.wait_for_selector(".machine-head .main")
    note("not begun")
    page.click(".machine-head .main")
    page.wait_for_selector(".number-pad")
    note("number")
    page.click(".machine-head .head-keys .key >> nth=0")
    note("pieces made")
    page.click(".machine-foot .key")
    page.click(".machine-head .head-keys .key >> nth=1")
    note("what changed")
    page.click(".machine-foot .key")
    page.click(".check-asked .head-keys .key >> nth=0")
    note("all due")
    page.click(".tell-keys .key:has-text('Crack')")
    page.wait_for_selector(".answers")
    note("answers")
    page.click(".check-asked .head-keys .key >> nth=1")
    note("why not checked")
    page.click(".machine-foot .key")
    page.click(".answers .key:not(.main)")
    page.wait_for_selector(".out-card")
    note("out")
    page.click(".answers .key >> nth=0")
    note("pieces back")


def test_every_screen_of_the_machine_can_be_read_and_touched(hands: Hands) -> None:
    screens: list[Screen] = []

    def note(stage: str) -> None:
        hands.page.wait_for_timeout(200)
        for language in ("de", "en"):
            hands.page.evaluate(f"location.hash = location.hash.replace(/^#.../, '#/{language}')")
            hands.page.wait_for_function(f"document.documentElement.lang === '{language}'")
            for size in SIZES:
                screens.append(Screen.measure(hands.page, stage, language, size))
                if language == "de" and size in TABLETS:
                    hands.picture(f"machine_{stage.replace(' ', '_')}_{size[0]}")
        hands.page.set_viewport_size({"width": 1280, "height": 800})

    walk(hands, note)
    assert len({screen.stage for screen in screens}) == 10
    texts = [(screen.where, text) for screen in screens for text in screen.texts]
    assert [(where, text["text"]) for where, text in texts if text["size"] < 24] == []
    assert [(where, text["text"]) for where, text in texts if text["contrast"] < 7] == []
    keys = [(screen.where, key) for screen in screens for key in screen.keys]
    touched = [(where, key["name"]) for where, key in keys if min(width(key["box"]), height(key["box"])) < 55.5]
    assert touched == []
    assert [screen.where for screen in screens if screen.wide > 0] == []
    entries = [one for one in screens if one.stage in ("number", "answers") and one.size in TABLETS]
    assert [one.where for one in entries if one.high > 0] == []
    boxes = hands_of_an_entry(screens)
    assert boxes
    assert [one for one in boxes if width(one) < KEY_WIDTH - 0.5 or height(one) < KEY_HEIGHT - 0.5] == []


def hands_of_an_entry(screens: list[Screen]) -> list[Box]:
    """The keys of the pad and the key that stores, on a tablet."""
    names = {*"1234567890.,", "Store", "Speichern", "Rub out", "Löschen"}
    found = [one for one in screens if one.stage == "number" and one.size in TABLETS]
    return [key["box"] for screen in found for key in screen.keys if key["name"] in names]
