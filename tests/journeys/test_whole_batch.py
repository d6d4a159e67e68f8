# SPDX-License-Identifier: Apache-2.0
"""One batch from counting in to the release: two tablets without contact, two looks, and all that can happen."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.hands import DEMO_PINS, Hands
from tests.journeys.test_batch_page import BATCH, second, standing
from tests.journeys.test_looks import begin_and_close, sign, type_number
from tests.served import Served

pytestmark = pytest.mark.browser


def count_in(hands: Hands, look: str, full: int, last: int) -> None:
    """The lead, who does not look, says how many pieces lie in which trays."""
    hands.press("Batches")
    hands.take_up(look=look)
    hands.press("Count in")
    type_number(hands, full)
    hands.press("Go on")
    if last:
        type_number(hands, last)
        hands.press("Go on")
    else:
        hands.press("All are full")
    hands.press("Store this count")
    expect(hands.page.get_by_role("heading", name="Counted in and stored")).to_be_visible()
    hands.press("Trays")
    hands.wait_until_confirmed()


def not_sure(hands: Hands) -> None:
    hands.press(re.compile("^Not sure"))
    expect(hands.page.locator(".last-find")).to_contain_text("stored")


def rework_out_and_back(hands: Hands) -> None:
    """One piece goes to rework and comes back, and is looked at as new."""
    hands.press("Rework out and back")
    for act in ("Send to rework", "Back from rework"):
        hands.press(act)
        type_number(hands, 1)
        hands.press("Store this count")
    hands.page.locator(".rework .tile").click()
    hands.press("Accept")
    expect(hands.page.get_by_text("No piece of this look is for rework now.")).to_be_visible()
    hands.press("Trays")


def lift_all(hands: Hands, reason: str) -> None:
    """The lead asks for every hold of the batch to be lifted."""
    choose = hands.page.get_by_role("button", name="Choose for the lift")
    for left in reversed(range(choose.count())):
        choose.first.click()
        expect(choose).to_have_count(left)
    hands.page.get_by_label("Why it is lifted").fill(reason)
    hands.page.get_by_label("PIN of Jonas Falk, for this alone").last.fill(DEMO_PINS["Jonas Falk"])
    hands.press("Ask for the lift")
    expect(hands.page.get_by_text("Asked, waits for a second name").first).to_be_visible()


def test_a_batch_is_looked_at_twice_to_the_piece_and_complete_only_then(
    hands: Hands, other: Hands, served: Served
) -> None:
    hands.enrol()
    hands.sign_on("Jonas Falk")
    count_in(hands, "First look", 3, 0)
    hands.hand_over("Ines Brandt")
    other.enrol()
    other.sign_on("Maren Holt")
    other.take_up()
    expect(other.page.locator(".tray-card")).to_have_count(3)
    other.picture("whole_batch_01_counted_in")

    # Both without contact: an undo, a query, a piece for rework here; a critical find there.
    for one in (hands, other):
        one.lose_contact()
    hands.begin_tray(1)
    hands.find("Underfill")
    hands.find("Burn")
    hands.undo()
    hands.find("Staining")
    hands.press(re.compile("^Rework"))
    not_sure(hands)
    hands.picture("whole_batch_02_tally_offline")
    hands.end_tray()
    hands.picture("whole_batch_03_tray_closed_offline")
    other.begin_tray(2)
    other.find("Lap")
    other.picture("whole_batch_04_critical_find")
    other.end_tray()
    begin_and_close(other, 3)

    # Signed before the other tablet's finds came: they are late, and the look says so.
    hands.find_contact()
    hands.wait_until_confirmed()
    hands.press("End of this look")
    sign(hands, "Ines Brandt")
    expect(hands.page.get_by_text("Complete: nothing is open in this look.")).to_have_count(0)
    other.find_contact()
    other.wait_until_confirmed()
    expect(hands.page.get_by_text(re.compile("^Signed before \\d+ records came: sign again"))).to_be_visible()
    hands.picture("whole_batch_05_signed_before_these_came")
    for one in (hands, other):
        if one is hands:
            one.press("Trays")
        expect(one.page.locator(".look-numbers dd")).to_have_text(["180", "0", "180"])
    rework_out_and_back(hands)
    hands.wait_until_confirmed()

    # The lead settles the query; the critical find and the limit it broke are lifted by two.
    hands.hand_over("Jonas Falk")
    standing(hands, "Critical")
    hands.picture("whole_batch_06_to_decide")
    hands.press("Holds")
    hands.press("Accept")
    expect(hands.page.get_by_text("Granted. It holds now.")).to_be_visible()
    expect(hands.page.get_by_text("Critical find: Lap")).to_be_visible()
    expect(hands.page.get_by_text(re.compile("limit", re.IGNORECASE)).first).to_be_visible()
    hands.picture("whole_batch_07_holds")
    lift_all(hands, "A shadow, looked at with a lens")
    second(other, "Piotr Zielny")
    other.picture("whole_batch_08_lifted_by_two")

    hands.hand_over("Ines Brandt")
    hands.press("Batches")
    hands.take_up()
    hands.press("End of this look")
    sign(hands, "Ines Brandt")
    expect(hands.page.get_by_text("Complete: nothing is open in this look.")).to_be_visible()
    expect(hands.page.locator(".tray-numbers dd")).to_have_text(["180", "180", "178", "2", "0", "0"])
    hands.picture("whole_batch_09_first_look_complete")
    hands.wait_until_confirmed()

    # The second look, by other eyes, sees nothing of the first.
    other.hand_over("Jonas Falk")
    count_in(other, "Second look", 2, 58)
    # Lifted or not: the batch is flagged.
    standing(other, "Above the limit")
    other.picture("whole_batch_10_flagged")
    other.hand_over("Piotr Zielny")
    other.press("Batches")
    other.take_up(look="Second look")
    other.begin_tray(1)
    assert other.marked() == 0
    other.picture("whole_batch_11_second_look_is_blind")
    other.end_tray()
    begin_and_close(other, 2)
    begin_and_close(other, 3, empty=2)
    other.press("End of this look")
    sign(other, "Piotr Zielny")
    expect(other.page.get_by_text("Complete: nothing is open in this look.")).to_be_visible()
    other.picture("whole_batch_12_second_look_complete")
    other.wait_until_confirmed()

    # The other tablet folds the first look to the same numbers, and so does the server.
    other.press("Batches")
    other.take_up()
    other.press("End of this look")
    expect(other.page.locator(".tray-numbers dd")).to_have_text(["180", "180", "178", "2", "0", "0"])
    expect(other.page.get_by_text("Complete: nothing is open in this look.")).to_be_visible()
    hands.hand_over("Jonas Falk")
    standing(hands, "Above the limit")
    hands.press(re.compile(BATCH))
    expect(hands.page.get_by_text("0 possible, 0 not.", exact=False)).to_be_visible()
    expect(hands.page.get_by_role("button", name="Ask for the release")).to_be_visible()
    hands.picture("whole_batch_13_may_be_released")
    checked = served.run("rebuild", "--check")
    assert (checked.returncode, checked.stdout) == (0, "The rows are what the log says.\n")
