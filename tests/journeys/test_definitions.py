# SPDX-License-Identifier: Apache-2.0
"""A list too large for a record comes as a file and stays; a batch is judged by the version it began with."""

from __future__ import annotations

import json
import re
import sqlite3
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tallywright.config import packed_folder, sqlite_url
from tallywright.records.bench import BatchOpenedV1
from tests.actors import join_works
from tests.hands import Hands
from tests.served import Served

pytestmark = pytest.mark.browser

WORD, KEY = "staining", "Staining"


def publish(served: Served, *words: str) -> str:
    """Import definitions at the console; returns the id of the part's that is new."""
    done = served.run("definitions", "import", *words)
    assert done.returncode == 0, done.stderr + done.stdout
    # The demo's gauges are due by the day it was made, so that its folder's own days are new as well.
    lines = [line for line in done.stdout.splitlines() if re.match(r"[a-z2-7]{26}:\d+  (?!gauge )", line)]
    [name] = [line.split()[0] for line in lines if "nothing was written" not in line]
    return name


def open_batch(served: Served, number: str, definition: str) -> None:
    """Another tablet opens a batch under a definition."""
    works = join_works(served.data, sqlite_url(served.data))
    tablet = works.tablet("goods-in")
    tablet.add(BatchOpenedV1(number=number, pieces=120), sign_on=tablet.sign_on, definition=definition)
    tablet.push()
    works.engine.dispose()


def demo_part() -> dict[str, Any]:
    seed = json.loads((packed_folder("demo_seed") / "works.json").read_text(encoding="utf-8"))
    return {"subject": "part", "demo": True, **seed["parts"][0]}


def weights(served: Served) -> dict[str, list[str]]:
    """The classes of the marks of the word, by the number of their batch."""
    query = "SELECT number, weight FROM finds JOIN batches USING (batch) WHERE defect = ? ORDER BY number, id"
    found: dict[str, list[str]] = {}
    with sqlite3.connect(served.data / "works.db") as connection:
        for number, weight in connection.execute(query, (WORD,)):
            found.setdefault(number, []).append(weight)
    return found


def test_a_list_of_the_whole_trade_comes_as_a_file_and_is_there_without_contact(
    hands: Hands, served: Served
) -> None:
    definition = publish(
        served, str(packed_folder("demo_seed") / "definitions"), "--revision", "D", "--part", "SK-70"
    )
    open_batch(served, "SK70-0777", definition)
    hands.enrol()
    hands.sign_on()
    hands.take_up("SK70-0777")
    hands.begin_tray(1)
    pad = hands.page.get_by_label("Defect keys")
    expect(pad).to_be_visible()
    keys = pad.locator(".defect-key")
    assert 8 <= keys.count() <= 12
    # No word that an eye cannot find, or that has no key word, has a key.
    assert all(text.strip() for text in keys.locator(".key-word").all_inner_texts())
    keys.first.click()
    expect(hands.page.locator(".tally-head .fact").nth(2)).to_contain_text("1")
    hands.wait_until_confirmed()
    hands.lose_contact()
    served.stop()
    hands.page.reload()
    expect(pad).to_be_visible()
    assert hands.marked() == 1


def test_the_key_that_turns_the_pages_of_a_long_list_can_be_read_and_pressed_upright(
    hands: Hands, served: Served
) -> None:
    definition = publish(served, str(packed_folder("demo_seed") / "definitions"))
    open_batch(served, "SK70-0777", definition)
    page = hands.page
    hands.enrol()
    hands.sign_on()
    hands.take_up("SK70-0777")
    hands.begin_tray(1)
    page.set_viewport_size({"width": 800, "height": 1280})
    # A critical find needs room beside it: the locked pieces stand in the same line.
    page.locator(".is-critical .defect-key").first.click()
    expect(page.locator(".tally-head .is-alarming")).to_be_visible()
    for language in ("de", "en"):
        page.goto(re.sub(r"#/(en|de)/", f"#/{language}/", page.url))
        turn = page.locator("button.turn")
        place = turn.bounding_box()
        assert place is not None
        assert place["width"] >= 56
        assert place["height"] >= 56
        assert place["y"] >= 0
        assert turn.evaluate("key => key.scrollWidth <= key.clientWidth && key.scrollHeight <= key.clientHeight")
        for fact in page.locator(".tally-head .fact:visible").all():
            other = fact.bounding_box()
            assert other is not None
            beside = other["x"] + other["width"] <= place["x"] or other["x"] >= place["x"] + place["width"]
            above = other["y"] + other["height"] <= place["y"]
            assert beside or above, fact.inner_text()
        before = page.locator(".defect-key .key-word").all_inner_texts()
        turn.click()
        expect(page.locator(".defect-key .key-word").first).not_to_have_text(before[0])


def test_a_version_published_while_a_tablet_is_away_judges_nothing_that_began_before(
    hands: Hands, served: Served, tmp_path: Path
) -> None:
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find(KEY)
    hands.wait_until_confirmed()
    before = weights(served)["SK70-0501"]
    hands.lose_contact()

    part = demo_part()
    word = next(entry for entry in part["defects"] if entry["defect"] == WORD)
    assert word["class"] == before[0] == "minor"
    word["class"] = "major"
    file = tmp_path / "part.json"
    file.write_text(json.dumps(part))
    definition = publish(served, str(file))
    open_batch(served, "SK70-0888", definition)
    hands.find(KEY)
    assert hands.marked() == 2

    hands.find_contact()
    hands.wait_until_confirmed()
    assert weights(served) == {"SK70-0501": ["minor", "minor"]}
    hands.press("Trays")
    hands.press("Batches")
    hands.take_up("SK70-0888")
    hands.begin_tray(1)
    hands.find(KEY)
    hands.wait_until_confirmed()
    assert weights(served) == {"SK70-0501": ["minor", "minor"], "SK70-0888": ["major"]}
    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")
