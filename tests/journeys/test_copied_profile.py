# SPDX-License-Identifier: Apache-2.0
"""A tablet's profile is copied, or an old image of it is put back, and both sides go on working."""

from __future__ import annotations

import json
import re
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import BrowserContext, Playwright, expect

from tests.browser import launch_options
from tests.hands import Hands
from tests.served import WHOLE_DEMO, Served

pytestmark = pytest.mark.browser

HOLDS_FINDS = """async ([name, count]) => {
    const folder = await navigator.storage.getDirectory();
    for (;;) {
        const file = await (await folder.getFileHandle(name)).getFile();
        const text = await file.text().catch(() => '');  // it is being written to
        if (text.split('defect_tallied').length - 1 >= count) return;
        await new Promise((resolve) => setTimeout(resolve, 50));
    }
}"""


@pytest.fixture
def browse(playwright: Playwright) -> Iterator[Callable[[Path], BrowserContext]]:
    """Open a browser on a profile folder; whatever is still open is closed at the end."""
    opened: list[BrowserContext] = []

    def launch(folder: Path) -> BrowserContext:
        size = {"width": 1280, "height": 800}
        options = {**launch_options(playwright), "viewport": size, "has_touch": True}
        opened.append(playwright.chromium.launch_persistent_context(str(folder), **options))
        return opened[-1]

    yield launch
    for context in opened:
        context.close()


def records(hands: Hands) -> list[dict[str, Any]]:
    return [json.loads(line) for line in hands.journal()]


def stored(served: Served) -> set[str]:
    """Every line in the server's log."""
    with sqlite3.connect(served.data / "works.db") as connection:
        return {line.decode() for (line,) in connection.execute("SELECT line FROM records")}


def set_aside(served: Served) -> set[str]:
    with sqlite3.connect(served.data / "works.db") as connection:
        return {line.decode() for (line,) in connection.execute("SELECT line FROM set_aside")}


def begin(hands: Hands) -> None:
    """Enrol, sign on, and mark three finds in tray 1."""
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(3)
    hands.wait_until_confirmed()


def find(hands: Hands, word: str) -> None:
    """Tap a defect key until the find is in the journal: the screen may count the other side's meanwhile."""
    before = sum(one["kind"] == "defect_tallied" for one in records(hands))
    key = hands.page.get_by_role("button", name=re.compile(f"^{word}, "))
    key.click()
    hands.page.evaluate(HOLDS_FINDS, ["journal-a", before + 1])
    expect(key.locator(".key-said")).to_have_text("stored")


def test_hazard_d11_d12_both_sides_of_a_copied_profile_go_on_and_nothing_is_lost(
    browse: Callable[[Path], BrowserContext], served: Served, tmp_path: Path
) -> None:
    original, copy = tmp_path / "original", tmp_path / "copy"
    context = browse(original)
    begin(Hands.at(context, served.address))
    context.close()
    shutil.copytree(original, copy, ignore=shutil.ignore_patterns("Singleton*"))

    sides = [Hands.at(browse(folder), served.address) for folder in (original, copy)]
    for hands in sides:
        hands.lose_contact()
        hands.take_up()
        hands.press("Go on with tray 1")
    sides[0].find_several(2)
    sides[1].find_several(5)
    assert [hands.marked() for hands in sides] == [5, 8]
    for hands in sides:
        hands.find_contact()
        hands.wait_until_confirmed()
    # Each goes on as if nothing had happened; its own finds stay on its screen, beside what it learns of the other.
    for hands, own in zip(sides, (6, 9), strict=True):
        find(hands, "Staining")
        hands.wait_until_confirmed()
        assert sum(one["kind"] == "defect_tallied" for one in records(hands)) == own
        assert hands.marked() >= own

    # The original may learn only now that its chain has two ends.
    for word in ("Lap", "Cold shut", "Underfill"):
        find(sides[0], word)
    for hands in sides:
        hands.wait_until_confirmed()
    held = stored(served) | set_aside(served)
    for hands in sides:
        assert [line for line in hands.journal() if line not in held] == []
    whys = [one["body"]["why"] for one in records(sides[1]) if one["kind"] == "chain_opened"]
    assert whys in (["first", "forked"], ["first", "behind"])
    assert len(set_aside(served)) >= 2
    expect(sides[1].page.get_by_text("set aside", exact=False)).to_be_visible()
    admit_what_was_set_aside(sides[1])
    made = {line for hands in sides for line in hands.journal() if json.loads(line)["kind"] == "defect_tallied"}
    expect_tally(sides[1], len(made))
    verified = served.run("verify")
    assert (verified.returncode, verified.stdout) == (0, WHOLE_DEMO)


def admit_what_was_set_aside(hands: Hands) -> None:
    """The lead comes to the tablet, finds on its list what was set aside, and admits it."""
    hands.press("Trays")
    hands.hand_over("Jonas Falk")
    hands.wait_until_confirmed()
    hands.press("Set aside")
    hands.page.get_by_label("Why they may count").fill("the work of a whole shift, seen by me")
    hands.press(re.compile("^Admit [0-9]+ record"))
    expect(hands.page.get_by_text("Granted. It holds now.")).to_be_visible(timeout=20_000)
    expect(hands.page.get_by_text("0 can still be admitted")).to_be_visible()


def expect_tally(hands: Hands, marks: int) -> None:
    """The server and, once the network is gone, the tablet count the same marks."""
    said = re.compile(f"n = {marks} marks on {marks} pieces")
    hands.page.goto(f"{hands.address}/#/en/pareto")
    hands.press("All")
    expect(hands.page.get_by_text(said)).to_be_visible()
    expect(hands.page.get_by_text("As the server knew it")).to_be_visible()
    hands.lose_contact()
    hands.press("By pieces")  # what the server was not asked before it has not said
    expect(hands.page.get_by_text("only the records this tablet holds", exact=False)).to_be_visible()
    expect(hands.page.get_by_text(said)).to_be_visible(timeout=20_000)


def test_an_old_image_of_a_tablet_goes_on_in_a_new_chain_and_sees_what_it_had_recorded_since(
    browse: Callable[[Path], BrowserContext], served: Served, tmp_path: Path
) -> None:
    present, image = tmp_path / "present", tmp_path / "image"
    context = browse(present)
    begin(Hands.at(context, served.address))
    context.close()
    shutil.copytree(present, image, ignore=shutil.ignore_patterns("Singleton*"))

    context = browse(present)
    hands = Hands.at(context, served.address)
    hands.take_up()
    hands.press("Go on with tray 1")
    hands.find_several(4)
    hands.wait_until_confirmed()
    context.close()

    hands = Hands.at(browse(image), served.address)
    hands.take_up()
    hands.wait_until_confirmed()
    opened = [one["body"] for one in records(hands) if one["kind"] == "chain_opened"]
    assert [body["why"] for body in opened] == ["first", "behind"]
    assert set_aside(served) == set()
    hands.page.evaluate(HOLDS_FINDS, ["fetched", 7])
    hands.page.goto(f"{served.address}/#/en/pareto")
    hands.lose_contact()
    hands.page.reload()
    expect(hands.page.get_by_text("n = 7 marks on 7 pieces")).to_be_visible()
