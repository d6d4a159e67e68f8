# SPDX-License-Identifier: Apache-2.0
"""An operator at the forge, without contact: first-offs, the next check by pieces made, one out of its limits."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser, Locator, expect

from tests.browser import new_tablet
from tests.hands import Hands
from tests.journeys.test_tally import COUNT_TAPS, bodies, taps
from tests.reach import Box, way_seconds
from tests.screens import Screen, height, width
from tests.served import Served

pytestmark = pytest.mark.browser

# What a routine check may cost: its taps, and the whole of its time; a hand on its way is a small part of that.
MOST_TAPS, MOST_SECONDS = 14, 30.0
FORGE = "Heat and hot forge"
KEY_WIDTH, KEY_HEIGHT = 189, 126
TABLETS = ((1280, 800), (800, 1280))
SIZES = (*TABLETS, (320, 900))


@pytest.fixture
def hands(browser: Browser, served: Served) -> Iterator[Hands]:
    """An operator before the operations of the batch."""
    context = new_tablet(browser)
    context.add_init_script(COUNT_TAPS)
    found = Hands.at(context, served.address)
    found.enrol()
    found.sign_on("Maren Holt")
    to_the_machine(found)
    yield found
    context.close()


def to_the_machine(hands: Hands) -> None:
    """Before the operations of the batch, with what was recorded of it on the tablet."""
    hands.press(re.compile("SK70-0501"))
    hands.press(re.compile("At the machine"))
    expect(hands.page.get_by_role("heading", name="Which operation?")).to_be_visible()
    expect(not_here(hands)).to_have_count(0)


def not_here(hands: Hands) -> Locator:
    """The line that says that the batch's records have not come."""
    return hands.page.get_by_text("has not reached this tablet")


def type_in(hands: Hands, number: str) -> None:
    """Tap a number on the pad and store it."""
    pad = hands.page.locator(".number-pad, .keypad-keys, .count-pad")
    for key in number:
        pad.get_by_role("button", name=key, exact=True).click()
    hands.press(re.compile("^Store$"))


def begin(hands: Hands) -> None:
    """Begin at the forge."""
    hands.press(re.compile(FORGE))
    hands.press(re.compile("^Begin this operation"))
    expect(hands.page.locator(".check-entry")).to_be_visible()


def answer(hands: Hands, checks: dict[str, str]) -> str:
    """Answer the check that stands open, within its limits; returns its name."""
    name: str = hands.page.locator(".check-asked h1").inner_text()
    entry = hands.page.locator(".check-entry").element_handle()
    if hands.page.locator(".number-pad").count():
        type_in(hands, checks.get(name, "1"))
    else:
        hands.page.locator(".answers .main").click()
    # Stored, and another one open in its place, or none.
    entry.wait_for_element_state("hidden")
    return name


def open_check(hands: Hands, name: str) -> None:
    """Choose one of the checks that are due."""
    hands.press(re.compile("^All due"))
    hands.press(re.compile(f"^{name}"))
    expect(hands.page.locator(".check-asked h1")).to_contain_text(name)


VALUES = {
    "Forged thickness at parting line": "13.20",
    "Die mismatch": "0.12",
    "Flash thickness": "1.6",
    "Leg opening, cold": "34.0",
    "Compound concentration": "2.0",
    "Run time": "90",
    "Edge radius": "0.5",
    "Surface roughness Ra": "0.8",
}


