# SPDX-License-Identifier: Apache-2.0
"""Every screen in both languages at four sizes, measured in a real browser: sizes, contrast, text that fits."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from functools import partial
from itertools import combinations
from typing import Any

import pytest
from playwright.sync_api import Browser, Page

from tests.browser import new_tablet
from tests.journeys.goods_and_counts import goods_and_counts
from tests.screens import Screen, demo_works, gap, height, sticks_out, width
from tests.served import Served

pytestmark = pytest.mark.browser

WIDE, TALL = (1280, 800), (800, 1280)
TABLETS = (WIDE, TALL, (1280, 728), (800, 1208))  # upright, lying, and with the tablet's own bars
NARROW, ZOOMED = (320, 900), (640, 400)  # 320 px, and 1280 x 800 at 200 %
PHONE = (390, 780)
SIZES = (*TABLETS, NARROW, ZOOMED, PHONE)

KEY_WIDTH, KEY_HEIGHT, KEY_GAP, APART, TARGET = 189, 126, 19, 82, 56
LARGE_KEYS = ("defect-key", "not-sure", "undo", "same-piece", "verdict", "tray-end", "all-looked-at")
Note = Callable[[str], None]


def press(page: Page, selector: str, place: int = 0) -> None:
    """Touch a key that acts when it goes down, longer than a bounce after the last."""
    page.wait_for_timeout(300)
    page.locator(selector).nth(place).dispatch_event("pointerdown", {"button": 0})
    page.wait_for_timeout(150)


def walk(page: Page, note: Note) -> None:
    """Go from an unknown browser to a closed tray and the Pareto, and note every screen on the way."""
    page.wait_for_selector(".enrol .demo")
    note("enrol")
    page.click(".demo .key")
    page.wait_for_selector(".people .tile")
    note("sign on")
    page.click(".people .tile:has-text('Ines Brandt')")
    page.wait_for_selector(".pin-pad")
    note("PIN")
    page.fill(".pin-pad input", "another")
    page.click(".pin-pad .main")
    page.wait_for_selector(".pin-answer .problem")
    note("PIN of somebody else")
    page.click(".pin-answer .main")
    page.wait_for_selector(".tiles .tile")
    note("batches")
    page.click(".tiles .tile")
    page.wait_for_selector(".is-large")
    note("look")
    page.click(".tiles .tile >> nth=0")
    page.wait_for_selector(".tray-choice")
    page.click(".begin .key >> nth=-1")
    note("trays")
    page.click(".begin .key >> nth=0")
    tally(page, note)
    end_of_tray(page, note)
    note("tray closed")
    pages_of_a_look(page, note)
    page.click(".top-bar nav .key >> nth=1")
    # Over all days: a shift may end while this walk is under way.
    page.click(".pareto-part .choice-row >> nth=0 >> .key >> nth=4")
    page.wait_for_selector(".pareto-chart svg")
    note("pareto")


def pages_of_a_look(page: Page, note: Note) -> None:
    """Entries of a closed tray, the count, rework, strays, the end of the look; back at the trays each time."""
    page.click(".closed-tray-line .key >> nth=-1")
    page.wait_for_selector(".closed-entries .key")
    note("entries of a closed tray")
    page.click(".closed-entries .key >> nth=0")
    page.wait_for_selector(".closed-tray .field")
    note("why an entry is taken back")
    page.click(".not-yet")
    page.click(".not-yet")
    page.click(".look-ways .key >> nth=0")
    page.wait_for_selector(".count-entry")
    note("how many trays are full")
    page.click(".keypad-keys .key >> nth=1")
    page.click(".count-entry .main")
    page.click(".count-entry .pair .key:not(.main)")
    page.wait_for_selector(".counted")
    note("the count before it is stored")
    page.click(".counted .all-looked-at")
    page.wait_for_selector(".counted .tray-numbers")
    note("counted in")
    page.click(".not-yet")
    page.click(".look-ways .key >> nth=1")
    page.wait_for_selector(".rework")
    note("rework")
    page.click(".rework .pair .key >> nth=0")
    page.wait_for_selector(".count-entry")
    note("rework counted out")
    page.click(".not-yet")
    page.click(".not-yet")
    page.click(".look-ways .key >> nth=2")
    page.wait_for_selector(".strays")
    note("strays")
    page.click(".strays .begin .key >> nth=0")
    page.wait_for_selector(".count-entry")
    note("a foreign piece")
    page.click(".not-yet")
    page.click(".not-yet")
    page.click(".look-ways .key >> nth=3")
    page.wait_for_selector(".sign")
    note("end of the look")
    page.click(".not-yet")
    page.wait_for_selector(".tray-choice")


def tally(page: Page, note: Note) -> None:
    """Finds of every sort: plain, by zone, critical, not sure, a second tap."""
    page.wait_for_selector(".tally")
    note("tally without a find")
    plain = page.locator(".pad-row:not(.is-critical) .defect-key:not(:has(.of-by_zone))")
    by_zone = page.locator(".defect-key:has(.of-by_zone)")
    by_zone.first.dispatch_event("pointerdown", {"button": 0})
    page.wait_for_selector(".zones")
    note("tally asking for the zone")
    press(page, ".zone-key", 5)
    press(page, ".is-critical .defect-key")
    press(page, ".not-sure")
    page.wait_for_selector(".critical")
    page.wait_for_timeout(300)
    note("tally with a critical find")
    for _ in range(2):
        plain.last.dispatch_event("pointerdown", {"button": 0})
    page.wait_for_selector(".verdict.rework")
    page.wait_for_timeout(300)
    note("tally with a verdict to give")
    press(page, ".verdict.rework")
    press(page, ".cavity")
    page.wait_for_selector(".zones")
    note("tally asking for the cavity")
    press(page, ".zone-key")
    note("tally with a verdict given")


def end_of_tray(page: Page, note: Note) -> None:
    """One or two, the empty places, the check."""
    page.click(".tray-end")
    page.wait_for_selector(".tray-end-page .pair")
    note("one or two")
    page.click(".pair .key >> nth=0")
    page.wait_for_selector(".empty-places")
    page.click(".not-yet .key >> nth=1")
    page.click(".empty-places .main")
    note("leaving the tray")
    page.click(".not-yet .key")
    page.click(".tray-end")
    page.click(".pair .key >> nth=1")
    note("empty places")
    page.click(".pair .key >> nth=0")
    page.wait_for_selector(".check")
    note("check")
    page.click(".all-looked-at")
    page.wait_for_selector(".done")


@pytest.fixture(scope="module")
def served_once(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    """One served demo works for all measurements."""
    with demo_works(tmp_path_factory.mktemp("screens")) as served:
        yield served


@pytest.fixture(scope="module")
def screens(browser: Browser, served_once: Served) -> list[Screen]:
    """Every screen in every language at every size."""
    found: list[Screen] = []
    for language in ("en", "de"):
        context = new_tablet(browser)
        page = context.new_page()
        page.goto(f"{served_once.address}/#/{language}/batches")

        def note(
            stage: str, page: Page = page, language: str = language, sizes: tuple[tuple[int, int], ...] = SIZES
        ) -> None:
            found.extend(Screen.measure(page, stage, language, size) for size in (*sizes, WIDE))

        walk(page, note)
        goods_and_counts(page, partial(note, sizes=(WIDE, TALL, NARROW)))
        context.close()
    return found


def tallies(screens: list[Screen], sizes: tuple[tuple[int, int], ...]) -> list[Screen]:
    return [screen for screen in screens if screen.is_tally and screen.size in sizes]


def defect_keys(screen: Screen) -> list[dict[str, Any]]:
    return [key for key in screen.keys if "defect-key" in key["kind"].split()]


def test_tally_keys_are_large_enough_for_a_glove(screens: list[Screen]) -> None:
    small = [
        (screen.where, key["name"], width(key["box"]), height(key["box"]))
        for screen in tallies(screens, TABLETS)
        for key in screen.keys
        if any(kind in key["kind"].split() for kind in LARGE_KEYS)
        and (width(key["box"]) < KEY_WIDTH or height(key["box"]) < KEY_HEIGHT - 0.5)
    ]
    assert small == []


def test_the_pad_shows_all_twelve_keys_on_a_tablet(screens: list[Screen]) -> None:
    assert {len(defect_keys(screen)) for screen in tallies(screens, TABLETS)} == {12}


def test_defect_keys_stand_three_millimetres_apart(screens: list[Screen]) -> None:
    close = [
        (screen.where, one["name"], other["name"])
        for screen in tallies(screens, SIZES)
        for one, other in combinations(defect_keys(screen), 2)
        if gap(one["box"], other["box"]) < KEY_GAP - 0.5
    ]
    assert close == []


def test_defect_keys_stay_at_their_places_through_a_tray(screens: list[Screen]) -> None:
    places: dict[tuple[object, ...], set[tuple[int, int]]] = {}
    for screen in tallies(screens, TABLETS):
        for key in defect_keys(screen):
            where = (screen.language, screen.size, key["name"].split(",")[0])
            places.setdefault(where, set()).add((round(key["box"]["left"]), round(key["box"]["top"])))
    assert places
    assert {where: found for where, found in places.items() if len(found) > 1} == {}


def test_the_tally_never_scrolls(screens: list[Screen]) -> None:
    scrolling = [
        (screen.where, screen.wide, screen.high, screen.inner)
        for screen in tallies(screens, (*TABLETS, ZOOMED))
        if screen.wide > 0 or screen.high > 0 or (screen.size in TABLETS and screen.inner)
    ]
    assert scrolling == []


def test_every_key_of_the_tally_lies_on_the_screen(screens: list[Screen]) -> None:
    beyond = [
        (screen.where, key["name"], key["box"])
        for screen in tallies(screens, (*TABLETS, ZOOMED, PHONE))
        if screen.stage != "tally asking for the zone" or screen.size in TABLETS
        for key in screen.keys
        if sticks_out(key["box"], {"left": 0, "top": 0, "right": screen.size[0], "bottom": screen.size[1]})
    ]
    assert beyond == []


def test_keys_of_the_tally_do_not_lie_on_one_another(screens: list[Screen]) -> None:
    lying = [
        (screen.where, one["name"], other["name"])
        for screen in tallies(screens, (*TABLETS, ZOOMED, PHONE))
        if screen.stage != "tally asking for the zone" or screen.size in TABLETS
        for one, other in combinations(screen.keys, 2)
        if gap(one["box"], other["box"]) < 0
    ]
    assert lying == []


def test_other_screens_reflow_without_a_sideways_scroll(screens: list[Screen]) -> None:
    assert [screen.where for screen in screens if screen.wide > 0] == []


def test_nothing_else_stands_near_what_cannot_be_undone(screens: list[Screen]) -> None:
    near = []
    for screen in screens:
        closing = [key for key in screen.keys if "all-looked-at" in key["kind"].split()]
        for key in screen.keys:
            near += [
                (screen.where, key["name"], gap(one["box"], key["box"]))
                for one in closing
                if key is not one and gap(one["box"], key["box"]) < APART - 1
            ]
    assert near == []


def test_the_trays_end_stands_apart_from_undo(screens: list[Screen]) -> None:
    for screen in tallies(screens, TABLETS):
        by_kind = {kind: key for key in screen.keys for kind in key["kind"].split()}
        assert gap(by_kind["tray-end"]["box"], by_kind["undo"]["box"]) >= APART - 1, screen.where


def test_everything_that_is_touched_is_at_least_56_px(screens: list[Screen]) -> None:
    small = [
        (screen.where, key["name"], width(key["box"]), height(key["box"]))
        for screen in screens
        for key in screen.keys
        if width(key["box"]) < TARGET - 0.5 or height(key["box"]) < TARGET - 0.5
    ]
    assert small == []


def test_text_is_at_least_24_px_and_counts_32(screens: list[Screen]) -> None:
    small = {
        (screen.where, text["text"], text["size"])
        for screen in screens
        for text in screen.texts
        if text["size"] < (32 if text["isCounted"] else 24)
    }
    assert small == set()


def test_text_has_a_contrast_of_seven_to_one(screens: list[Screen]) -> None:
    faint = {(screen.stage, text["text"]) for screen in screens for text in screen.texts if text["contrast"] < 7}
    assert faint == set()


def test_controls_have_a_contrast_of_three_to_one(screens: list[Screen]) -> None:
    faint = {(screen.stage, key["name"]) for screen in screens for key in screen.keys if key["edge"] < 3}
    assert faint == set()


def test_text_stays_inside_its_key_and_its_field(screens: list[Screen]) -> None:
    outside = {
        (screen.where, text["text"], text["holderIs"])
        for screen in screens
        if screen.size in TABLETS or not screen.is_tally
        for text in screen.texts
        if text["holderIs"] not in ("", "sync") and sticks_out(text["box"], text["holder"])
    }
    assert outside == set()


def test_texts_do_not_lie_on_one_another(screens: list[Screen]) -> None:
    lying = {
        (screen.where, one["text"], other["text"])
        for screen in screens
        if screen.size in TABLETS
        for one, other in combinations(screen.texts, 2)
        if gap(one["box"], other["box"]) < -6
    }
    assert lying == set()
