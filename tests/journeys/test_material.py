# SPDX-License-Identifier: Apache-2.0
"""Goods-in and the saw, without contact: bars are received, judged and cut too early; the lead sees the hold."""

from __future__ import annotations

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.journeys.test_tally import bodies
from tests.served import Served

pytestmark = pytest.mark.browser

CAST = "C-4711"
MASS = "kilograms"
CERTIFICATE = b"%PDF-1.7 the certificate as it came, byte for byte"
INSIDE = {
    "Si": "0.95", "Fe": "0.31", "Cu": "0.05", "Mn": "0.55", "Mg": "0.8", "Cr": "0.15", "Zn": "<0.01", "Ti": "0.02",
}  # fmt: skip


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """An operator at goods-in."""
    context = new_tablet(browser)
    found = Hands.at(context, served.address)
    found.enrol()
    found.sign_on("Maren Holt")
    found.press("Goods-in")
    yield found
    context.close()


def fill(hands: Hands, fields: dict[str, str]) -> None:
    """Type into the fields of these names."""
    for name, text in fields.items():
        hands.page.get_by_label(name, exact=True).fill(text)


def count(hands: Hands, number: str, act: str) -> None:
    """Tap a number and the key that takes it."""
    for digit in number:
        hands.page.locator(".keypad-keys").get_by_role("button", name=digit, exact=True).click()
    hands.press(re.compile(f"^{act}$"))


def receive(hands: Hands, cast: str = CAST, counted: str = "12", stated: str = "15") -> None:
    """Bars come in: what stands on them, the count, and then the note."""
    hands.press("Bars have come")
    fill(hands, {"Cast": cast, "Alloy": "Skarv 60", "Temper": "T6", "Diameter or width, mm": "16", "Bay": "R4"})
    fill(hands, {"Length of a bar, mm": "4000", "Colour code": "green"})
    hands.press("Now count")
    expect(hands.page.get_by_text("delivery note say")).to_have_count(0)  # the note comes behind the count
    count(hands, counted, "Go on")
    fill(hands, {"Order": "B-118", "Delivery note": "L-2207"})
    count(hands, stated, "Store")
    expect(hands.page.get_by_role("heading", name=f"Cast {cast}")).to_be_visible()


def certificate(hands: Hands, values: dict[str, str], cast: str = CAST) -> None:
    """Type a certificate element by element, in the order of the works' limits; '' is not printed on it."""
    hands.press("Type the certificate")
    fill(hands, {"Cast, as the certificate prints it": cast})
    hands.press("To the elements")
    for element, value in values.items():
        expect(hands.page.get_by_role("heading", name=element, exact=True)).to_be_visible()
        for key in value:
            hands.page.locator(".keypad-keys").get_by_role("button", name=key, exact=True).click()
        hands.press("Next element" if value else "Not on the certificate")


def attach(hands: Hands, name: str, content: bytes) -> None:
    """Choose a file as the certificate's."""
    with hands.page.expect_file_chooser() as chooser:
        hands.press("Attach the certificate")
    chooser.value.set_files({"name": name, "mimeType": "application/octet-stream", "buffer": content})


def read_mark(hands: Hands) -> None:
    """Read the ends of all twelve bars, and find this cast on each."""
    hands.press("Read the bar ends")
    count(hands, "12", "Go on")
    hands.press("Yes, this cast")
    expect(hands.page.get_by_text("12 bar ends read: this cast.")).to_be_visible()


