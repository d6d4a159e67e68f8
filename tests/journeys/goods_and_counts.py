# SPDX-License-Identifier: Apache-2.0
"""Past every screen of goods-in, of the saw and of the counts at a machine, each noted on the way."""

from __future__ import annotations

from collections.abc import Callable

from playwright.sync_api import Page

from tests.hands import DEMO_PINS

Note = Callable[[str], None]


def goods_and_counts(page: Page, note: Note) -> None:
    """An operator takes the tablet: bars come in and go to a batch, and a stint of it is counted."""
    page.click(".top-bar .person")
    page.click(".people .tile:has-text('Maren Holt')")
    page.wait_for_selector(".pin-pad")
    page.fill(".pin-pad input", DEMO_PINS["Maren Holt"])
    page.click(".pin-pad .main")
    page.wait_for_selector(".people", state="detached")
    page.click(".top-bar nav .key >> nth=0")
    page.click(".begin .key >> nth=1")
    goods(page, note)
    page.click(".goods > .not-yet")
    page.click(".tile:has-text('SK70-0501')")
    page.wait_for_selector(".is-large")
    page.click(".is-large .tile >> nth=-1")
    saw(page, note)
    page.click(".goods > .not-yet")
    page.wait_for_selector(".is-large")
    page.click(".is-large .tile >> nth=-2")
    counts(page, note)


def tap_count(page: Page, number: str) -> None:
    """Tap a number on the pad that stands there, and the key that takes it."""
    for digit in number:
        page.locator(".keypad-keys, .count-pad").get_by_role("button", name=digit, exact=True).click()
    page.click(".count-entry .main, .count-asked .main")


def goods(page: Page, note: Note) -> None:
    """Bars of one cast with their certificate and cast mark; what components and bar ends ask for."""
    page.wait_for_selector(".goods .begin")
    note("goods-in")
    page.click(".goods .begin .key >> nth=1")
    page.wait_for_selector(".goods-form")
    note("components have come")
    page.click(".goods > .not-yet")
    page.click(".goods .begin .key >> nth=2")
    page.wait_for_selector(".goods-form")
    note("bar ends")
    page.click(".goods > .not-yet")
    page.click(".goods .begin .key >> nth=0")
    for place, text in enumerate(("C-4711", "Skarv 60", "T6", "16")):
        page.fill(f".goods-form input >> nth={place}", text)
    note("bars have come")
    page.click(".goods-form .main")
    page.wait_for_selector(".count-entry")
    note("bars are counted")
    tap_count(page, "12")
    page.wait_for_selector(".goods-form .count-entry")
    note("the delivery note")
    tap_count(page, "15")
    page.wait_for_selector(".receipt")
    page.click(".receipt .begin .key >> nth=0")
    page.wait_for_selector(".goods-form .fields")
    note("a certificate")
    page.fill(".goods-form input >> nth=0", "C-4711")
    page.click(".goods-form .main")
    page.wait_for_selector(".element-entry")
    note("an element")
    page.click(".goods > .key:not(.not-yet)")
    page.click(".receipt .begin .key >> nth=-1")
    page.wait_for_selector(".cast-mark, .count-entry")
    note("a cast mark")
    page.click(".goods > .key:not(.not-yet)")
    page.wait_for_selector(".receipt")
    note("a receipt that differs")
    page.click(".goods > .not-yet")
    page.wait_for_selector(".goods .tile")
    note("goods-in with a receipt")


def saw(page: Page, note: Note) -> None:
    """Bars go to a batch too early, and a remnant goes back."""
    page.wait_for_selector(".goods .tile")
    note("saw")
    page.click(".goods .tile")
    page.wait_for_selector(".goods-form.warning")
    note("too early to cut")
    page.click(".goods-form .begin .key")
    page.wait_for_selector(".count-entry")
    tap_count(page, "3")
    page.wait_for_selector(".goods-form .count-entry")
    note("pieces of a bar")
    page.click(".count-entry .pair .key:not(.main)")
    page.wait_for_selector(".issues li")
    note("bars that went to the batch")


def counts(page: Page, note: Note) -> None:
    """A stint begins, is counted to its end and once more; what else is counted."""
    page.wait_for_selector("main:has(.tile):not(:has(.is-large))")
    page.click(".tiles .tile >> nth=1")
    page.wait_for_selector(".machine-head .main")
    if not page.locator(".stint-with").count():
        # Somebody was here before, and counted.
        page.click(".machine-head .main")
        page.wait_for_selector(".stint-with")
    page.click(".machine-head .main")
    page.wait_for_selector(".check-entry")
    page.click(".check-asked .head-keys .key >> nth=-2")
    for number, stage in (("12", "pieces in"), ("11", "good ones"), ("0", "scrap"), ("0", "set up")):
        page.wait_for_selector(".count-pad")
        note(f"count: {stage}")
        tap_count(page, number)
    page.wait_for_selector(".samples")
    note("count: samples")
    page.click(".samples .key:not(.main)")
    page.wait_for_selector(".samples .field")
    note("which test")
    page.click(".samples .tell-keys .key >> nth=0")
    page.wait_for_selector(".samples .field", state="detached")
    note("where the samples are")
    page.click(".samples .tell-keys .key >> nth=0")
    tap_count(page, "1")
    page.click(".samples .main")
    page.wait_for_selector(".count-pad")
    note("count: inside")
    page.click(".count-asked .key:not(.main)")
    page.wait_for_selector(".before-stored")
    note("the count before it is stored")
    page.click(".before-stored .main")
    page.wait_for_selector(".counted-stint")
    note("a stint counted")
    page.click(".machine-foot .key >> nth=1")
    page.wait_for_selector(".tell-keys")
    note("more to count")
    for place in range(page.locator(".tell-keys .key").count()):
        page.click(f".tell-keys .key >> nth={place}")
        note(f"more to count, {place + 1}")
        page.click(".machine-foot .key >> nth=0")
        page.wait_for_selector(".tell-keys")
    page.click(".machine-foot .key >> nth=-2")
    page.wait_for_selector(".machine-head .main")
    page.click(".machine-head .main")
    page.wait_for_selector(".stint-with")
    note("beginning of a stint")