def test_an_operator_at_the_forge_without_contact(hands: Hands) -> None:
    begin(hands)
    hands.lose_contact()
    hands.picture("machine_first_off")
    seen = []
    while hands.page.locator(".check-entry").count():
        seen.append(answer(hands, VALUES))
        assert len(seen) < 60
    assert {"Forged thickness at parting line", "Die mismatch"} <= set(seen)
    expect(hands.page.get_by_text("Nothing is due now")).to_be_visible()
    hands.picture("machine_nothing_due")
    hands.press("Pieces made")
    type_in(hands, "25")
    expect(hands.page.locator(".check-entry")).to_be_visible()
    hands.press(re.compile("^All due"))
    hands.press(re.compile("^Forged thickness"))
    hands.picture("machine_check_due")
    type_in(hands, "13.61")
    expect(hands.page.locator(".out")).to_contain_text("13.61 mm")
    hands.picture("machine_out")
    hands.press("Measure again")
    type_in(hands, "13.58")
    expect(hands.page.locator(".out")).to_be_visible()  # a good value beside a bad one makes it no good one
    hands.press("Stopped and put right")
    hands.picture("machine_reaction")
    type_in(hands, "25")
    expect(hands.page.locator(".out")).to_have_count(0)
    [reaction] = bodies(hands, "reaction_taken")
    assert reaction["pieces_back"] == 25
    values = [one["value"] for one in bodies(hands, "check_taken") if one["characteristic"] == 4]
    assert values[-2:] == ["13.61", "13.58"]
    hands.find_contact()
    hands.wait_until_confirmed()


def test_a_batch_whose_records_have_not_come_asks_for_its_first_offs_and_says_what_it_lacks(
    browser: Browser, served: Served
) -> None:
    context = new_tablet(browser)
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on("Maren Holt")
    hands.press(re.compile("SK70-0501"))
    hands.lose_contact()
    hands.press(re.compile("At the machine"))
    expect(not_here(hands)).to_be_visible()
    hands.picture("machine_not_here")
    begin(hands)
    expect(hands.page.locator(".role")).to_contain_text("First-off")
    expect(not_here(hands)).to_contain_text("Perhaps done already")
    expect(hands.page.locator(".exposure")).to_contain_text("not known")
    hands.picture("machine_first_off_not_here")
    hands.find_contact()
    expect(not_here(hands)).to_have_count(0)
    expect(hands.page.locator(".check-entry")).to_be_visible()
    context.close()


def test_a_number_told_by_mistake_is_taken_back(hands: Hands) -> None:
    begin(hands)
    done = hands.page.get_by_role("button", name="25 done")
    done.click()
    done.click()  # a glove that bounces tells one number
    expect(hands.page.locator(".made")).to_contain_text("25")
    assert len(bodies(hands, "pieces_made")) == 1
    hands.press("Pieces made")
    hands.press("Take 25 back")
    expect(hands.page.locator(".made")).to_contain_text("0")
    assert len(bodies(hands, "record_withdrawn")) == 1


def test_steps_from_the_nominal_are_shown_in_full_and_stored_so(hands: Hands) -> None:
    begin(hands)
    open_check(hands, "Forged thickness")
    pad = hands.page.locator(".number-pad")
    for key in ("+ steps", "2"):
        pad.get_by_role("button", name=key, exact=True).click()
    expect(hands.page.locator(".reading-full strong")).to_have_text("13.22 mm")
    hands.picture("machine_steps")
    hands.press("Store")
    expect(hands.page.locator(".role")).to_contain_text("2 pieces left")
    [check] = bodies(hands, "check_taken")
    assert (check["value"], check["entered"]) == ("13.22", "steps")


def test_a_gauge_types_wherever_the_focus_is_and_nothing_is_stored_before_the_key(hands: Hands) -> None:
    begin(hands)
    hands.page.evaluate("location.hash = location.hash.replace(/^#.../, '#/de')")
    hands.press(re.compile("^Alle fälligen"))
    hands.press(re.compile("^Schmiededicke"))
    field = hands.page.locator(".keypad-field")
    expect(field).to_be_visible()
    hands.page.locator(".machine-head .made").click()  # the focus is nowhere
    hands.send("+0013.22")
    expect(field).to_have_value("13,22")
    assert bodies(hands, "check_taken") == []
    field.focus()
    hands.send("13.31")
    expect(field).to_have_value("13,31")
    hands.picture("machine_gauge_sent_de")
    hands.press("Speichern")
    expect(hands.page.locator(".role")).to_contain_text("noch 2 Stück")
    field.fill("13,05")  # a keyboard that a hand types on
    field.press("Enter")
    expect(hands.page.locator(".role")).not_to_contain_text("noch")
    assert [(one["value"], one["entered"]) for one in bodies(hands, "check_taken")] == [
        ("13.31", "gauge"),
        ("13.05", "typed"),
    ]


