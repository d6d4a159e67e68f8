# SPDX-License-Identifier: Apache-2.0
"""The app in a stock Firefox: an ordinary window records, a private one says that it cannot."""

from __future__ import annotations

import re
from pathlib import Path

import pytest
from playwright.sync_api import Playwright, expect

from tests import firefox
from tests.hands import Hands
from tests.served import Served

pytestmark = [
    pytest.mark.browser,
    pytest.mark.skipif(firefox.program() is None, reason="No Firefox is installed."),
]

# Everything a page can keep, as far as the browser lets it look.
KEPT = """async () => ({
    files: await navigator.storage.getDirectory().then(() => 'a folder', (problem) => problem.name),
    rows: await indexedDB.databases().then((found) => found.length, () => 0),
    settings: localStorage.length,
})"""


def test_a_tray_is_tallied_kept_without_contact_and_confirmed_in_firefox(
    playwright: Playwright, served: Served, tmp_path: Path
) -> None:
    with firefox.open_profile(playwright, tmp_path / "profile") as context:
        hands = Hands.at(context, served.address)
        hands.enrol()
        hands.sign_on()
        hands.take_up()
        hands.begin_tray(1)
        hands.find_several(5)
        hands.undo()
        hands.wait_until_kept()
        served.stop()
        hands.page.reload()
        expect(hands.page.get_by_label("Defect keys")).to_be_visible()
        assert hands.marked() == 4
        hands.find("Lap")
        hands.end_tray(empty=20)
        made = hands.journal()
        served.start_again()
        hands.wait_until_confirmed(90_000)  # the pause behind many failures may be a minute
        assert [line for line in hands.journal() if line in made] == made
    assert served.run("verify").returncode == 0


def test_a_private_window_of_firefox_says_that_it_cannot_record_and_keeps_nothing(
    playwright: Playwright, served: Served, tmp_path: Path
) -> None:
    with firefox.open_profile(playwright, tmp_path / "profile", is_private=True) as context:
        hands = Hands.at(context, served.address)
        for language, sentence in (("en", "This is a private window"), ("de", "Dies ist ein privates Fenster")):
            hands.page.goto(f"{served.address}/#/{language}/batches")
            expect(hands.page.get_by_role("alert").get_by_text(re.compile(f"^{sentence}"))).to_be_visible()
            hands.picture(f"firefox-private-{language}")
        assert hands.page.get_by_role("button").count() == 0
        assert hands.page.evaluate(KEPT) == {"files": "SecurityError", "rows": 0, "settings": 0}
