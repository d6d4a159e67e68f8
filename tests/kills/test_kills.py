# SPDX-License-Identifier: Apache-2.0
"""Some browsers killed in the middle of a tap, and workers in the middle of a push; more of both by hand."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from playwright.sync_api import Playwright

from tests.kills import browser, many, server
from tests.kills.server import served_place

BROWSERS, WORKERS = 20, 20


@pytest.mark.browser
def test_what_was_shown_as_stored_is_found_behind_a_kill_and_nothing_comes_twice(
    playwright: Playwright, tmp_path: Path
) -> None:
    told = browser.kill_again_and_again(playwright, tmp_path, BROWSERS, seed=3)
    assert browser.is_right(told), told
    assert told["records shown as stored"] > 0
    assert told["kills in a first session"] > 0


@pytest.mark.parametrize("database", ["sqlite", "postgresql"])
def test_what_was_answered_is_in_the_log_behind_kills_and_the_rest_comes_once(
    request: pytest.FixtureRequest, tmp_path: Path, database: str
) -> None:
    address = request.getfixturevalue("postgres_address") if database == "postgresql" else None
    with served_place(tmp_path, address) as place:
        told = server.kill_again_and_again(place, WORKERS, random.Random(4))
    assert server.is_right(told), told
    assert told["without an answer"] > 0
    assert told["answered 200"] > 0


def test_a_server_that_is_stopped_inside_its_transaction_keeps_no_other_of_the_works_from_going_on(
    postgres_address: str, tmp_path: Path
) -> None:
    told = many.stopped(tmp_path, postgres_address, times=1)
    assert (told["lost"], told["missing"], told["doubled"]) == (0, 0, 0)
    assert told["finds made"] == told["finds counted"]
    assert set(told["answers"]) <= {"0", "200", "503"}