def test_a_gauge_is_named_once_by_its_label_and_stands_with_every_value(hands: Hands) -> None:
    begin(hands)
    open_check(hands, "Forged thickness")
    hands.send("CAL-07")
    hands.press("It is the gauge: CAL-07")
    expect(hands.page.get_by_role("button", name="Gauge CAL-07")).to_be_visible()
    type_in(hands, "13.20")
    expect(hands.page.locator(".role")).to_contain_text("2 pieces left")
    type_in(hands, "13.21")
    expect(hands.page.locator(".role")).not_to_contain_text("left")
    open_check(hands, "Die mismatch")
    hands.press("Gauge?")
    hands.press("CAL-07")
    hands.picture("machine_gauge_named")
    type_in(hands, "0.10")
    expect(hands.page.locator(".role")).to_contain_text("2 pieces left")
    assert {one["gauge"] for one in bodies(hands, "check_taken")} == {"CAL-07"}


@pytest.mark.parametrize(("text", "gap"), [("13.22", 8), (" 13.22", 8), ("5", 8), ("13.22", 120)])
def test_what_a_gauge_sends_presses_no_answer_key(hands: Hands, text: str, gap: int) -> None:
    begin(hands)
    open_check(hands, "Crack")
    hands.page.locator(".answers .main").focus()
    hands.send(text, gap)
    expect(hands.page.locator(".answers .main")).to_be_visible()
    assert bodies(hands, "check_taken") == []
    # The same key with the focus is an answer when a hand presses it.
    hands.page.wait_for_timeout(1100 + gap * len(text))
    hands.page.keyboard.press("Enter")
    expect(hands.page.locator(".answers .main")).to_have_count(0)
    assert len(bodies(hands, "check_taken")) == 1


def test_what_is_sent_while_pieces_are_typed_leaves_their_number_as_it_was(hands: Hands) -> None:
    begin(hands)
    hands.press("Pieces made")
    field = hands.page.locator(".keypad-field")
    field.click()
    hands.page.keyboard.type("7")
    hands.page.wait_for_timeout(200)
    hands.send("13.22")
    expect(field).to_have_value("7")
    expect(hands.page.get_by_text("13.22 was sent")).to_be_visible()
    assert bodies(hands, "pieces_made") == []


def test_a_pedal_does_what_this_tablet_is_set_to(hands: Hands) -> None:
    hands.press("Batches")
    hands.press("Foot pedal")
    lines = hands.page.locator(".device-list li")
    for line, key in ((0, "F10"), (2, "F9"), (3, "F9"), (4, "b")):
        lines.nth(line).get_by_role("button", name="Set").click()
        expect(lines.nth(line)).to_contain_text("Press the pedal now")
        hands.page.keyboard.press(key)
        expect(lines.nth(line)).to_contain_text(f"key {key}")
    lines.nth(1).get_by_role("button", name="Set").click()
    expect(lines.nth(1)).to_contain_text("Press the pedal now")
    hands.page.keyboard.press("5")
    expect(hands.page.get_by_role("alert")).to_contain_text("The key 5 is needed")
    hands.picture("pedal")
    hands.press("Leave it")
    hands.press("Batches")
    to_the_machine(hands)
    begin(hands)
    hands.page.keyboard.press("F9")
    expect(hands.page.locator(".made")).to_contain_text("25")
    open_check(hands, "Forged thickness")
    hands.page.locator(".keypad-field").fill("13.20")
    hands.page.keyboard.press("b")
    expect(hands.page.locator(".role")).to_contain_text("2 pieces left")
    hands.send("b13.25")  # a letter within a scan is no pedal
    assert [one["value"] for one in bodies(hands, "check_taken")] == ["13.20"]


