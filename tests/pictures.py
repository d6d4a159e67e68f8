# SPDX-License-Identifier: Apache-2.0
"""Draw the pictures of README.md anew: `python -m tests.pictures`.

A person goes through the first ten minutes as README.md tells them, in the demo works on a fixed day, and leaves a
picture at each step in docs/pictures/. Not a test: tests/journeys asserts what these only show.
"""

from __future__ import annotations

import re
import sys
import tempfile
from pathlib import Path

from playwright.sync_api import Page, expect, sync_playwright

from tests.browser import launch_options, new_tablet
from tests.hands import Hands
from tests.served import Served, free_port

PICTURES = Path(__file__).parents[1] / "docs" / "pictures"


def keep(page: Page, name: str) -> None:
    """One picture; what still moves is given time to come to rest."""
    page.wait_for_timeout(400)
    page.screenshot(path=PICTURES / f"{name}.png")
    sys.stdout.write(f"{name}\n")


def tell(hands: Hands) -> None:
    """Ten minutes: an inspector at the bench, without contact and back; then the lead."""
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Underfill")
    hands.find("Staining")
    hands.press(re.compile("^Rework"))
    hands.find("Staining")
    hands.lose_contact()
    hands.find("Lap")
    expect(page.get_by_text("no contact", exact=False).first).to_be_visible()
    keep(page, "1_tally_without_contact")
    hands.press("Tray end")
    hands.press("None")
    keep(page, "2_tray_end")
    hands.press(re.compile("^All looked at"))
    hands.find_contact()
    hands.wait_until_confirmed()
    hands.hand_over("Jonas Falk")
    hands.press("Shift")
    expect(page.locator(".pareto-chart svg")).to_be_visible()
    keep(page, "3_shift_page")
    for key in ("All", "Pitting", "Anodising lot"):
        page.locator(".pareto-part").get_by_role("button", name=key, exact=True).first.click()
    expect(page.locator(".twin thead th").first).to_have_text("Anodising lot")
    page.locator(".narrowing").scroll_into_view_if_needed()
    page.evaluate("scrollBy(0, 290)")
    keep(page, "4_pareto")
    hands.press("To decide")
    hands.press(re.compile("SK70-0417"))
    expect(page.get_by_role("heading", name="Batch SK70-0417")).to_be_visible()
    keep(page, "5_batch_to_decide")


def main() -> None:
    """Serve a demo works in a folder of its own, and go through it."""
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as driver:
        served = Served(Path(folder) / "works", free_port(), weeks=True)
        served.start()
        try:
            browser = driver.chromium.launch(**launch_options(driver))
            context = new_tablet(browser)
            tell(Hands.at(context, served.address))
            browser.close()
        finally:
            served.stop()


if __name__ == "__main__":
    main()
