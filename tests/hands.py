# SPDX-License-Identifier: Apache-2.0
"""A person at a tablet: what hands do on the screens, in the words that stand on them (English)."""

from __future__ import annotations

import json
import re
from dataclasses import dataclass
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

# Defect words of the demo whose class does not depend on the zone: one tap is the whole find.
ONE_TAP = ["Lap", "Cold shut", "Underfill", "Burn", "Staining"]
DEMO = Path(__file__).parents[1] / "demo_seed" / "works.json"
PICTURES = Path(__file__).parents[1] / "pictures"
DEMO_PINS = {person["name"]: person["pin"] for person in json.loads(DEMO.read_text())["people"]}
# A file that is written to while it is read cannot be read, and is read again.
JOURNAL = """async () => {
    const folder = await navigator.storage.getDirectory();
    for (;;) {
        const file = await (await folder.getFileHandle('journal-a')).getFile();
        try {
            return await file.text();
        } catch (problem) {
            if (problem.name !== 'NotReadableError') throw problem;
        }
    }
}"""
FRAME_HEAD = 18  # length, blank, checksum, blank
REPEAT_MS = 300  # longer than a bounce: two taps on one key are then two finds


@dataclass
class Hands:
    """Somebody working at one browser."""

    context: BrowserContext
    page: Page
    address: str
    last: str = ""  # the key of the tally that was tapped last

    @classmethod
    def at(cls, context: BrowserContext, address: str) -> Hands:
        """Open the app in a tablet's browser."""
        page = context.pages[0] if context.pages else context.new_page()
        page.goto(f"{address}/#/en/batches")
        return cls(context, page, address)

    def press(self, name: str | re.Pattern[str]) -> None:
        """Press the button of that name."""
        self.page.get_by_role("button", name=name).first.click()

    def wait_until_kept(self) -> None:
        """Wait until the tablet keeps the whole app."""
        self.page.evaluate("async () => { await navigator.serviceWorker.ready; }")

    def lose_contact(self) -> None:
        """Walk out of the network's reach, with an app that is kept on the tablet."""
        self.wait_until_kept()
        self.context.set_offline(True)

    def find_contact(self) -> None:
        """Walk back."""
        self.context.set_offline(False)

    def send(self, text: str, gap_ms: int = 8) -> None:
        """Type as a gauge or a scanner does: real keys, each with its time, and Enter at the end."""
        session = self.context.new_cdp_session(self.page)
        at = self.page.evaluate("(performance.timeOrigin + performance.now()) / 1000")
        for place, key in enumerate([*text, "\r"]):
            named = {"key": "Enter", "code": "Enter"} if key == "\r" else {"key": key}
            stamp = {"timestamp": at + place * gap_ms / 1000, **named}
            session.send("Input.dispatchKeyEvent", {"type": "keyDown", "text": key, **stamp})
            session.send("Input.dispatchKeyEvent", {"type": "keyUp", **stamp})
        self.page.wait_for_timeout(150)

    def enrol(self) -> None:
        """Make this browser a tablet of the demo, with its one button."""
        self.press("Use this browser as a tablet of the demo")

    def sign_on(self, person: str = "Ines Brandt", pin: str | None = None) -> None:
        """Choose who works here, and type a PIN: the demo's own if none is given, none if it is empty."""
        self.press(re.compile(person))
        pin = DEMO_PINS[person] if pin is None else pin
        if not pin:
            self.press("Go on without PIN")
        elif pin.isdigit():
            for digit in pin:
                self.page.get_by_role("button", name=digit, exact=True).click()
            self.press(re.compile("^Begin$"))
        else:
            self.page.get_by_label(f"PIN of {person}").fill(pin)
            self.press(re.compile("^Begin$"))

    def hand_over(self, person: str) -> None:
        """Somebody else takes the tablet: from the name at the top, to the name that goes on."""
        self.page.locator("button.person").click()
        self.sign_on(person)

    def take_up(self, batch: str = "SK70-0501", look: str = "First look") -> None:
        """Choose the batch and the look."""
        self.press(re.compile(batch))
        self.press(re.compile(look))

    def begin_tray(self, number: int) -> None:
        """Begin a tray."""
        self.press(re.compile(f"^Begin tray {number}"))
        expect(self.page.get_by_label("Defect keys")).to_be_visible()

    def find(self, word: str) -> None:
        """Tap a defect key and wait until the tray counts one mark more, and says that it is stored."""
        self._leave(word)
        before = self.marked()
        key = self.page.get_by_role("button", name=re.compile(f"^{word}, "))
        key.click()
        expect(self.page.locator(".tally-head .fact").nth(2)).to_contain_text(str(before + 1))
        expect(key.locator(".key-said")).to_have_text("stored")

    def find_several(self, count: int) -> None:
        """Tap that many one-tap words in turn."""
        for place in range(count):
            self.find(ONE_TAP[place % len(ONE_TAP)])

    def marked(self) -> int:
        """How many marks of the open tray count."""
        counts = self.page.locator(".defect-key .key-count").all_inner_texts()
        return sum(int(text) for text in counts if text)

    def undo(self) -> None:
        """Take the last find back, and wait until the tray counts one mark less."""
        self._leave("Undo")
        before = self.marked()
        self.press(re.compile("Undo"))
        expect(self.page.locator(".tally-head .fact").nth(2)).to_contain_text(str(before - 1))

    def _leave(self, key: str) -> None:
        """Let a moment pass before a key that was tapped just now: a second tap would be a bounce."""
        if key == self.last:
            self.page.wait_for_timeout(REPEAT_MS)
        self.last = key

    def end_tray(self, empty: int = 0) -> None:
        """Count the empty places, look at the tally, say that all were looked at."""
        self.press("Tray end")
        if empty:
            for digit in str(empty):
                self.press(digit)
            self.press("Show the tally")
        else:
            self.press("None")
        self.press(re.compile("^All looked at"))
        expect(self.page.get_by_text("is closed and stored")).to_be_visible()

    def wait_until_confirmed(self, timeout_ms: int = 20_000) -> None:
        """Wait until nothing waits: every record is confirmed by the server."""
        expect(self.page.get_by_text("nothing waits")).to_be_visible(timeout=timeout_ms)

    def picture(self, name: str) -> None:
        """Keep a picture of the screen in pictures/, which nobody commits: it is for whoever looks at a run."""
        PICTURES.mkdir(exist_ok=True)
        self.page.screenshot(path=PICTURES / f"{name}.png")

    def journal(self) -> list[str]:
        """The record lines of the tablet's journal."""
        return [line[FRAME_HEAD:] for line in self.page.evaluate(JOURNAL).splitlines()][1:]
