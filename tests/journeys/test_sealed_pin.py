# SPDX-License-Identifier: Apache-2.0
"""Signing on with a PIN, with and without contact: judged by the server, and nowhere on the tablet after."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Playwright, expect

from tests.browser import launch_options
from tests.hands import DEMO_PINS, Hands
from tests.served import Served

pytestmark = pytest.mark.browser

# A secret with letters: four digits may stand in any hash by chance.
WHO = "Jonas Falk"
PIN = DEMO_PINS[WHO]
WRONG = "not-the-harbour-72"
# A file that is written to while it is read cannot be read, and is read again.
STORE = """async () => {
    const texts = {};
    for await (const [name, file] of (await navigator.storage.getDirectory()).entries()) {
        while (!(name in texts)) {
            try {
                texts[name] = await (await file.getFile()).text();
            } catch (problem) {
                if (problem.name !== 'NotReadableError') throw problem;
            }
        }
    }
    return texts;
}"""
WIPED = """async () => {
    const folder = await navigator.storage.getDirectory();
    const size = async () => (await (await folder.getFileHandle('files')).getFile()).size;
    while ((await size()) > 0) await new Promise((resolve) => setTimeout(resolve, 50));
}"""


@pytest.fixture
def profile(tmp_path: Path) -> Path:
    """The folder of a browser's profile, to be searched on disk."""
    return tmp_path / "profile"


@pytest.fixture
def open_tablet(playwright: Playwright, profile: Path, served: Served) -> Iterator[Callable[[], Hands]]:
    """An enrolled tablet on the profile."""
    opened: list[BrowserContext] = []

    def launch() -> Hands:
        size = {"width": 1280, "height": 800}
        options: dict[str, Any] = {**launch_options(playwright), "viewport": size, "has_touch": True}
        opened.append(playwright.chromium.launch_persistent_context(str(profile), **options))
        hands = Hands.at(opened[-1], served.address)
        hands.enrol()
        expect(hands.page.get_by_text(WHO)).to_be_visible()
        return hands

    yield launch
    for context in opened:
        context.close()


def proven(served: Served) -> list[bool]:
    """Whether the person's sign-ons are proven, in the order of their chain."""
    query = """
        SELECT proven FROM sign_ons JOIN records ON records.chain || ':' || records.n = person
        WHERE json_extract(CAST(line AS TEXT), '$.body.name') = ? ORDER BY sign_on
    """
    with sqlite3.connect(served.data / "works.db") as connection:
        return [bool(row[0]) for row in connection.execute(query, (WHO,))]


def finds(served: Served) -> int:
    with sqlite3.connect(served.data / "works.db") as connection:
        count: int = connection.execute("SELECT count(*) FROM finds").fetchone()[0]
        return count


def sealed_in(hands: Hands) -> str:
    """The sealed PIN that waits in the store."""
    text: str = hands.page.evaluate(STORE)["files"]
    return text.split('"sealed":"')[1].split('"')[0]


def found_on_disk(profile: Path, *secrets: str) -> list[str]:
    """The files of a closed profile that hold any of the secrets, as bytes of either kind of text."""
    needles = [secret.encode(coding) for secret in secrets for coding in ("utf-8", "utf-16-le")]
    files = [path for path in profile.rglob("*") if path.is_file() and not path.is_symlink()]
    assert len(files) > 20
    return [path.name for path in files if any(needle in path.read_bytes() for needle in needles)]


def test_hazard_d7_a_pin_given_without_contact_is_judged_with_contact_and_leaves_no_trace(
    open_tablet: Callable[[], Hands], profile: Path, served: Served
) -> None:
    hands = open_tablet()
    hands.lose_contact()
    hands.press(WHO)
    expect(hands.page.get_by_text("There is no contact now")).to_be_visible(timeout=10_000)
    hands.page.get_by_label(f"PIN of {WHO}").fill(PIN)
    hands.press("Begin")
    # Nobody waits for the server.
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(2)
    sealed = sealed_in(hands)
    store = hands.page.evaluate(STORE)
    assert len(sealed) == 512
    assert [name for name, text in store.items() if PIN in text] == []
    assert [name for name, text in store.items() if sealed in text] == ["files"]
    hands.page.reload()
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()

    hands.find_contact()
    hands.wait_until_confirmed()
    hands.page.evaluate(WIPED)
    assert proven(served) == [True]
    assert finds(served) == 2
    assert [name for name, text in hands.page.evaluate(STORE).items() if sealed in text or PIN in text] == []
    hands.context.close()
    assert found_on_disk(profile, PIN, sealed) == []
    with sqlite3.connect(served.data / "works.db") as connection:
        assert connection.execute("SELECT count(*) FROM sealed_pins").fetchone() == (0,)


def test_contact_that_was_lost_unnoticed_holds_nobody_up(open_tablet: Callable[[], Hands]) -> None:
    hands = open_tablet()
    hands.press(WHO)
    hands.page.get_by_label(f"PIN of {WHO}").fill(PIN)
    hands.lose_contact()
    hands.press("Begin")
    hands.take_up()


def test_a_right_pin_with_contact_is_proven_within_a_moment(
    open_tablet: Callable[[], Hands], served: Served
) -> None:
    hands = open_tablet()
    hands.press(WHO)
    hands.page.get_by_label(f"PIN of {WHO}").fill(PIN)
    hands.press("Begin")
    expect(hands.page.get_by_text(f"Proven: {WHO}.")).to_be_visible()
    hands.take_up()
    assert proven(served) == [True]


def test_a_wrong_pin_locks_nobody_out_and_is_said(
    open_tablet: Callable[[], Hands], profile: Path, served: Served
) -> None:
    hands = open_tablet()
    hands.press(WHO)
    hands.page.get_by_label(f"PIN of {WHO}").fill(WRONG)
    hands.press("Begin")
    said = hands.page.get_by_text(f"This was not the PIN of {WHO}. Your records are kept")
    expect(said).to_be_visible()
    hands.press("Go on")
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(2)
    hands.wait_until_confirmed()
    hands.page.evaluate(WIPED)
    assert proven(served) == [False]
    assert finds(served) == 2
    hands.context.close()
    assert found_on_disk(profile, WRONG) == []


def test_after_a_wrong_pin_the_right_one_proves_the_next_sign_on(
    open_tablet: Callable[[], Hands], served: Served
) -> None:
    hands = open_tablet()
    hands.press(WHO)
    hands.page.get_by_label(f"PIN of {WHO}").fill(WRONG)
    hands.press("Begin")
    hands.press("Type the PIN again")
    hands.page.get_by_label(f"PIN of {WHO}").fill(PIN)
    hands.press("Begin")
    expect(hands.page.get_by_text(f"Proven: {WHO}.")).to_be_visible()
    assert proven(served) == [False, True]


def test_going_on_without_a_pin_is_recorded_and_not_proven(
    open_tablet: Callable[[], Hands], served: Served
) -> None:
    hands = open_tablet()
    hands.sign_on(WHO, pin="")
    hands.take_up()
    hands.wait_until_confirmed()
    assert proven(served) == [False]
    assert hands.page.evaluate(STORE)["files"] == ""
