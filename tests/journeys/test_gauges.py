# SPDX-License-Identifier: Apache-2.0
"""A gauge that is overdue, dropped and at last found wrong: from the forge without contact to the lead's hold."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Locator, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.journeys.test_machine import SIZES, TABLETS, begin, open_check, to_the_machine, type_in
from tests.journeys.test_tally import COUNT_TAPS, bodies, taps
from tests.screens import Screen, height, width
from tests.served import Served

pytestmark = pytest.mark.browser

OVERDUE = "M-016"
THICKNESS = "Forged thickness at parting line"


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """An operator before the operations of the batch."""
    context = new_tablet(browser)
    context.add_init_script(COUNT_TAPS)
    found = Hands.at(context, served.address)
    found.enrol()
    found.sign_on("Maren Holt")
    to_the_machine(found)
    yield found
    context.close()


def look(hands: Hands, name: str, screens: list[Screen] | None = None) -> None:
    """Keep pictures in both languages, lying and upright, and measure what stands there."""
    for language in ("de", "en"):
        hands.page.evaluate(f"location.hash = location.hash.replace(/^#.../, '#/{language}')")
        expect(hands.page.locator(f"html[lang={language}]")).to_be_attached()
        for size in SIZES:
            hands.page.set_viewport_size({"width": size[0], "height": size[1]})
            if screens is not None:
                screens.append(Screen.measure(hands.page, name, language, size))
            hands.picture(f"{name}_{language}_{size[0]}")
    hands.page.set_viewport_size({"width": 1280, "height": 800})


def gauge_line(hands: Hands) -> Locator:
    return hands.page.locator(".check-asked .gauge-line")


def measure_with_an_overdue_gauge(hands: Hands, screens: list[Screen]) -> None:
    """Scan it, see how it stands, store a value all the same, and find it marked."""
    hands.send(OVERDUE)
    hands.press(f"It is the gauge: {OVERDUE}")
    expect(gauge_line(hands)).to_contain_text(f"{OVERDUE}: overdue")
    look(hands, "gauge_overdue", screens)
    type_in(hands, "13.20")
    expect(hands.page.locator(".by-gauge-said")).to_have_text("1 marked")
    look(hands, "gauge_marked", screens)
    hands.page.locator(".last-values summary").click()
    expect(hands.page.locator(".last-values li")).to_contain_text(f"{OVERDUE}: overdue")


def doubt_it(hands: Hands, screens: list[Screen]) -> None:
    """It fell: two taps from the check that stands open."""
    taps(hands)
    hands.press(f"Gauge {OVERDUE}")
    look(hands, "gauge_choice", screens)
    hands.press(f"{OVERDUE} dropped or doubtful")
    expect(gauge_line(hands)).to_contain_text(f"{OVERDUE}: doubtful")
    assert len(taps(hands)) == 2
    type_in(hands, "13.21")


def test_a_gauge_in_doubt_is_used_marked_and_found_wrong(hands: Hands, other: Hands) -> None:
    screens: list[Screen] = []
    begin(hands)
    open_check(hands, THICKNESS)
    hands.lose_contact()
    measure_with_an_overdue_gauge(hands, screens)
    doubt_it(hands, screens)
    expect(hands.page.locator(".by-gauge-said")).to_have_text("2 marked")
    assert [(one["value"], one["gauge"]) for one in bodies(hands, "check_taken")] == [
        ("13.20", OVERDUE),
        ("13.21", OVERDUE),
    ]
    assert bodies(hands, "gauge_checked") == [{"gauge": OVERDUE, "result": "doubtful"}]
    hands.find_contact()
    hands.wait_until_confirmed()

    other.enrol()
    other.sign_on("Jonas Falk")
    other.press("To decide")
    other.press("Gauges")
    gauge = other.page.get_by_label(OVERDUE)
    expect(gauge).to_contain_text("Said to be doubtful, Maren Holt")
    expect(gauge.get_by_role("button", name=re.compile("SK70-0501.*1 value.*overdue"))).to_be_visible()
    look(other, "gauges_of_the_lead")
    gauge.get_by_role("button", name="Write down a check").click()
    gauge.get_by_role("button", name="Found wrong").click()
    other.press("Store the check")
    expect(other.page.get_by_text("What it was checked against is missing.")).to_be_visible()
    other.page.get_by_label("Checked against").fill("gauge block 50 mm")
    other.page.get_by_label("Note").fill("0.08 mm too small")
    look(other, "gauges_found_wrong")
    other.press("Store the check")
    both = gauge.get_by_role("button", name=re.compile("SK70-0501.*2 values.*found wrong"))
    expect(both).to_be_visible()
    other.press(re.compile("^Holds"))
    expect(other.page.get_by_text(f"Measured with a gauge that was found wrong: {OVERDUE}")).to_be_visible()
    look(other, "gauges_hold")
    expect(gauge_line(hands)).to_contain_text(f"{OVERDUE}: found wrong")

    texts = [(screen.where, text) for screen in screens for text in screen.texts]
    assert [(where, text["text"]) for where, text in texts if text["size"] < 24] == []
    assert [(where, text["text"]) for where, text in texts if text["contrast"] < 7] == []
    keys = [(screen.where, key) for screen in screens for key in screen.keys]
    assert [(where, key["name"]) for where, key in keys if min(width(key["box"]), height(key["box"])) < 55.5] == []
    assert [screen.where for screen in screens if screen.wide > 0] == []
    entries = [one for one in screens if (one.stage, one.size) == ("gauge_marked", TABLETS[0])]
    entries += [one for one in screens if one.stage == "gauge_overdue" and one.size in TABLETS]
    assert [(one.where, one.high) for one in entries if one.high > 0] == []