def test_a_pedal_at_the_tally_marks_and_takes_back(browser: Browser, served: Served) -> None:
    context = new_tablet(browser)
    context.add_init_script(
        'const keys = { main_reject: "F9", undo: "F10", tray_end: "F8" };'
        'localStorage.setItem("tallywright-pedal", JSON.stringify(keys));'
    )
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.page.keyboard.press("F9")
    expect(hands.page.locator(".tally-head .fact").nth(2)).to_contain_text("1")
    hands.page.wait_for_timeout(400)
    hands.page.keyboard.press("F10")
    expect(hands.page.locator(".tally-head .fact").nth(2)).to_contain_text("0")
    hands.page.keyboard.press("F8")
    expect(hands.page.locator(".tally-head")).to_have_count(0)
    context.close()


def test_another_die_is_told_with_its_marks_and_asks_for_the_last_of_the_old_one_first(hands: Hands) -> None:
    begin(hands)
    while hands.page.locator(".check-entry").count():
        answer(hands, VALUES)
    for now, key in (("D-12", re.compile("lie apart$")), ("D-13", "Store: not separated")):
        hands.press("Something changed")
        hands.press("Die")
        hands.page.get_by_label("It is now").fill(now)
        hands.picture("machine_die_change")
        hands.press(key)
        expect(hands.page.locator(".role")).to_contain_text("Last-off")
    hands.press(re.compile("^All due"))
    hands.picture("machine_die_change_due")
    roles = [text.split("\n")[-1] for text in hands.page.locator(".tell-keys .key").all_inner_texts()]
    assert set(roles[: roles.index("First-off")]) == {"Last-off"}
    assert "Last-off" not in roles[roles.index("First-off") :]
    assert bodies(hands, "operation_changed") == [
        {"operation": 40, "what": "die", "now": "D-12"},
        {"operation": 40, "what": "die", "was": "D-12", "now": "D-13", "not_separated": True},
    ]


def test_after_half_an_hour_without_a_number_the_tool_asks_for_one(browser: Browser, served: Served) -> None:
    context = new_tablet(browser)
    # The page's steady clock, which carries the server's time on, goes as the test says.
    context.add_init_script(
        "let later = 0; const steady = performance.now.bind(performance);"
        "performance.now = () => steady() + later;"
        "window.goOn = (ms) => { later += ms; };"
    )
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on("Maren Holt")
    to_the_machine(hands)
    begin(hands)
    hands.press("25 done")
    expect(hands.page.locator(".made")).to_contain_text("25")
    hands.press("Something changed")  # what stands open is drawn anew at once
    hands.wait_until_confirmed()
    context.set_offline(True)  # an answer of the server would put the tablet's clock right
    hands.page.wait_for_timeout(500)
    hands.page.evaluate("goOn(31 * 60 * 1000)")
    hands.press("Back to what is due")
    expect(hands.page.get_by_text("How many were made since the last number?")).to_be_visible()
    expect(hands.page.locator(".made")).to_contain_text("not known")
    hands.picture("machine_half_an_hour")
    hands.press("None, it stood still")
    expect(hands.page.locator(".made")).to_contain_text("25")
    assert [one["pieces"] for one in bodies(hands, "pieces_made")] == [25, 0]
    assert [one["what"] for one in bodies(hands, "operation_changed")] == ["stop"]
    context.close()


def test_what_goes_by_the_clock_goes_by_the_servers(browser: Browser, served: Served) -> None:
    context = new_tablet(browser)
    # A tablet two hours ahead: by its own clock an hourly check would be due the moment the operation began.
    context.add_init_script("const now = Date.now; Date.now = () => now() + 7_200_000;")
    hands = Hands.at(context, served.address)
    hands.enrol()
    hands.sign_on("Maren Holt")
    to_the_machine(hands)
    hands.press(re.compile("Tumble"))
    hands.press(re.compile("^Begin this operation"))
    expect(hands.page.locator(".check-entry")).to_be_visible()
    while hands.page.locator(".check-entry").count():
        assert "In process" not in hands.page.locator(".role").inner_text()
        answer(hands, VALUES)
    expect(hands.page.get_by_text("Nothing is due now")).to_be_visible()
    context.close()


