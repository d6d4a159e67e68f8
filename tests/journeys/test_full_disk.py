# SPDX-License-Identifier: Apache-2.0
"""The server's disk is full in the middle of a tray: the hand goes on, the screen says so, all of it arrives."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import WHOLE_DEMO, Served, free_port
from tests.small_disk import small_disk

pytestmark = pytest.mark.browser


def test_marks_made_while_the_servers_disk_is_full_are_said_to_wait_and_arrive_later(
    browser: Browser, tmp_path: Path
) -> None:
    with small_disk(tmp_path / "disk", 8) as disk:
        served = Served(disk.folder / "works", free_port())
        served.start()
        context = new_tablet(browser)
        hands = Hands.at(context, served.address)
        hands.enrol()
        hands.sign_on()
        hands.take_up()
        hands.begin_tray(1)
        hands.find_several(3)
        hands.wait_until_confirmed()
        disk.fill()
        hands.find_several(4)
        expect(hands.page.get_by_text("the server cannot store anything", exact=False)).to_be_visible()
        expect(hands.page.get_by_text("Look here", exact=False)).to_be_visible()
        hands.picture("full_disk")
        assert hands.marked() == 7
        disk.make_room()
        hands.find_several(1)
        hands.wait_until_confirmed()
        expect(hands.page.get_by_text("the server cannot store anything", exact=False)).not_to_be_visible()
        context.close()
        served.stop(signal.SIGTERM)
        assert served.run("verify").stdout == WHOLE_DEMO
