# SPDX-License-Identifier: Apache-2.0
"""An operator's whole shift at the forge without contact; then contact, and what the lead reads of it."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.journeys.test_machine import MOST_SECONDS, MOST_TAPS, VALUES, answer, open_check, to_the_machine, type_in
from tests.journeys.test_route_counts import begin, type_count
from tests.journeys.test_tally import COUNT_TAPS, bodies, taps
from tests.reach import keystroke_seconds
from tests.served import Served

pytestmark = pytest.mark.browser

BOUNCE_MS = 1_000
HALF_AN_HOUR_AND_MORE = 31 * 60 * 1000
# The page's steady clock, which carries the server's time on, goes as the test says.
CLOCK = (
    "let later = 0; const steady = performance.now.bind(performance);"
    "performance.now = () => steady() + later;"
    "window.goOn = (ms) => { later += ms; };"
)
# Steps a person gets ready for in one check: what is asked, the number that is read, and whether it is right.
STEPS = 3
TABLETS = ((1280, 800), (800, 1280))


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """An operator before the operations of a batch, at a tablet that keeps the app."""
    context = new_tablet(browser)
    context.add_init_script(COUNT_TAPS)
    context.add_init_script(CLOCK)
    found = Hands.at(context, served.address)
    found.enrol()
    found.sign_on("Maren Holt")
    to_the_machine(found)
    yield found
    context.close()


def answer_all(hands: Hands) -> list[tuple[str, int]]:
    """Answer whatever is due, within its limits; returns each check with its taps."""
    told: list[tuple[str, int]] = []
    entry, none = hands.page.locator(".check-entry"), hands.page.get_by_text("Nothing is due now")
    while True:
        expect(entry.or_(none)).to_be_visible()
        if none.is_visible():
            return told
        taps(hands)
        name = answer(hands, VALUES)
        told.append((name, len(taps(hands))))
        assert len(told) < 80


def press_done(hands: Hands) -> None:
    """So many more pieces as lie between two checks; a press within a second of the last is a glove's bounce."""
    hands.page.wait_for_timeout(BOUNCE_MS)
    hands.press("25 done")


def make(hands: Hands) -> list[tuple[str, int]]:
    """So many more pieces as lie between two checks, and all that comes due with them."""
    press_done(hands)
    expect(hands.page.locator(".check-entry")).to_be_visible()
    return answer_all(hands)


def change(hands: Hands, what: str) -> None:
    hands.press("Something changed")
    hands.press(what)


def count(hands: Hands) -> None:
    """Count the stint to its end: pieces in, good, scrap, set up; one was etched."""
    hands.page.get_by_role("button", name="Count", exact=True).click()
    for pieces in (106, 96, 3, 6):
        type_count(hands, pieces)
    hands.press("Pieces were taken for a test")
    hands.press("Etched section")
    hands.press("Destroyed")
    type_count(hands, 1, "Store")
    hands.press("These are all")
    hands.press("Nobody looked")
    hands.press("Store the count")
    expect(hands.page.get_by_text("It adds up", exact=False)).to_be_visible()


def pictures(hands: Hands, name: str) -> None:
    for language in ("de", "en"):
        hands.page.evaluate(f"location.hash = location.hash.replace(/^#.../, '#/{language}')")
        expect(hands.page.locator("html")).to_have_attribute("lang", language)
        for wide, high in TABLETS:
            hands.page.set_viewport_size({"width": wide, "height": high})
            hands.page.wait_for_timeout(200)
            hands.picture(f"{name}_{language}_{wide}")
    hands.page.set_viewport_size({"width": 1280, "height": 800})


def out_and_put_right(hands: Hands) -> None:
    """A value beyond its limits, a second beside it, and what was done."""
    open_check(hands, "Forged thickness")
    type_in(hands, "13.61")
    pictures(hands, "forge_shift_out")
    hands.press("Measure again")
    type_in(hands, "13.58")
    hands.press("Stopped and put right")
    type_in(hands, "25")
    expect(hands.page.locator(".out")).to_have_count(0)


