# SPDX-License-Identifier: Apache-2.0
"""What the loops run inside the page: an ear for what it shows, eyes for buttons, its files, a way to the keys."""

from __future__ import annotations

import json
import time

from tests.kills.devtools import Browser
from tests.kills.firefox import Firefox

Driven = Browser | Firefox

PATIENCE_SECONDS = 40
# From wherever the app stands to tray 1 of a batch, the nearest first.
WAYS = (
    "^(Go on with|Begin) tray 1(60 places|$)",
    "^First look",
    "{batch}",
    "^Go on without PIN",
    "Ines Brandt",
    "^Use this browser as a tablet of the demo",
)

# What the store took is noted as it answers the page; it is told once the screen says that it is stored.
WATCH = """(() => {
    const held = [];
    const Made = window.Worker;
    window.Worker = class extends Made {
        constructor(...words) {
            super(...words);
            this.addEventListener('message', ({ data }) => {
                const { line, why } = data.answer ?? {};
                if (line !== undefined && why === undefined) held.push(line);
            });
        }
    };
    const isThere = (selector) => document.querySelector(selector) !== null;
    const tell = () => {
        if (held.length === 0) return;
        const word = isThere('.key-said, .last-find .is-stored'), picture = isThere('.picture-key img');
        const shown = held.filter((line) => (line.includes('"kind":"photo_attached"') ? picture : word));
        if (shown.length === 0) return;
        for (const line of shown) held.splice(held.indexOf(line), 1);
        window.say(JSON.stringify(shown));
    };
    const options = { childList: true, subtree: true, characterData: true, attributes: true };
    new MutationObserver(tell).observe(document, options);
})()"""

# The way of a hand from wherever the app stands to an open tray: what of these can be pressed, the nearest first;
# nothing when the tray is open. It waits inside the page, for a moment, so that looking costs the page little.
NEXT_BUTTON = """(async (ways, pressed) => {
    for (let look = 0; look < 40; look += 1) {
        if (document.querySelector('.pad .defect-key') !== null) return null;
        const buttons = [...document.querySelectorAll('main button:not(.person)')];
        for (const way of ways) {
            if (way === pressed) continue;
            const words = new RegExp(way);
            const one = buttons.find((button) => !button.disabled && words.test(button.textContent.trim()));
            if (one === undefined || one.getClientRects().length === 0) continue;
            one.scrollIntoView({ block: 'center' });
            const { x, y, width, height } = one.getBoundingClientRect();
            return { way, x: x + width / 2, y: y + height / 2 };
        }
        await new Promise((done) => setTimeout(done, 50));
    }
    return { way: '' };
})"""

KEYS = """(words) => words.map((word) => {
    const nameOf = (one) => (one.getAttribute('aria-label') ?? one.innerText).replace(/\\s+/g, ' ').trim();
    const key = [...document.querySelectorAll('main button')].find((one) => nameOf(one).startsWith(word));
    const { x, y, width, height } = key.getBoundingClientRect();
    return [x + width / 2, y + height / 2];
})"""

MARKED = "parseInt(document.querySelector('.tally-head .counts .fact').textContent)"
CAN_PICTURE = "document.querySelector('.picture-key')?.disabled === false"
HAS_PICTURE = "document.querySelector('.picture-key img') !== null"
SCREEN = "document.body?.innerText.slice(0, 600)"
IS_UP = "document.querySelector('main button') !== null"
IS_KEPT = "navigator.serviceWorker.ready.then(() => true)"
NOTHING_WAITS = "document.body?.innerText.includes('nothing waits')"

# The files as they lie in the profile: the journal's text, and every picture whose bytes are those of its name.
FILES = """(async () => {
    const folder = await navigator.storage.getDirectory();
    const read = async (name) => {
        for (let look = 0; ; look += 1) {
            try {
                return await (await (await folder.getFileHandle(name)).getFile()).arrayBuffer();
            } catch (problem) {
                if (problem.name === 'NotFoundError') return new ArrayBuffer(0);
                // The app wrote to it meanwhile: then the browser gives nothing of what it was.
                if (look === 50) throw problem;
                await new Promise((done) => setTimeout(done, 20));
            }
        }
    };
    const bytes = await read('files');
    const text = new TextDecoder('latin1').decode(bytes);
    const head = /\\{"photo":"([0-9a-f]{64})","is":"kept","room":"(\\d{10})","size":"(\\d{10})"\\}\\n/g;
    const pictures = [];
    for (const found of text.matchAll(head)) {
        const begin = found.index + found[0].length;
        const digest = await crypto.subtle.digest('SHA-256', bytes.slice(begin, begin + Number(found[3])));
        const name = [...new Uint8Array(digest)].map((one) => one.toString(16).padStart(2, '0')).join('');
        if (name === found[1]) pictures.push(name);
    }
    return { journal: new TextDecoder().decode(await read('journal-a')), pictures };
})()"""


def go_to_the_keys(browser: Driven, batch: str) -> None:
    """Go to the open tray, as a hand goes; raises TimeoutError where it is not reached."""
    ways = [way.format(batch=batch) for way in WAYS]
    end, pressed = time.monotonic() + PATIENCE_SECONDS, ""
    while (button := browser.value(f"{NEXT_BUTTON}({json.dumps(ways)}, {json.dumps(pressed)})")) is not None:
        pressed = button["way"]  # not again, unless nothing came of it
        if pressed:
            browser.click(button["x"], button["y"])
        elif time.monotonic() > end:
            raise TimeoutError(f"The keys did not come: {browser.value(SCREEN)}")


def wait(browser: Driven, condition: str, seconds: float = PATIENCE_SECONDS) -> None:
    """Wait until an expression is true in the page; raises TimeoutError."""
    end = time.monotonic() + seconds
    while not browser.value(condition):
        if time.monotonic() > end:
            raise TimeoutError(f"{condition} did not come: {browser.value(SCREEN)}")
        time.sleep(0.1)
