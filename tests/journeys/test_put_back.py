# SPDX-License-Identifier: Apache-2.0
"""A server put back to a copy of an hour ago: the tablets bring back what they hold, the server's own words too."""

from __future__ import annotations

import shutil
import sqlite3

import pytest
from playwright.sync_api import Browser, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import WHOLE_DEMO, Served

pytestmark = pytest.mark.browser


def column(served: Served, question: str) -> list[object]:
    with sqlite3.connect(served.data / "works.db") as connection:
        return [row[0] for row in connection.execute(question)]


HELD = (
    "SELECT device FROM devices ORDER BY device",
    "SELECT sign_on FROM sign_ons WHERE proven ORDER BY sign_on",
    "SELECT id FROM finds ORDER BY id",
)


def test_hazard_e6_a_tablet_enrolled_behind_the_copy_loses_nothing(browser: Browser, served: Served) -> None:
    contexts = [new_tablet(browser) for _ in range(2)]
    keeper, late = (Hands.at(context, served.address) for context in contexts)
    keeper.enrol()
    keeper.sign_on()
    keeper.take_up()
    keeper.wait_until_confirmed()
    served.stop()
    copy = served.data.parent / "works.copy"
    shutil.copyfile(served.data / "works.db", copy)
    served.start_again()

    late.enrol()
    late.sign_on("Piotr Zielny")
    late.take_up()
    late.begin_tray(1)
    late.find_several(12)
    late.wait_until_confirmed()
    held = [column(served, question) for question in HELD]
    for _ in range(2):  # the second was asked for behind all of that
        with keeper.page.expect_response(lambda answer: "/sync/pull" in answer.url):
            pass
    served.stop()
    for file in served.data.glob("works.db*"):
        file.unlink()
    shutil.copyfile(copy, served.data / "works.db")
    now = [column(served, question) for question in HELD]
    assert [len(before) - len(after) for before, after in zip(held, now, strict=True)] == [1, 1, 12]
    served.start_again()

    for _ in range(900):
        if [column(served, question) for question in HELD] == held:
            break
        late.page.wait_for_timeout(100)
    late.wait_until_confirmed()
    assert [column(served, question) for question in HELD] == held
    assert served.run("verify").stdout == WHOLE_DEMO
    expect(late.page.get_by_label("Defect keys")).to_be_visible()
    for context in contexts:
        context.close()