def stand_still(hands: Hands) -> None:
    """A break of more than half an hour: the tool asks for the pieces, and the machine stood still."""
    hands.press("Something changed")
    hands.page.evaluate(f"goOn({HALF_AN_HOUR_AND_MORE})")
    hands.press("Back to what is due")
    expect(hands.page.get_by_text("How many were made since the last number?")).to_be_visible()
    hands.press("None, it stood still")
    expect(hands.page.locator(".role")).to_contain_text("First-off")


def read_as_lead(hands: Hands) -> None:
    """What the lead reads at the end of the shift, and looked at in both languages."""
    page = hands.page
    hands.hand_over("Jonas Falk")
    page.goto(page.url.split("#")[0] + "#/en/shift")
    line = page.get_by_role("button", name=re.compile("out of the limits.*worth a look"))
    expect(line).to_contain_text("1 check out of the limits")
    line.click()
    out = page.locator("section", has=page.get_by_role("heading", name=re.compile("^Out of the limits")))
    expect(out.locator(".check-line")).to_have_count(1)
    expect(out.locator(".one-said b")).to_have_text(["13.61 mm", "13.58 mm"])
    expect(out).to_contain_text("Stopped and put right, 25 pieces back to be sorted")
    gaps = page.locator("section", has=page.get_by_role("heading", name=re.compile("^Not as the plan asks")))
    expect(gaps.locator(".check-line")).to_have_count(1)
    expect(gaps).to_contain_text("Not checked, and said so: The gauge is not here")
    expect(gaps).to_contain_text("40 Heat and hot forge")
    again = page.locator("section", has=page.get_by_role("heading", name=re.compile("^Measured again")))
    expect(again.locator(".check-line")).to_have_count(1)
    text = page.locator("main").inner_text()
    assert "Holt" not in text
    assert "Zielny" not in text
    pictures(hands, "forge_shift_lead")


def test_a_whole_shift_at_the_forge_without_contact_and_what_the_lead_reads_of_it(hands: Hands) -> None:
    hands.lose_contact()
    begin(hands, 40, "Hammer 2", "D-11")
    first_offs = answer_all(hands)
    assert {"Forged thickness at parting line", "Die mismatch", "Cavity mark readable"} <= {
        n for n, _ in first_offs
    }
    routine = make(hands)
    press_done(hands)
    out_and_put_right(hands)
    routine += answer_all(hands)
    press_done(hands)
    open_check(hands, "Die mismatch")
    hands.press("Cannot check this now")
    hands.press("The gauge is not here")
    routine += answer_all(hands)
    change(hands, "Die")
    hands.page.get_by_label("It is now").fill("D-12")
    hands.press(re.compile("lie apart$"))
    expect(hands.page.locator(".role")).to_contain_text("Last-off")
    answer_all(hands)
    stand_still(hands)
    answer_all(hands)
    routine += make(hands)
    change(hands, "That was the last piece")
    expect(hands.page.locator(".role")).to_contain_text("Last-off")
    last_offs = answer_all(hands)
    assert len(last_offs) > 3
    count(hands)
    hands.hand_over("Piotr Zielny")
    hands.press(re.compile("^Go on"))
    expect(hands.page.get_by_role("button", name="D-11", pressed=True)).to_be_visible()
    hands.press("Begin this operation")
    expect(hands.page.locator(".check-entry")).to_be_visible()

    most = max(taps for _, taps in routine)
    assert 4 <= most <= MOST_TAPS
    assert keystroke_seconds(most, STEPS) < MOST_SECONDS
    assert len(bodies(hands, "check_missed")) == 1
    assert [one["pieces_back"] for one in bodies(hands, "reaction_taken")] == [25]
    thickness = [one["role"] for one in bodies(hands, "check_taken") if one["characteristic"] == 4]
    # Three at the start, when it was put right, behind the other die and behind the stand-still.
    assert thickness.count("first_off") == 12
    [stop] = [one for one in bodies(hands, "operation_changed") if one["what"] == "stop"]
    assert stop["operation"] == 40

    hands.find_contact()
    hands.wait_until_confirmed()
    read_as_lead(hands)
