# SPDX-License-Identifier: Apache-2.0
"""Kill a tablet's browser while somebody taps, again and again: what was shown as stored is there, and once.

python -m tests.kills.browser --kills 1000
python -m tests.kills.browser --firefox --kills 200
"""

from __future__ import annotations

import argparse
import json
import random
import shutil
import signal
import sqlite3
import sys
import tempfile
import time
import traceback
import zlib
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path
from threading import Timer
from typing import Any

from playwright.sync_api import Playwright, sync_playwright

from tallywright.config import sqlite_url
from tallywright.db import open_engine
from tallywright.records.bench import BatchOpenedV1
from tests.hands import FRAME_HEAD, ONE_TAP
from tests.kills import page
from tests.kills.devtools import Browser, Gone, Program
from tests.kills.firefox import Firefox
from tests.kills.pushing import Pusher, definition_of
from tests.served import Served, free_port
from tests.server.files.attaching import noisy

LIVES_A_SERVER = 25
A_TAP_SECONDS = 0.1
PICTURES, PICTURE_SIDE, TAPS_A_PICTURE = 12, 600, 4
CONFIRMED_SECONDS = 90  # a tablet pauses for up to a minute after many failures
MOST_WRONG = 5


@dataclass
class Life:
    """One profile, from its first start on, and all that its page ever showed as stored."""

    profile: Path
    batch: str
    has_pictures: bool
    is_away: bool  # the server, from the enrolment on: only the journal can keep what is made
    shown: list[str] = field(default_factory=list)
    taps: int = 0
    killer: tuple[int, page.Driven] | None = None  # kill the moment so many are shown

    def hear(self, said: str) -> None:
        """The page showed that records are stored."""
        self.shown += json.loads(said)
        if self.killer is not None and len(self.shown) >= self.killer[0]:
            self.killer[1].strike()