def test_a_routine_check_is_within_its_budget(hands: Hands) -> None:
    begin(hands)
    while hands.page.locator(".check-entry").count():
        answer(hands, VALUES)
    taps(hands)
    hands.press("25 done")
    hands.press(re.compile("^All due"))
    hands.press(re.compile("^Forged thickness"))
    type_in(hands, "13.20")
    way = taps(hands)
    assert 8 <= len(way) <= MOST_TAPS
    assert way_seconds(way) < MOST_SECONDS / 2


def walk(hands: Hands, note: Callable[[str], None]) -> None:
    """Past every screen of the machine, noting each; two checks are out of their limits on the way."""
    page = hands.page
    note("operations")
    page.click(".tiles .tile >> nth=2")
    page.wait_for_selector(".machine-head .main")
    note("not begun")
    page.click(".machine-head .main")
    page.wait_for_selector(".number-pad")
    note("number")
    page.click(".machine-head .head-keys .key >> nth=1")
    note("pieces made")
    page.click(".machine-foot .key")
    page.click(".machine-head .head-keys .key >> nth=2")
    note("what changed")
    page.click(".machine-foot .key")
    page.click(".head-keys .key:has-text('Alle f'), .head-keys .key:has-text('All due')")
    note("all due")
    page.click(".tell-keys .key:has-text('Crack')")
    page.wait_for_selector(".answers")
    note("answers")
    page.click(".check-asked .head-keys .key >> nth=1")
    note("why not checked")
    page.click(".machine-foot .key")
    page.click(".answers .key:not(.main)")
    page.wait_for_selector(".out-card")
    note("out")
    page.click(".answers .key >> nth=0")
    note("pieces back")


def test_every_screen_of_the_machine_can_be_read_and_touched(hands: Hands) -> None:
    screens: list[Screen] = []

    def note(stage: str) -> None:
        hands.page.wait_for_timeout(200)
        for language in ("de", "en"):
            hands.page.evaluate(f"location.hash = location.hash.replace(/^#.../, '#/{language}')")
            expect(hands.page.locator("html")).to_have_attribute("lang", language)
            for size in SIZES:
                screens.append(Screen.measure(hands.page, stage, language, size))
                if language == "de" and size in TABLETS:
                    hands.picture(f"machine_{stage.replace(' ', '_')}_{size[0]}")
        hands.page.set_viewport_size({"width": 1280, "height": 800})

    walk(hands, note)
    assert len({screen.stage for screen in screens}) == 10
    texts = [(screen.where, text) for screen in screens for text in screen.texts]
    assert [(where, text["text"]) for where, text in texts if text["size"] < 24] == []
    assert [(where, text["text"]) for where, text in texts if text["contrast"] < 7] == []
    keys = [(screen.where, key) for screen in screens for key in screen.keys]
    touched = [(where, key["name"]) for where, key in keys if min(width(key["box"]), height(key["box"])) < 55.5]
    assert touched == []
    assert [screen.where for screen in screens if screen.wide > 0] == []
    entries = [one for one in screens if one.stage in ("number", "answers") and one.size in TABLETS]
    assert [(one.where, one.high) for one in entries if one.high > 0] == []
    boxes = hands_of_an_entry(screens)
    assert boxes
    assert [one for one in boxes if width(one) < KEY_WIDTH - 0.5 or height(one) < KEY_HEIGHT - 0.5] == []


def hands_of_an_entry(screens: list[Screen]) -> list[Box]:
    """The keys of the pad and the key that stores, on a tablet."""
    names = {*"1234567890.,", "Store", "Speichern", "Rub out", "Löschen"}
    found = [one for one in screens if one.stage == "number" and one.size in TABLETS]
    return [key["box"] for screen in found for key in screen.keys if key["name"] in names]