def test_bars_are_received_judged_and_cut_too_early(hands: Hands, other: Hands) -> None:
    hands.lose_contact()
    receive(hands)
    expect(hands.page.get_by_text("3 fewer than on the delivery note")).to_be_visible()
    expect(hands.page.get_by_text("Do not cut these bars")).to_be_visible()
    hands.picture("goods_received")
    certificate(hands, {**INSIDE, "Fe": "0.46", "Mg": ""})
    expect(hands.page.locator(".findings .is-out")).to_have_text(
        [re.compile("Fe.*0.46.*above"), re.compile("Mg.*missing")]
    )
    hands.picture("goods_certificate_out")
    hands.press("Store the certificate")
    expect(hands.page.get_by_text("Certificate out of its limits")).to_be_visible()
    attach(hands, "certificate.pdf", b"these bytes are no PDF")
    expect(hands.page.get_by_text("This file is neither a picture nor a PDF")).to_be_visible()
    attach(hands, "scan.bin", CERTIFICATE)
    expect(hands.page.get_by_role("button", name=re.compile("Attach the certificate.*1 file"))).to_be_visible()
    expect(hands.page.get_by_text("This file is neither")).to_have_count(0)
    read_mark(hands)
    hands.picture("goods_receipt_out")
    hands.press("Goods-in")
    hands.press("Bar ends for recycling")
    fill(hands, {"Alloy": "Skarv 60", "Container": "7", MASS: "12.4"})
    hands.press("Store")
    expect(hands.page.get_by_role("heading", name="Goods-in")).to_be_visible()
    hands.press(re.compile("^Batches"))
    hands.press(re.compile("SK70-0501"))
    hands.press(re.compile("Bars to this batch"))
    hands.picture("saw_which")
    hands.press(re.compile(CAST))
    expect(hands.page.get_by_role("heading", name=f"Do not cut cast {CAST}")).to_be_visible()
    hands.picture("saw_too_early")
    hands.press("It is cut all the same: record it")
    count(hands, "3", "Go on")
    fill(hands, {"Length of a piece, mm": "148", "Width of the cut, mm": "3"})
    expect(hands.page.get_by_text("A bar gives 26 pieces")).to_be_visible()
    hands.picture("saw_pieces")
    count(hands, "26", "Store")
    expect(hands.page.get_by_text("78 pieces")).to_be_visible()
    hands.picture("saw_issued")
    [issue] = bodies(hands, "bars_issued")
    assert (issue["bars"], issue["pieces_per_bar"]) == (3, 26)
    hands.find_contact()
    hands.wait_until_confirmed()
    other.enrol()
    other.sign_on("Jonas Falk")
    other.press(re.compile("^Holds"))
    expect(other.page.get_by_text(f"Cut before certificate and cast mark agreed: {CAST}")).to_be_visible()
    other.picture("goods_hold_of_the_lead")
    other.press("To decide")
    other.press("Metal and components")
    receipt = other.page.locator(".one-receipt")
    expect(receipt).to_contain_text("Counted: 12, Maren Holt")
    expect(receipt).to_contain_text("Fe 0.46")
    expect(receipt.get_by_role("button", name=re.compile("SK70-0501"))).to_be_visible()
    expect(other.page.get_by_text("Skarv 60 container 7 · 12.4 kg")).to_be_visible()
    with other.page.expect_download() as download:
        receipt.get_by_role("link", name="Certificate").click()
    assert download.value.path().read_bytes() == CERTIFICATE
    other.picture("goods_receipts_of_the_lead")


PRESSED_AT_ONCE = """(keys) => {
    const named = [...document.querySelectorAll('.keypad-keys .key')].map((one) => [one.innerText, one]);
    for (const key of keys) new Map(named).get(key).click();
}"""


def test_keys_pressed_faster_than_the_screen_is_drawn_are_all_typed(hands: Hands) -> None:
    hands.press("Bars have come")
    fill(hands, {"Cast": CAST, "Alloy": "Skarv 60", "Temper": "T6", "Diameter or width, mm": "16", "Bay": "R4"})
    fill(hands, {"Length of a bar, mm": "4000", "Colour code": "green"})
    hands.press("Now count")
    field = hands.page.locator(".keypad-field")
    expect(field).to_be_visible()
    hands.page.evaluate(PRESSED_AT_ONCE, ["1", "2", "1"])
    expect(field).to_have_value("121")


def test_bars_that_agree_are_cut_without_a_hold(hands: Hands) -> None:
    hands.lose_contact()
    receive(hands, stated="12")
    certificate(hands, INSIDE, "c 4711")
    hands.press("Store the certificate")
    read_mark(hands)
    expect(hands.page.get_by_text("Certificate and cast mark agree")).to_be_visible()
    hands.press("Goods-in")
    hands.press(re.compile("^Batches"))
    hands.press(re.compile("SK70-0501"))
    hands.press(re.compile("Bars to this batch"))
    hands.press(re.compile(CAST))
    count(hands, "3", "Go on")
    hands.press("Not counted yet")
    expect(hands.page.locator(".issues li")).to_have_count(1)
    hands.press("A remnant goes back")
    fill(hands, {"Length of each remnant, mm": "71,5"})
    count(hands, "2", "Go on")
    hands.press("Yes, all are marked")
    [remnant] = bodies(hands, "remnant_returned")
    assert (remnant["length"], remnant["bars"], remnant["marked"]) == ("71.5", 2, True)
    hands.find_contact()
    hands.wait_until_confirmed()


def test_a_lot_of_components_is_counted_before_its_note_is_read(hands: Hands) -> None:
    hands.press("Components have come")
    fill(hands, {"Component": "Rivet 6 mm", "Lot": "R-12", "Supplier": "Nordbolt (demo)"})
    hands.press("Now count")
    count(hands, "498", "Go on")
    count(hands, "500", "Store")
    expect(hands.page.get_by_text("2 fewer than on the delivery note")).to_be_visible()
    [received] = bodies(hands, "components_received")
    assert received == {
        "component": "rivet_6_mm", "lot": "R-12", "supplier": "Nordbolt (demo)", "counted": 498, "stated": 500,
    }  # fmt: skip