@dataclass
class Loop:
    """What all lives share, and what came of them."""

    folder: Path
    start: Callable[[Path, Callable[[str], None]], page.Driven]
    chance: random.Random
    later_sessions: int  # of each life, at least
    served: Served = field(init=False)
    batches: list[str] = field(default_factory=list)
    pictures: list[Path] = field(default_factory=list)
    kills: Counter[str] = field(default_factory=Counter)
    count: Counter[str] = field(default_factory=Counter)
    wrong: list[str] = field(default_factory=list)
    left: int = 0  # pictures of this life that were shown and are on the tablet no more

    def run(self, kills: int, seconds: int) -> dict[str, Any]:
        """Live lives until that many browsers were killed, or so many seconds passed; returns what was found."""
        began = time.monotonic()
        for number in range(PICTURES):
            self.pictures.append(self.folder / f"{number}.jpg")
            self.pictures[-1].write_bytes(noisy(PICTURE_SIDE, seed=number))
        number = 0
        while sum(self.kills.values()) < kills and len(self.wrong) < MOST_WRONG:
            if time.monotonic() - began > seconds:
                break
            if number % LIVES_A_SERVER == 0:
                self._new_server(number)
            self._live(number)
            number += 1
            if number % LIVES_A_SERVER == 0:
                sys.stderr.write(f"{sum(self.kills.values())} kills, {dict(self.count)}, wrong: {self.wrong}\n")
        self.served.stop(signal.SIGKILL)
        return {
            "kills": sum(self.kills.values()),
            "of these": dict(sorted(self.kills.items())),
            "profiles": number,
            **dict(sorted(self.count.items())),
            "lost": self.count["lost"],
            "doubled": self.count["doubled"],
            "wrong": self.wrong,
            "seconds": round(time.monotonic() - began),
        }

    def _new_server(self, number: int) -> None:
        """A works on its first day with a batch for each life: nobody has to load what lives before it left."""
        if number:
            self.served.stop(signal.SIGKILL)
        self.served = Served(self.folder / f"server-{number}" / "works", free_port())
        self.served.data.parent.mkdir()
        self.served.start()
        engine = open_engine(sqlite_url(self.served.data))
        opener = Pusher(self.served.port, definition_of(engine), random.Random(number), "desk")
        engine.dispose()
        opener.enrol()
        self.batches = [f"LIFE-{number + place:05}" for place in range(LIVES_A_SERVER)]
        said = {"sign_on": opener.sign_on, "definition": opener.definition}
        for batch in self.batches:
            opener.add(BatchOpenedV1(number=batch, pieces=500), **said)
        assert opener.push() == 200
        opener.close()

    def _live(self, number: int) -> None:
        """One profile: killed in its first session, and in later ones; at the end all is asked for."""
        life = Life(
            profile=self.folder / f"profile-{number}",
            batch=self.batches[number % LIVES_A_SERVER],
            has_pictures=number % 2 == 1,
            is_away=number % 5 == 4,
        )
        before = sum(self.kills.values())
        try:
            self._session(life, is_first=True)
            for _ in range(self.later_sessions):
                self._session(life)
            if life.has_pictures:
                # A picture leaves the tablet when a copy of the log has it: the next session lets go of some.
                self._serve()
                self.served.run("backup", str(self.folder / f"copy-{number}.db"))
                self._session(life)
                (self.folder / f"copy-{number}.db").unlink(missing_ok=True)
            self._end(life)
        except Exception:  # of one life: it is told among what is wrong, and the others go on
            self.wrong.append(
                f"life {number} ({sum(self.kills.values()) - before} kills): {traceback.format_exc()}"
            )
        finally:
            self._serve()
            shutil.rmtree(life.profile, ignore_errors=True)

    def _serve(self) -> None:
        if self.served.process is None:
            self.served.start_again()

    def _session(self, life: Life, is_first: bool = False) -> None:
        """Start a browser, tap, and kill it at some moment."""
        browser = self.start(life.profile, life.hear)
        how = self.chance.choice(["at any moment", "at any moment", "at the word", "behind a touch"])
        timer: Timer | None = None
        try:
            if not is_first and self.chance.random() < 0.2:
                how = "at the start"
                timer = self._kill_later(browser, self.chance.uniform(0.2, 2.5))
            browser.open(f"{self.served.address}/#/en/batches", page.WATCH)
            page.wait(browser, page.IS_UP)
            if not is_first:
                self._compare(browser, life)
            keys = self._to_the_keys(browser, life, is_first)
            if timer is None:
                longest = 3.0 if life.has_pictures or how != "at any moment" else 1.2
                timer = self._kill_later(
                    browser, self.chance.uniform(0.05 if how == "at any moment" else 3.0, longest)
                )
            if how == "at the word":
                life.killer = len(life.shown) + self.chance.randint(1, 8), browser
            self._tap_on(browser, life, keys, self.chance.randint(1, 10) if how == "behind a touch" else None)
        except Gone:
            self.kills[how] += 1
        finally:
            if timer is not None:
                timer.cancel()
            life.killer = None
            browser.kill()
        session = "first" if is_first else "later"
        self.count[f"kills in a {session} session"] += 1
        self.count["kills while pictures are kept"] += life.has_pictures
        self.count["kills with the server away"] += self.served.process is None

    def _kill_later(self, browser: page.Driven, seconds: float) -> Timer:
        timer = Timer(seconds, browser.strike)
        timer.start()
        return timer

    def _to_the_keys(self, browser: page.Driven, life: Life, is_first: bool) -> list[list[float]]:
        """Go to the open tray, as a hand goes; returns where the keys lie."""
        page.go_to_the_keys(browser, life.batch)
        if is_first and life.is_away:
            browser.value(page.IS_KEPT)
            self.served.stop(signal.SIGKILL)
        if not is_first:
            marked, made = (
                browser.value(page.MARKED),
                self._finds(_whole_lines(browser.value(page.FILES)["journal"])),
            )
            if marked != made:
                self.count["miscounted"] += 1
                self.wrong.append(f"{life.batch}: the screen counts {marked} marks, the journal has {made}")
        keys: list[list[float]] = browser.value(f"({page.KEYS})({json.dumps([*ONE_TAP, 'Not sure'])})")
        return keys

    def _tap_on(self, browser: page.Driven, life: Life, keys: list[list[float]], taps: int | None) -> None:
        """Tap ten times a second until the browser is dead, or kill it behind so many taps."""
        *words, not_sure = keys
        for tap in range(10_000):
            takes_picture = life.has_pictures and tap % TAPS_A_PICTURE == 0
            if tap + 1 == taps:
                self._kill_later(browser, self.chance.uniform(0, browser.touch_seconds))
            life.taps += 1  # before it: the page may have taken a tap in which the browser died
            browser.click(*(not_sure if takes_picture else words[tap % len(words)]))
            browser.rest(A_TAP_SECONDS)
            if takes_picture:
                page.wait(browser, page.CAN_PICTURE)
                # The file is handed to the chooser's field: a kill finds it being read, scaled, written or sent.
                browser.choose(".picture-file", self.chance.choice(self.pictures))
                if self.chance.random() < 0.8:  # else the hand goes on before it has seen that it is kept
                    page.wait(browser, page.HAS_PICTURE)

    def _compare(self, browser: page.Driven, life: Life) -> set[str]:
        """What the new process finds, beside all that was ever shown as stored; returns the journal's lines."""
        found = browser.value(page.FILES)
        lines = _whole_lines(found["journal"])
        at_server, pictures = self._at_server(lines)
        held = set(lines) | at_server
        lost = [line for line in life.shown if line not in held]
        numbers = Counter((json.loads(line)["chain"], json.loads(line)["n"]) for line in lines)
        doubled = sum(numbers.values()) - len(numbers) + max(0, self._finds(lines) - life.taps)
        names = [_picture(line) for line in life.shown]
        kept = set(found["pictures"])
        lost_pictures = [name for name in names if name is not None and name not in kept | pictures]
        self.count["lost"] += len(lost) + len(lost_pictures)
        self.count["doubled"] += doubled
        if lost or lost_pictures or doubled:
            self.wrong.append(f"{life.batch}: lost {lost} {lost_pictures}, doubled {doubled}")
        self.left = sum(1 for name in names if name is not None and name not in kept)
        return set(lines)

    def _end(self, life: Life) -> None:
        """The last start: with the server, until all is confirmed; then every record is asked for there, too."""
        self._serve()
        browser = self.start(life.profile, life.hear)
        try:
            browser.open(f"{self.served.address}/#/en/batches", page.WATCH)
            page.wait(browser, page.IS_UP)
            self._compare(browser, life)
            page.wait(browser, page.NOTHING_WAITS, CONFIRMED_SECONDS)
            lines = self._compare(browser, life)
            at_server, _ = self._at_server(list(lines))
            if at_server != lines:
                self.wrong.append(
                    f"{life.batch}: {len(lines)} records on the tablet, {len(at_server)} at the server"
                )
        finally:
            browser.kill()
        self.count["taps"] += life.taps
        self.count["records shown as stored"] += len(life.shown)
        self.count["found"] += sum(1 for line in life.shown if line in lines | at_server)
        pictures = [name for name in map(_picture, life.shown) if name is not None]
        self.count["pictures shown"] += len(pictures)
        self.count["pictures that had left"] += self.left

    def _at_server(self, lines: list[str]) -> tuple[set[str], set[str]]:
        """Which records of these lines' chains the server's log holds, and which whole files."""
        chains = sorted({json.loads(line)["chain"] for line in lines})
        held: list[str] = []
        with sqlite3.connect(self.served.data / "works.db") as connection:
            for chain in chains:
                rows = connection.execute("SELECT line FROM records WHERE chain = ?", (chain,))
                held += [bytes(line).decode() for (line,) in rows]
            files = {name for (name,) in connection.execute("SELECT hash FROM files WHERE length(bytes) = size")}
        connection.close()
        return set(held), files

    def _finds(self, lines: list[str]) -> int:
        return sum(1 for line in lines if json.loads(line)["kind"] == "defect_tallied")


