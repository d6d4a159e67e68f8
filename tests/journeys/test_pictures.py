# SPDX-License-Identifier: Apache-2.0
"""A picture of a piece nobody was sure of: taken without contact, seen at the bench, sent, seen by the lead."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import Locator, Route, expect

from tests.hands import DEMO_PINS, REPEAT_MS, Hands
from tests.served import Served
from tests.server.files.attaching import noisy, picture

pytestmark = pytest.mark.browser

KEPT_FREE_BYTES = 8 * 1024 * 1024  # what journal/photos.ts leaves for records
SHOT = picture((2400, 1800), exif=b"Exif\x00\x00MM\x00*\x00\x00\x00\x08\x00\x00")


def begin(hands: Hands) -> None:
    hands.enrol()
    hands.sign_on("Ines Brandt")
    hands.take_up()
    hands.begin_tray(1)


def mark_not_sure(hands: Hands) -> None:
    hands.press(re.compile("^Not sure"))
    expect(hands.page.locator(".last-find .is-stored")).to_be_visible()
    hands.page.wait_for_timeout(REPEAT_MS)


def mark(hands: Hands, word: str) -> None:
    key = hands.page.get_by_role("button", name=re.compile(f"^{word}, "))
    key.click()
    expect(key.locator(".key-said")).to_have_text("stored")
    hands.page.wait_for_timeout(REPEAT_MS)


def take_picture(hands: Hands, shot: bytes = SHOT, name: str = "IMG_0001.JPG") -> None:
    with hands.page.expect_file_chooser() as chooser:
        hands.page.locator(".picture-key").click()
    chooser.value.set_files({"name": name, "mimeType": "image/jpeg", "buffer": shot})


def width_of(image: Locator) -> int:
    """How wide the picture itself is; 0 while it has not come."""
    return int(image.evaluate("async (image) => { await image.decode(); return image.naturalWidth; }"))


def test_hazard_a15_a_picture_taken_without_contact_is_seen_at_the_bench_sent_and_seen_by_the_lead(
    hands: Hands, served: Served
) -> None:
    page = hands.page
    begin(hands)
    hands.wait_until_confirmed()
    served.stop()
    mark_not_sure(hands)
    take_picture(hands)
    shown = page.locator(".picture-key img")
    expect(shown).to_be_visible()
    assert shown.get_attribute("src").startswith("blob:")
    assert width_of(shown) == 1600
    page.reload()
    expect(page.locator(".picture-key img")).to_be_visible()
    hands.picture("picture_without_contact")
    served.start()
    hands.wait_until_confirmed(timeout_ms=80_000)
    checked = served.run("verify")
    # The demo's part is a file, too.
    assert "2 files are here and whole, 0 that records name are missing." in checked.stdout, checked.stdout

    hands.press("Trays")
    hands.hand_over("Jonas Falk")
    expect(page.locator("button.person")).to_contain_text("Jonas Falk")
    hands.press("Holds")
    seen = page.locator(".picture img")
    expect(seen).to_be_visible()
    assert width_of(seen) == 1600
    page.locator(".picture").click()
    hands.picture("picture_seen_by_the_lead")
    assert "/copy" in (seen.get_attribute("src") or "")


def test_the_lead_is_told_of_a_picture_that_has_not_come(hands: Hands, other: Hands) -> None:
    begin(hands)
    hands.context.route("**/parts*", lambda route: route.abort())
    mark_not_sure(hands)
    take_picture(hands)
    expect(hands.page.get_by_text("1 picture waits")).to_be_visible()
    other.enrol()
    other.sign_on("Jonas Falk", DEMO_PINS["Jonas Falk"])
    other.press("Holds")
    expect(other.page.get_by_text("Picture: not here yet")).to_be_visible()
    hands.context.unroute("**/parts*")
    expect(hands.page.get_by_text("1 picture waits")).to_have_count(0)
    expect(other.page.locator(".picture img")).to_be_visible()


def test_where_the_camera_is_refused_the_piece_is_marked_all_the_same(hands: Hands) -> None:
    page = hands.page
    begin(hands)
    mark_not_sure(hands)
    # What a browser says to a page whose camera or chooser was refused or closed: nothing but this.
    page.locator(".picture-file").dispatch_event("cancel")
    expect(page.get_by_text("No picture was taken. The mark stands without one.")).to_be_visible()
    hands.picture("picture_refused")
    hands.press("Go on")
    mark(hands, "Lap")
    hands.wait_until_confirmed()
    assert sum("defect_tallied" in line for line in hands.journal()) == 2
    assert not any("photo_attached" in line for line in hands.journal())


def test_what_is_no_picture_is_said_and_the_mark_stands(hands: Hands) -> None:
    begin(hands)
    mark_not_sure(hands)
    take_picture(hands, b"<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>")
    expect(hands.page.get_by_text("This picture could not be read.")).to_be_visible()
    mark(hands, "Burn")
    expect(hands.page.get_by_text("This picture could not be read.")).to_have_count(0)


def test_hazard_a8_where_the_store_is_nearly_full_pictures_stop_and_marks_go_on(
    hands: Hands, served: Served
) -> None:
    page = hands.page
    begin(hands)
    hands.wait_until_confirmed()
    mark_not_sure(hands)
    # The app is kept: nothing but the picture and the marks asks for room, and for weeks of marks there is some.
    hands.wait_until_kept()
    used = page.evaluate("async () => (await navigator.storage.estimate()).usage")
    session = hands.context.new_cdp_session(page)
    quota = {"origin": f"{served.address}/", "quotaSize": used + KEPT_FREE_BYTES}
    session.send("Storage.overrideQuotaForOrigin", quota)
    take_picture(hands, noisy(1200))
    expect(page.get_by_text("No room for pictures on this tablet. Marks go on.")).to_be_visible()
    hands.picture("picture_no_room")
    hands.press("Go on")
    mark(hands, "Lap")
    mark(hands, "Burn")
    hands.wait_until_confirmed()
    assert sum("defect_tallied" in line for line in hands.journal()) == 3
    assert not any("photo_attached" in line for line in hands.journal())


def test_a_new_process_goes_on_with_a_picture_that_was_half_sent(hands: Hands) -> None:
    page = hands.page
    begin(hands)
    mark_not_sure(hands)
    sent: list[str] = []

    def second_part_is_lost(route: Route) -> None:
        request = route.request
        if request.method == "POST":
            sent.append(request.url.partition("offset=")[2])
            if len(sent) == 2:
                route.abort()
                page.context.set_offline(True)
                return
        route.continue_()

    hands.context.route("**/parts*", second_part_is_lost)
    take_picture(hands, noisy(1200))
    page.wait_for_timeout(1500)
    assert sent[:1] == ["0"]
    page.reload()
    page.context.set_offline(False)
    expect(page.get_by_text("1 picture waits")).to_have_count(0)
    assert "0" not in sent[1:]
