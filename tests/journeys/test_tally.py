# SPDX-License-Identifier: Apache-2.0
"""The tally under the hand: its taps against the budgets, verdicts of the finder, tags, limits, rests, leaving."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from itertools import permutations
from typing import Any

import pytest
from playwright.sync_api import Browser, expect

from tallywright.records.bench import PiecesCountedV1, TrayCard
from tests.actors import join_works
from tests.browser import new_tablet
from tests.hands import DEMO_PINS, REPEAT_MS, Hands
from tests.reach import Box, reach_seconds, way_seconds
from tests.screens import demo_works
from tests.served import Served

pytestmark = pytest.mark.browser

# What an inspector may spend on it, without reading, counting and thinking.
FIND_SECONDS, TRAY_END_SECONDS, SIGN_ON_SECONDS = 1.0, 5.0, 3.0
COUNT_TAPS = """window.taps = []; addEventListener('pointerdown', ({ target }) => {
    const { left, top, right, bottom } = target.closest('button').getBoundingClientRect();
    window.taps.push({ left, top, right, bottom });
}, true);"""
KEYS = """keys => keys.map(key => key.getBoundingClientRect()).map(({ left, top, right, bottom }) =>
    ({ left, top, right, bottom }))"""


@pytest.fixture(scope="module")
def served_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One served demo works for most of these tests; each has a tablet and a tray of its own."""
    with demo_works(tmp_path_factory.mktemp("tally")) as served:
        yield served


@pytest.fixture
def hands(browser: Browser, served_once: Served) -> Iterator[Hands]:
    """An inspector with an open tray."""
    context = new_tablet(browser)
    context.add_init_script(COUNT_TAPS)
    found = Hands.at(context, served_once.address)
    found.enrol()
    found.sign_on()
    found.take_up()
    begin_next_tray(found)
    yield found
    context.close()


def begin_next_tray(hands: Hands) -> None:
    """Begin the tray that is offered, whatever its number."""
    hands.press(re.compile("^Begin tray"))
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()


def taps(hands: Hands) -> list[Box]:
    """The keys that were touched since this was asked last, in order, where they were."""
    found: list[Box] = hands.page.evaluate("const touched = window.taps; window.taps = []; touched")
    return found


def bodies(hands: Hands, kind: str) -> list[dict[str, Any]]:
    """What the tablet recorded of one kind, in order."""
    records = [json.loads(line) for line in hands.journal()]
    return [record["body"] for record in records if record["kind"] == kind]


def judge(hands: Hands, verdict: str) -> None:
    """Tap a verdict and wait until it is stored."""
    hands.press(re.compile(f"^{verdict}"))
    expect(hands.page.locator(".last-find")).to_contain_text(verdict)
    expect(hands.page.locator(".last-find .is-stored")).to_be_visible()
    hands.page.wait_for_timeout(REPEAT_MS)


