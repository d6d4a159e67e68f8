# SPDX-License-Identifier: Apache-2.0
"""A look from counting in to its signature, on one tablet and on two."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import DEMO_PINS, Hands
from tests.served import Served

pytestmark = pytest.mark.browser


@pytest.fixture
def tablets(browser: Browser, served: Served) -> Iterator[tuple[Hands, Hands]]:
    """Two tablets of one works."""
    contexts = [new_tablet(browser) for _ in range(2)]
    yield Hands.at(contexts[0], served.address), Hands.at(contexts[1], served.address)
    for context in contexts:
        context.close()


def type_number(hands: Hands, number: int) -> None:
    for digit in str(number):
        hands.page.get_by_role("button", name=digit, exact=True).click()


def count_in(hands: Hands, full: int, last: int) -> None:
    """Count the batch in: full trays by their number, and the pieces of one more; back to the trays."""
    hands.press("Count in")
    type_number(hands, full)
    hands.press("Go on")
    type_number(hands, last)
    hands.press("Go on")
    hands.press("Store this count")
    expect(hands.page.get_by_role("heading", name="Counted in and stored")).to_be_visible()
    hands.press("Trays")


def begin_and_close(hands: Hands, number: int, empty: int = 0) -> None:
    hands.begin_tray(number)
    hands.end_tray(empty)


def sign(hands: Hands, person: str) -> None:
    hands.page.get_by_label(f"PIN of {person}, for this alone").fill(DEMO_PINS[person])
    hands.press("Sign this look")
    expect(hands.page.get_by_text("Signed and stored")).to_be_visible()


def test_a_scan_opens_its_batch_wherever_the_focus_is_and_presses_no_key(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    expect(page.locator(".tile").first).to_be_visible()
    page.get_by_role("button", name="Pareto").focus()
    hands.send("NO-SUCH 1")
    expect(page.get_by_text("No batch has “NO-SUCH 1” in its number", exact=False)).to_be_visible()
    page.get_by_role("button", name="Pareto").focus()
    hands.send("SK70-0501")
    expect(page.get_by_role("heading", name="Which look?")).to_be_visible()


def test_a_batch_is_counted_in_before_any_other_number_is_shown(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Maren Holt")
    hands.press(re.compile("SK70-0501"))
    hands.press(re.compile("First look"))
    expect(page.get_by_text("Not counted in yet", exact=False)).to_be_visible()
    assert "240" not in page.locator("main").inner_text()
    hands.press("Count in")
    type_number(hands, 2)
    hands.press("Go on")
    type_number(hands, 58)
    hands.press("Go on")
    expect(page.get_by_role("heading", name="178 pieces in 3 trays")).to_be_visible()

    # A number is put right before it is stored.
    hands.press(re.compile("^Tray 2"))
    type_number(hands, 59)
    hands.press("Take this number")
    expect(page.get_by_role("heading", name="177 pieces in 3 trays")).to_be_visible()
    assert "240" not in page.locator("main").inner_text()
    hands.press("Store this count")
    numbers = page.locator(".tray-numbers dd")
    expect(numbers).to_have_text(["177", "240"])

    hands.press("Trays")
    expect(page.locator(".look-numbers dd")).to_have_text(["0", "177", "177"])
    expect(page.get_by_role("button", name=re.compile("^Begin tray 1"))).to_have_count(2)
    expect(page.locator(".tray-card")).to_have_count(3)


def test_two_tablets_see_each_others_trays_and_one_takes_a_tray_over(tablets: tuple[Hands, Hands]) -> None:
    first, second = tablets
    first.enrol()
    first.sign_on("Maren Holt")
    first.take_up()
    count_in(first, 2, 58)
    first.hand_over("Ines Brandt")
    first.begin_tray(1)
    first.find("Underfill")
    first.wait_until_confirmed()

    second.enrol()
    second.sign_on("Piotr Zielny")
    second.take_up()
    card = second.page.locator(".tray-card").first
    expect(card).to_contain_text("open on Demo tablet")
    second.press("Take over tray 1")
    expect(second.page.get_by_text("Nobody has left this tray", exact=False)).to_be_visible()
    second.press(re.compile("^From its first place"))
    expect(second.page.get_by_label("Defect keys")).to_be_visible()
    second.end_tray(empty=2)
    expect(second.page.locator(".tray-card").first).to_contain_text("closed, 58 pieces looked at")
    expect(second.page.get_by_text("Tray 1: 2 fewer looked at than due.")).to_be_visible()
    second.wait_until_confirmed()

    first.press("Trays")
    expect(first.page.locator(".tray-card").first).to_contain_text("closed, 58 pieces looked at")
    expect(first.page.locator(".look-numbers dd")).to_have_text(["58", "120", "178"])


def test_a_tray_begun_offline_on_two_tablets_is_named_and_merged_with_nothing(
    tablets: tuple[Hands, Hands],
) -> None:
    first, second = tablets
    first.enrol()
    first.sign_on("Maren Holt")
    first.take_up()
    count_in(first, 1, 55)
    first.wait_until_confirmed()
    for hands, person in ((first, "Ines Brandt"), (second, "Piotr Zielny")):
        if hands is second:
            hands.enrol()
            hands.sign_on(person)
            hands.take_up()
        else:
            hands.hand_over(person)
        expect(hands.page.locator(".tray-card")).to_have_count(2)
        hands.lose_contact()
        begin_and_close(hands, 2, empty=5)
    for hands in tablets:
        hands.find_contact()
        hands.wait_until_confirmed()
    for hands in tablets:
        said = "Tray 2 was closed twice: 55 more looked at than due."
        expect(hands.page.get_by_text(said)).to_be_visible()
        card = hands.page.locator(".tray-card").nth(1)
        expect(card.get_by_text("closed, 55 pieces looked at", exact=False)).to_have_count(2)
        expect(card.get_by_text("begun on Demo tablet", exact=False)).to_have_count(2)


def test_a_look_is_signed_at_any_time_and_complete_only_when_nothing_is_open(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Maren Holt")
    hands.take_up()
    count_in(hands, 1, 58)
    hands.hand_over("Ines Brandt")
    begin_and_close(hands, 1)
    hands.press("End of this look")
    expect(page.get_by_text("1 tray is not begun")).to_be_visible()
    expect(page.get_by_text("The look is not signed.")).to_be_visible()
    hands.press("Sign this look")
    expect(page.get_by_text("The PIN is missing", exact=False)).to_be_visible()
    sign(hands, "Ines Brandt")
    expect(page.get_by_text("Signed by Ines Brandt")).to_be_visible()
    expect(page.get_by_text("Complete: nothing is open in this look.")).to_have_count(0)

    hands.press("Trays")
    begin_and_close(hands, 2, empty=2)
    hands.press("End of this look")
    expect(page.get_by_text("Signed before 2 records came: sign again.")).to_be_visible()
    sign(hands, "Ines Brandt")
    expect(page.get_by_text("Complete: nothing is open in this look.")).to_be_visible()
    hands.wait_until_confirmed()


def test_a_wrong_pin_signs_nothing(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.press("End of this look")
    page.get_by_label("PIN of Ines Brandt, for this alone").fill("9999")
    hands.press("Sign this look")
    expect(page.get_by_text("A signature does not count yet: its author is not proven.")).to_be_visible()
    hands.wait_until_confirmed()
    expect(page.get_by_text("Signed by", exact=False)).to_have_count(0)


def test_reworked_pieces_are_counted_out_and_back_and_looked_at_as_new(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.press(re.compile("^Not sure"))
    hands.wait_until_confirmed()
    hands.end_tray()
    hands.wait_until_confirmed()
    hands.hand_over("Jonas Falk")
    hands.press("Holds")
    hands.press("Rework")
    expect(page.get_by_text("Granted. It holds now.")).to_be_visible()

    hands.press("Batches")
    hands.take_up()
    hands.press("Rework out and back")
    expect(page.get_by_text("They are looked at as new once they are counted back.")).to_be_visible()
    hands.press("Send to rework")
    type_number(hands, 1)
    hands.press("Store this count")
    expect(page.locator(".look-numbers dd")).to_have_text(["1", "1", "0"])
    hands.press("Back from rework")
    type_number(hands, 1)
    hands.press("Store this count")
    expect(page.locator(".look-numbers dd")).to_have_text(["1", "1", "1"])
    page.locator(".rework .tile").click()
    expect(page.get_by_text("Look at all of it, as if it were a new piece.")).to_be_visible()
    hands.press("Accept")
    expect(page.get_by_text("No piece of this look is for rework now.")).to_be_visible()
    hands.press("Trays")
    hands.press("End of this look")
    expect(page.locator(".tray-numbers dd")).to_have_text(["60", "60", "0", "0", "0"])


def test_a_reworked_piece_is_rejected_with_its_word_and_place_in_its_second_round(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.find("Staining")
    hands.press(re.compile("^Rework"))
    hands.end_tray()
    hands.press("Rework out and back")
    for act in ("Send to rework", "Back from rework"):
        hands.press(act)
        type_number(hands, 1)
        hands.press("Store this count")
    page.locator(".rework .tile").click()
    hands.press("Reject")
    hands.press("Trim nick")
    expect(page.get_by_role("heading", name="Trim nick: where?")).to_be_visible()
    hands.press("flank")
    expect(page.get_by_text("No piece of this look is for rework now.")).to_be_visible()
    hands.press("Trays")
    hands.press("End of this look")
    expect(page.locator(".tray-numbers dd")).to_have_text(["60", "59", "1", "0", "0"])
    marks = [one for one in map(json.loads, hands.journal()) if one["kind"] == "defect_tallied"]
    said = [(mark["body"]["defect"], mark["body"].get("zone"), mark["body"].get("round")) for mark in marks]
    assert said == [("staining", None, None), ("trim_nick", "flank", 2)]
    assert marks[1]["body"]["piece"] == f"{marks[0]['chain']}:{marks[0]['n']}"


def test_at_the_second_look_the_next_tray_is_offered_to_other_eyes_first(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Maren Holt")
    hands.take_up()
    count_in(hands, 1, 58)
    hands.hand_over("Ines Brandt")
    begin_and_close(hands, 1)
    hands.hand_over("Maren Holt")
    hands.press("Batches")
    hands.take_up(look="Second look")
    count_in(hands, 1, 58)
    hands.wait_until_confirmed()
    hands.hand_over("Ines Brandt")
    expect(page.get_by_text("You had 60 of 60 pieces of this batch in hand", exact=False)).to_be_visible()
    order = page.locator(".hand-out li")
    expect(order.first).to_have_text("Piotr Zielny no piece of it meets the same eyes again")
    expect(order.nth(1)).to_have_text("Ines Brandt 60 pieces of it may meet the same eyes again")
    # It is an offer: nobody is kept from looking, and the lead decides by name.
    begin_and_close(hands, 1)
    hands.press("End of this look")
    expect(page.get_by_text("Ines Brandt looks a second time at 60 pieces at most", exact=False)).to_be_visible()
    hands.press("Trays")
    hands.hand_over("Piotr Zielny")
    expect(page.get_by_text("You had none of these pieces in hand at an earlier look.")).to_be_visible()


def test_strays_are_recorded_and_stand_among_the_differences(hands: Hands) -> None:
    page = hands.page
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)
    hands.press("Trays")
    hands.press("Foreign or found pieces")
    hands.press(re.compile("^A foreign piece"))
    page.get_by_label("In which tray it lay").select_option(label="Tray 1")
    type_number(hands, 1)
    hands.press("Store this count")
    expect(page.get_by_text("Stored. It stands among the differences")).to_be_visible()
    hands.press(re.compile("^A piece turned up"))
    type_number(hands, 2)
    hands.press("Store this count")
    expect(page.get_by_text("The place is missing", exact=False)).to_be_visible()
    page.get_by_label("Where it was").fill("under the bench")
    hands.press("Store this count")
    hands.press("Trays")
    expect(page.get_by_text("1 foreign piece lay among these.")).to_be_visible()
    expect(page.get_by_text("2 pieces turned up where none should be.")).to_be_visible()
