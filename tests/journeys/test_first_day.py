# SPDX-License-Identifier: Apache-2.0
"""The first day of a live works: the link of `init`, a first administrator, a tablet that is let in, a person."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.served import WHOLE, Served, free_port

pytestmark = pytest.mark.browser

ADA, PIN = "Ada Lind", "quay-side-9"


@pytest.fixture
def live(tmp_path: Path) -> Iterator[tuple[Served, str]]:
    """A works that `init` opened a moment ago, served, and the link it printed."""
    server = Served(tmp_path / "works", free_port(), "serve")
    done = server.run("init", "--name", "Skarvholm Forge", "--address", server.address)
    assert done.returncode == 0, done.stderr
    link = next(line for line in done.stdout.splitlines() if "#first=" in line)
    server.start()
    yield server, link
    server.stop()


@pytest.fixture
def contexts(browser: Browser) -> Iterator[list[BrowserContext]]:
    opened = [new_tablet(browser) for _ in range(2)]
    yield opened
    for context in opened:
        context.close()


def begin_works(context: BrowserContext, link: str) -> Hands:
    """Open the link, and become the first administrator."""
    page = context.new_page()
    page.goto(link)
    hands = Hands(context, page, link.split("/#")[0])
    # Such a window is closed to the browser's promise, as a private one is.
    expect(page.get_by_text("This browser does not promise to keep what is recorded.")).to_be_visible()
    hands.picture("first_not_kept")
    page.get_by_label("Name as it stands on signatures").fill(ADA)
    page.get_by_label("Name of this tablet").fill("Office")
    page.get_by_label("New PIN").fill(PIN)
    page.get_by_label("The same PIN again").fill(PIN)
    hands.press("Begin this works")
    expect(page.get_by_text("Who works here now?")).to_be_visible()
    hands.press(re.compile(ADA))
    page.get_by_label(f"PIN of {ADA}").fill(PIN)
    hands.press(re.compile("^Begin$"))
    expect(page.get_by_role("button", name="Devices")).to_be_visible()
    return hands


def test_from_the_link_of_init_to_a_second_tablet_and_a_person_with_an_own_pin(
    live: tuple[Served, str], contexts: list[BrowserContext]
) -> None:
    served, link = live
    office = begin_works(contexts[0], link)
    assert "first=" not in office.page.url

    office.press("Devices")
    office.press("Make a code for another tablet")
    expect(office.page.get_by_role("img", name="The address that fills the code in")).to_be_visible()
    code = office.page.locator(".new-code .compare").inner_text().replace(" ", "")

    # The camera of the new tablet opens the address with the code in it.
    page = contexts[1].new_page()
    page.goto(f"{served.address}/#code={code}")
    bench = Hands(contexts[1], page, served.address)
    page.get_by_label("Name of this tablet").fill("Bench 2")
    bench.press("Make it known")
    expect(page.get_by_text("An administrator has to say yes")).to_be_visible()
    number = page.locator(".compare").inner_text()
    expect(office.page.locator(".device-list .compare")).to_have_text(number)
    office.press("Let Bench 2 in")
    expect(office.page.get_by_text("Granted. It holds now.")).to_be_visible()
    expect(page.get_by_text("Who works here now?")).to_be_visible()

    office.press("People")
    office.press("Add a person")
    office.page.get_by_label("Name as it stands on signatures").fill("Nils Ode")
    office.press("inspector")
    office.press("Ask the server to add")
    expect(office.page.get_by_text("Granted. It holds now.")).to_be_visible()
    office.press(re.compile("Nils Ode"))
    office.press("Make a word for the PIN")
    word = office.page.locator(".compare").inner_text().replace(" ", "")

    bench.press(re.compile("Nils Ode"))
    bench.press("Set my PIN")
    page.get_by_label("Word from the administrator").fill(word)
    page.get_by_label("New PIN").fill("1234")
    page.get_by_label("The same PIN again").fill("1234")
    bench.press("Set this PIN")
    expect(page.get_by_text("This PIN is too short, or one that many people have")).to_be_visible()
    page.get_by_label("New PIN").fill("5291")
    page.get_by_label("The same PIN again").fill("5291")
    bench.press("Set this PIN")
    for digit in "5291":
        page.get_by_role("button", name=digit, exact=True).click()
    bench.press(re.compile("^Begin$"))
    expect(page.locator("button.person")).to_contain_text("Nils Ode")
    expect(page.locator("button.person")).not_to_contain_text("not")
    expect(page.get_by_role("button", name="Devices")).to_have_count(0)

    office.press("Devices")
    office.press("Revoke")
    expect(office.page.get_by_text("It reads nothing more")).to_be_visible()
    verified = served.run("verify")
    assert (verified.returncode, verified.stdout) == (0, WHOLE)


def test_the_link_opened_a_second_time_makes_nobody_an_administrator(
    live: tuple[Served, str], contexts: list[BrowserContext]
) -> None:
    _, link = live
    begin_works(contexts[0], link)
    page = contexts[1].new_page()
    page.goto(link)
    page.get_by_label("Name as it stands on signatures").fill("Somebody Else")
    page.get_by_label("Name of this tablet").fill("Elsewhere")
    page.get_by_label("New PIN").fill(PIN)
    page.get_by_label("The same PIN again").fill(PIN)
    page.get_by_role("button", name="Begin this works").click()
    expect(page.get_by_role("alert")).to_be_visible()
    expect(page.get_by_text("Who works here now?")).to_have_count(0)


def test_a_tablet_can_be_let_in_at_the_console(live: tuple[Served, str], contexts: list[BrowserContext]) -> None:
    served, _ = live
    code = served.run("code").stdout.strip()
    page = contexts[0].new_page()
    page.goto(f"{served.address}/#code={code}")
    page.get_by_label("Name of this tablet").fill("Bench 1")
    page.get_by_role("button", name="Make it known").click()
    number = page.locator(".compare").inner_text()
    wrong = served.run("approve", "--number", "000000")
    assert wrong.returncode == 2
    done = served.run("approve", "--number", number)
    assert (done.returncode, "Bench 1 is enrolled" in done.stdout) == (0, True), done.stderr
    expect(page.get_by_text("Who works here now?")).to_be_visible()


def test_a_tablet_that_is_turned_away_says_so_and_is_gone_from_the_list(
    live: tuple[Served, str], contexts: list[BrowserContext]
) -> None:
    served, link = live
    office = begin_works(contexts[0], link)
    office.press("Devices")
    page = contexts[1].new_page()
    page.goto(f"{served.address}/#code={served.run('code').stdout.strip()}")
    bench = Hands(contexts[1], page, served.address)
    page.get_by_label("Name of this tablet").fill("Bench 2")
    bench.press("Make it known")
    office.press("Turn Bench 2 away")
    expect(office.page.get_by_text("No tablet waits to be let in")).to_be_visible()
    expect(page.get_by_role("alert")).to_contain_text("it was turned away")
    expect(page.get_by_role("heading", name="Make this tablet known")).to_be_visible()