def count_in(served: Served, pieces: int) -> None:
    """Somebody who does not look counts the batch in, at another tablet."""
    works = join_works(served.data, f"sqlite:///{served.data / 'works.db'}")
    tablet = works.tablet("goods in")
    proof = tablet.sign_on_as(works.person("Maren Holt"), DEMO_PINS["Maren Holt"])
    cards = [TrayCard(number=number, pieces=60) for number in range(1, pieces // 60 + 1)]
    tablet.at_bench(PiecesCountedV1(look="first", pieces=pieces, trays=cards))
    tablet.push(enclosures=[proof])


def test_a_find_is_one_tap_and_its_zone_one_more(hands: Hands) -> None:
    taps(hands)
    hands.find("Underfill")
    assert len(taps(hands)) == 1
    hands.press(re.compile("^Scratch, "))
    hands.press("flank")
    expect(hands.page.locator(".last-find")).to_contain_text("flank")
    assert len(taps(hands)) == 2


def test_a_further_defect_on_the_same_piece_is_one_tap_more(hands: Hands) -> None:
    hands.find("Underfill")
    taps(hands)
    hands.press(re.compile("^Same piece"))
    hands.press(re.compile("^Burn, "))
    expect(hands.page.get_by_role("button", name=re.compile("^Burn, .*1 mark in this tray"))).to_be_visible()
    assert len(taps(hands)) == 2


def test_every_key_speaks_the_language_that_is_chosen_in_the_middle_of_a_tray(hands: Hands) -> None:
    hands.find("Underfill")
    hands.page.evaluate("location.hash = location.hash.replace('/en/', '/de/')")
    expect(
        hands.page.get_by_role("button", name="Nicht gefüllt, schwer, 1 Strich in dieser Schale")
    ).to_be_visible()
    expect(hands.page.get_by_role("button", name=re.compile("^Lap, "))).to_have_count(0)


def test_undo_is_one_tap(hands: Hands) -> None:
    hands.find("Underfill")
    taps(hands)
    hands.undo()
    assert len(taps(hands)) == 1


def test_a_tray_ends_with_two_taps_behind_the_one_that_asks_for_it(hands: Hands) -> None:
    hands.find("Underfill")
    taps(hands)
    hands.press("Tray end")
    assert len(taps(hands)) == 1
    hands.press("None")
    hands.press(re.compile("^All looked at"))
    expect(hands.page.get_by_text("is closed and stored")).to_be_visible()
    assert len(taps(hands)) == 2


@pytest.mark.parametrize("size", [(1280, 800), (800, 1280)])
def test_a_hand_reaches_every_key_of_the_tally_from_any_other_within_a_second(
    hands: Hands, size: tuple[int, int]
) -> None:
    hands.page.set_viewport_size({"width": size[0], "height": size[1]})
    hands.page.wait_for_timeout(100)
    keys: list[Box] = hands.page.locator(
        ".tally .defect-key, .tally .undo, .not-sure, .same-piece, .tray-end"
    ).evaluate_all(KEYS)
    assert len(keys) == 16
    assert max(reach_seconds(one, other) for one, other in permutations(keys, 2)) < FIND_SECONDS


def test_the_hands_part_of_a_trays_end_is_a_fraction_of_its_five_seconds(hands: Hands) -> None:
    taps(hands)
    hands.find("Underfill")
    hands.press("Tray end")
    hands.press("None")
    hands.press(re.compile("^All looked at"))
    expect(hands.page.get_by_text("is closed and stored")).to_be_visible()
    way = taps(hands)
    assert len(way) == len(["Underfill", "Tray end", "None", "All looked at"])
    assert way_seconds(way) < TRAY_END_SECONDS / 2


def test_a_sign_on_is_a_tile_four_digits_and_a_key_within_three_seconds(hands: Hands) -> None:
    taps(hands)
    hands.hand_over("Piotr Zielny")
    expect(hands.page.get_by_label("Defect keys")).to_be_visible()
    way = taps(hands)
    assert len(way) == len(["name at the top", "tile", *"5823", "Begin"])
    assert way_seconds(way[1:]) < SIGN_ON_SECONDS


def test_a_find_shows_the_tag_for_its_pieces_slip(hands: Hands) -> None:
    hands.find("Underfill")
    records = [json.loads(line) for line in hands.journal()]
    n = next(record["n"] for record in records if record["kind"] == "defect_tallied")
    expect(hands.page.locator(".last-find .tag")).to_have_text(re.compile(f"^[A-Z]{{2,4}}{n}$"))
    tag = hands.page.locator(".last-find .tag").inner_text()
    hands.page.reload()
    expect(hands.page.locator(".last-find .tag")).to_have_text(tag)


def test_a_minor_find_is_a_reject_until_its_finder_says_otherwise_in_one_tap(hands: Hands) -> None:
    reject, rework = (hands.page.locator(".counts .fact").nth(place) for place in (1, 2))
    for _ in range(3):
        hands.find("Staining")
    expect(reject).to_contain_text("3")
    taps(hands)
    judge(hands, "Rework")
    assert len(taps(hands)) == 1
    expect(reject).to_contain_text("2")
    expect(rework).to_contain_text("1")
    hands.find("Staining")
    judge(hands, "Accept")
    hands.end_tray(empty=3)
    (closed,) = bodies(hands, "tray_closed")
    assert {name: closed[name] for name in ("accepted", "rejected", "rework", "query", "empty_counted")} == {
        "accepted": 54, "rejected": 2, "rework": 1, "query": 0, "empty_counted": 3,
    }  # fmt: skip


def test_undo_takes_back_the_newest_of_finds_and_verdicts(hands: Hands) -> None:
    hands.find("Staining")
    judge(hands, "Accept")
    expect(hands.page.get_by_role("button", name=re.compile("^Undo"))).to_contain_text("takes back: Accept")
    taps(hands)
    hands.press(re.compile("^Undo"))
    expect(hands.page.locator(".last-find")).to_contain_text("taken back")
    assert len(taps(hands)) == 1
    expect(hands.page.locator(".counts .fact").nth(1)).to_contain_text("1")
    hands.page.wait_for_timeout(REPEAT_MS)
    judge(hands, "Rework")
    hands.page.wait_for_timeout(REPEAT_MS)
    hands.press(re.compile("^Undo"))
    hands.page.wait_for_timeout(REPEAT_MS)
    hands.undo()
    assert hands.marked() == 0
    assert len(bodies(hands, "record_withdrawn")) == 3


def test_rework_is_open_only_where_the_list_says_how(hands: Hands) -> None:
    hands.find("Staining")
    expect(hands.page.locator(".verdict.rework")).to_contain_text("wipe, else strip")
    hands.press(re.compile("^Scratch, "))
    hands.press("flank")
    expect(hands.page.locator(".last-find")).to_contain_text("flank")
    expect(hands.page.locator(".verdict.accept")).to_be_visible()
    expect(hands.page.locator(".verdict.rework")).to_have_count(0)
    hands.find("Underfill")
    expect(hands.page.locator(".verdict")).to_have_count(0)


def test_a_cavity_is_chosen_once_and_kept_until_it_is_changed(hands: Hands) -> None:
    key = hands.page.locator(".cavity")
    expect(key).to_contain_text("not said")
    hands.find("Underfill")
    key.click()
    hands.press(re.compile("^B$"))
    expect(key).to_contain_text("B")
    hands.find("Burn")
    hands.find("Lap")
    key.click()
    hands.press(re.compile("^not said$"))
    hands.find("Cold shut")
    cavities = [body.get("cavity") for body in bodies(hands, "defect_tallied")]
    assert cavities == [None, "B", "B", None]


def test_a_critical_find_locks_its_piece_and_the_next_tray_begins_at_once(hands: Hands) -> None:
    hands.find("Lap")
    notice = hands.page.locator(".critical")
    expect(notice).to_contain_text("piece locked")
    expect(notice).to_contain_text("Tell Jonas Falk now, by voice")
    expect(notice).to_contain_text("Keep this tray's good pieces together")
    hands.undo()
    expect(notice).to_be_visible()
    hands.press("Tray end")
    hands.press("None")
    expect(hands.page.get_by_text("Keep this tray together until the lead has decided")).to_be_visible()
    hands.press(re.compile("^All looked at"))
    expect(hands.page.get_by_text("is closed and stored")).to_be_visible()
    begin_next_tray(hands)
    expect(hands.page.locator(".critical")).to_have_count(0)


def test_a_tray_is_left_at_a_place_that_is_typed_and_goes_on_behind_it(hands: Hands) -> None:
    page = hands.page
    hands.find("Underfill")
    tray = page.url
    hands.press("Tray end")
    hands.press("Leave this tray")
    expect(page.locator(".keypad-field")).to_have_value("")
    hands.press(re.compile("^Leave the tray"))
    expect(page.get_by_role("alert")).to_contain_text("No place is typed")
    hands.press("2")
    hands.press("4")
    hands.press(re.compile("^Leave the tray"))
    expect(page.get_by_role("heading", name="Which tray?")).to_be_visible()
    assert [body["place"] for body in bodies(hands, "handover_given")] == [24]
    page.goto(tray)
    expect(page.locator(".from-place")).to_have_text("from place 25")


def test_after_25_minutes_a_key_offers_a_rest_and_goes_when_it_is_told(
    browser: Browser, served_once: Served
) -> None:
    context = new_tablet(browser)
    page = context.new_page()
    page.clock.install()
    hands = Hands.at(context, served_once.address)
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    begin_next_tray(hands)
    rest = page.locator(".rest")
    for _ in range(2):
        page.clock.fast_forward("12:00")
        hands.find("Underfill")
        expect(rest).to_have_count(0)
    page.clock.fast_forward("02:00")
    expect(rest).to_contain_text("I rested")
    rest.click()
    expect(rest).to_have_count(0)
    assert len(bodies(hands, "break_taken")) == 1
    context.close()


def test_the_limit_word_follows_the_finds_without_contact_and_says_no_number(
    hands_alone: Hands, served: Served
) -> None:
    hands, limit = hands_alone, hands_alone.page.locator(".limit")
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    begin_next_tray(hands)
    hands.find("Underfill")
    expect(limit).to_have_count(0)
    count_in(served, 240)
    expect(limit).to_contain_text("within")
    expect(hands.page.locator(".in-tray")).to_have_text("59 left of 60")
    hands.wait_until_confirmed()
    hands.lose_contact()
    hands.find("Lap")
    expect(limit).to_contain_text("broken")
    hands.undo()
    expect(limit).to_contain_text("within")
    assert re.search("[0-9]", limit.inner_text()) is None
    hands.find_contact()
    hands.wait_until_confirmed()
    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")


@pytest.fixture
def hands_alone(browser: Browser, served: Served) -> Iterator[Hands]:
    """Somebody before a tablet of a works of this test's own."""
    context = new_tablet(browser)
    yield Hands.at(context, served.address)
    context.close()
