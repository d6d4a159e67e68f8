# SPDX-License-Identifier: Apache-2.0
"""The causes that are hidden in the weeks of the demo works, each found in three taps from the shift page."""

from __future__ import annotations

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import Served, free_port

pytestmark = pytest.mark.browser

DRAWN = """async () => {
    let changed = performance.now();
    const eye = new MutationObserver(() => { changed = performance.now(); });
    eye.observe(document, { subtree: true, childList: true, attributes: true, characterData: true });
    while (performance.now() - changed < 300) await new Promise((done) => setTimeout(done, 50));
    eye.disconnect();
}"""
COUNT_TAPS = "window.taps = 0; addEventListener('pointerdown', () => { window.taps += 1; }, true);"


@pytest.fixture(scope="module")
def served_weeks(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """The demo works with its six weeks behind it."""
    server = Served(tmp_path_factory.mktemp("weeks") / "works", free_port(), weeks=True)
    server.start()
    yield server
    server.stop()


@pytest.fixture(scope="module")
def lead(browser: Browser, served_weeks: Served) -> Iterator[Hands]:
    """A lead whose taps are counted."""
    context = new_tablet(browser)
    context.add_init_script(COUNT_TAPS)
    found = Hands.at(context, served_weeks.address)
    found.enrol()
    found.sign_on("Jonas Falk")
    yield found
    context.close()


def shares(lead: Hands, *taps: str) -> list[tuple[str, int]]:
    """The bars, after these keys from the shift page on."""
    lead.page.goto(f"{lead.address}/#/en/batches")
    lead.press("Shift")
    expect(lead.page.locator(".pareto-part")).to_be_visible()
    lead.page.evaluate(DRAWN)
    lead.page.evaluate("window.taps = 0")
    for key in taps:
        # What the answer brings moves the keys: one that moved under the next tap would be tapped once more.
        with lead.page.expect_response(lambda answer: "/pareto" in answer.url) as answer:
            lead.page.locator(".pareto-part").get_by_role("button", name=key, exact=True).first.click()
        answer.value.finished()
        lead.page.evaluate(DRAWN)
    assert lead.page.evaluate("window.taps") == len(taps) <= 3
    expect(lead.page.locator(".twin thead th").first).to_have_text(taps[-1])
    rows = lead.page.locator(".twin tbody tr").all()
    return [(cells[0], int(cells[1])) for row in rows for cells in [row.locator("th, td").all_inner_texts()]]


def test_the_worn_die_makes_more_than_half_of_the_underfill_and_its_cavity_stands_out(lead: Hands) -> None:
    by_tool = shares(lead, "All", "Underfill", "Tool, die")
    all_of_it = sum(marks for _, marks in by_tool)
    assert by_tool[0][0] == "die D-11"
    assert by_tool[0][1] > all_of_it / 2
    # Pieces that two dies can have made are nobody's: they stand in a bar of their own.
    assert [name for name, _ in by_tool if name.startswith("either")]
    by_cavity = shares(lead, "All", "Underfill", "Cavity")
    assert by_cavity[0][0] == "Cavity B"
    assert by_cavity[0][1] > 2 * by_cavity[1][1]


def test_the_bad_lot_stands_first_for_pitting_by_far(lead: Hands) -> None:
    by_lot = shares(lead, "All", "Pitting", "Anodising lot")
    assert by_lot[0][0] == "A-38"
    assert by_lot[0][1] > 3 * by_lot[1][1]


def test_the_tired_last_tray_finds_a_fraction_of_the_trays_before_it(lead: Hands) -> None:
    by_place = dict(shares(lead, "All", "Tray from the end"))
    before = [by_place[name] for name in ("last but one", "3 from the end", "4 from the end")]
    assert by_place["last tray"] < min(before) / 3
    # Last trays are not full: of a thousand pieces looked at it is still far fewer.
    row = lead.page.locator(".twin tbody tr").filter(has_text=re.compile("^(last tray|last but one)"))
    of_thousand = [int(one.locator("td[data-column='Of 1000']").inner_text()) for one in row.all()]
    assert sorted(of_thousand)[0] < sorted(of_thousand)[1] / 2


def test_the_lead_sees_what_waits_in_the_weeks(lead: Hands) -> None:
    lead.press("Shift")
    numbers = [int(text) for text in lead.page.locator("main .how-many").all_inner_texts()]
    criticals, holds, queries, *_, late = numbers
    assert min(criticals, holds, queries, late) > 0
    expect(lead.page.get_by_text(re.compile("Placed by hand: hardness tester"))).to_be_visible()


def test_some_days_of_making_count_apart_what_may_lie_beside_it_and_what_cannot_be_placed(lead: Hands) -> None:
    page = lead.page
    lead.press("Pareto")
    for key in ("Days", "When made"):
        page.get_by_role("button", name=key, exact=True).click()
    # Long enough ago to have been looked at, whatever day of the week it is now.
    today = datetime.now(UTC).date()
    page.get_by_label("First day").fill(str(today - timedelta(days=24)))
    page.get_by_label("Last day").fill(str(today - timedelta(days=15)))
    expect(page.get_by_text("by when it was made")).to_be_visible()
    expect(page.get_by_text(re.compile(r"\d+ more marks perhaps of this time"))).to_be_visible()
    expect(page.get_by_text(re.compile(r"\d+ marks found since then cannot be placed"))).to_be_visible()
    said = int(re.sub(r"\D", "", page.get_by_text(re.compile("^n = ")).inner_text().split("marks")[0]))
    marks = [int(cell) for cell in page.locator(".twin td[data-column='Marks']").all_inner_texts()]
    assert sum(marks) == said > 0