def _whole_lines(journal: str) -> list[str]:
    """The records of a journal; raises AssertionError where a line is not what its frame says."""
    lines = []
    for line in journal.splitlines()[1:]:
        length, check, text = line[:8], line[9:17], line[FRAME_HEAD:]
        assert (int(length, 16), int(check, 16)) == (len(text.encode()), zlib.crc32(text.encode())), line
        lines.append(text)
    return lines


def _picture(line: str) -> str | None:
    record = json.loads(line)
    return str(record["body"]["file"]) if record["kind"] == "photo_attached" else None


def kill_again_and_again(
    driver: Playwright, folder: Path, kills: int, seed: int, seconds: int = 10**9, is_firefox: bool = False
) -> dict[str, Any]:
    """Kill browsers that somebody taps in; returns what was found."""
    chance = random.Random(seed)
    if is_firefox:
        loop = Loop(folder, partial(Firefox.start, driver), chance, later_sessions=4)  # a new profile costs most
    else:
        loop = Loop(folder, partial(Browser.start, Program.found(driver)), chance, later_sessions=1)
    return loop.run(kills, seconds)


def is_right(told: dict[str, Any]) -> bool:
    """True where all that was shown as stored was found, once."""
    found = told["lost"], told["doubled"], told["wrong"], told.get("found")
    return found == (0, 0, [], told.get("records shown as stored"))


def main() -> int:
    """Run on the command line; returns 1 where something was wrong."""
    words = argparse.ArgumentParser(prog="python -m tests.kills.browser")
    words.add_argument("--kills", type=int, required=True)
    words.add_argument("--seed", type=int, default=1)
    words.add_argument("--seconds", type=int, default=10**9, help="enough when so many passed")
    words.add_argument("--firefox", action="store_true", help="a Firefox that is installed, in place of a Chromium")
    wanted = words.parse_args()
    folder = Path(tempfile.mkdtemp(prefix="tw-kills-"))
    try:
        with sync_playwright() as driver:
            told = kill_again_and_again(driver, folder, wanted.kills, wanted.seed, wanted.seconds, wanted.firefox)
    finally:
        shutil.rmtree(folder, ignore_errors=True)
    sys.stdout.write(json.dumps(told, indent=1) + "\n")
    return 0 if is_right(told) else 1


if __name__ == "__main__":
    sys.exit(main())
