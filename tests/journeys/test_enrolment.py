# SPDX-License-Identifier: Apache-2.0
"""A tablet is made known with a code that somebody reads out and somebody types, once."""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.hands import Hands
from tests.served import Served

pytestmark = pytest.mark.browser


def type_code(hands: Hands, code: str) -> None:
    """Type a name with the keyboard and the code with the keys on the screen."""
    hands.page.get_by_label("Name of this tablet").fill("Bench 2")
    for character in code.strip().replace("-", ""):
        hands.page.get_by_role("button", name=character, exact=True).click()
    hands.press("Make it known")


def test_a_typed_code_makes_the_tablet_known(hands: Hands, served: Served) -> None:
    type_code(hands, served.run("code").stdout)
    expect(hands.page.get_by_role("heading", name="Who works here now?")).to_be_visible()
    expect(hands.page.get_by_role("button", name="Ines Brandt")).to_be_visible()


def test_a_code_that_was_used_is_refused_in_words_and_the_next_one_works(hands: Hands, served: Served) -> None:
    code = served.run("code").stdout
    used = Hands.at(hands.context.browser.new_context(), served.address)
    type_code(used, code)
    expect(used.page.get_by_role("heading", name="Who works here now?")).to_be_visible()
    used.context.close()

    type_code(hands, code)
    alert = hands.page.get_by_role("alert")
    expect(alert).to_be_visible()
    expect(alert).not_to_contain_text("code-refused")
    for _ in range(8):
        hands.press("Rub out")
    type_code(hands, served.run("code").stdout)
    expect(hands.page.get_by_role("heading", name="Who works here now?")).to_be_visible()


def test_a_code_is_not_asked_of_anybody_twice(hands: Hands, served: Served) -> None:
    type_code(hands, served.run("code").stdout)
    expect(hands.page.get_by_role("heading", name="Who works here now?")).to_be_visible()
    hands.page.reload()
    expect(hands.page.get_by_role("heading", name="Who works here now?")).to_be_visible()


def test_a_code_typed_without_contact_is_answered_and_still_good(hands: Hands, served: Served) -> None:
    code = served.run("code").stdout
    hands.lose_contact()
    type_code(hands, code)
    expect(hands.page.get_by_role("alert")).to_be_visible()
    hands.find_contact()
    hands.press("Make it known")
    expect(hands.page.get_by_text("Who works here now?")).to_be_visible()
