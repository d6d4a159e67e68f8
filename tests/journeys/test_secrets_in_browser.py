# SPDX-License-Identifier: Apache-2.0
"""After wrong and right PINs no browser store, no answer it was given and no line of the server holds one."""

from __future__ import annotations

import base64
import json
from typing import Any

import pytest
from playwright.sync_api import Request, Response, expect

from tests.hands import DEMO_PINS, Hands
from tests.served import Served

pytestmark = pytest.mark.browser

WHO = "Jonas Falk"
# A PIN with letters: four digits may stand in any hash by chance.
RIGHT, WRONG = DEMO_PINS[WHO], "not-the-harbour-72"
# What a page can read of everything the browser keeps for it, as texts by place.
KEPT = """async () => {
    const kept = {local: JSON.stringify({...localStorage}), session: JSON.stringify({...sessionStorage})};
    for await (const [name, file] of (await navigator.storage.getDirectory()).entries()) {
        kept[`file ${name}`] = await (await file.getFile()).text();
    }
    for (const name of await caches.keys()) {
        const cache = await caches.open(name);
        for (const asked of await cache.keys()) {
            kept[`cache ${asked.url}`] = asked.url + await (await cache.match(asked)).text();
        }
    }
    const whenDone = (request) => new Promise((resolve, reject) => {
        request.onsuccess = () => resolve(request.result);
        request.onerror = () => reject(request.error);
    });
    for (const {name} of await indexedDB.databases()) {
        const database = await whenDone(indexedDB.open(name));
        for (const store of database.objectStoreNames) {
            const values = await whenDone(database.transaction(store).objectStore(store).getAll());
            kept[`database ${name} ${store}`] = JSON.stringify(values);
        }
        database.close();
    }
    return kept;
}"""
EMPTIED = """async () => {
    const folder = await navigator.storage.getDirectory();
    const size = async () => (await (await folder.getFileHandle('files')).getFile()).size;
    while ((await size()) > 0) await new Promise((resolve) => setTimeout(resolve, 50));
}"""


def sealed_in(body: bytes) -> list[str]:
    """The sealed PINs, as base64, that a push carries."""
    head: dict[str, Any] = json.loads(body.split(b"\n", 1)[0])
    return [one["sealed"] for one in head["enclosures"]]


def lines_of(served: Served) -> bytes:
    return (served.data.parent / "server.log").read_bytes()


def places(hands: Hands, served: Served, answers: list[bytes]) -> dict[str, bytes]:
    """All that is kept or was said, by where."""
    found = {name: text.encode() for name, text in hands.page.evaluate(KEPT).items()}
    assert {"file journal-a", "file fetched", "file files"} <= set(found)
    assert any(name.startswith("database ") for name in found)
    found["answers"] = b"\n".join(answers)
    for path in served.data.glob("works.db*"):
        found[path.name] = path.read_bytes()
    return found


def holding(found: dict[str, bytes], *secrets: bytes) -> list[str]:
    return [
        name for name, content in found.items()
        if any(form in content for one in secrets for form in (one, base64.b64encode(one), one.hex().encode()))
    ]  # fmt: skip


def test_threat_16_after_wrong_and_right_pins_nothing_keeps_them(hands: Hands, served: Served) -> None:
    sealed: list[bytes] = []
    answers: list[bytes] = []

    def sent(request: Request) -> None:
        if request.url.endswith("/sync/push") and request.post_data_buffer:
            sealed.extend(base64.b64decode(one) for one in sealed_in(request.post_data_buffer))

    def came(response: Response) -> None:
        if "/api/v1/" in response.url:
            answers.append(response.body())

    # A demo tells its invented PINs when it starts; from then on nobody does.
    told_at_start = lines_of(served)
    hands.page.on("request", sent)
    hands.page.on("response", came)
    hands.enrol()
    hands.sign_on(WHO, WRONG)
    hands.press("Type the PIN again")
    hands.page.get_by_label(f"PIN of {WHO}").fill(RIGHT)
    hands.press("Begin")
    expect(hands.page.get_by_text(f"Proven: {WHO}.")).to_be_visible()
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(1)
    hands.wait_until_confirmed()
    hands.page.evaluate(EMPTIED)
    assert len(set(sealed)) == 2
    assert len(answers) > 3
    found = places(hands, served, answers)
    found["server's lines"] = lines_of(served).removeprefix(told_at_start)
    kept_apart = (*served.data.glob("sealing-*.pem"), served.data / "server.key")
    keys = [path.read_text().splitlines()[1].encode() for path in kept_apart]
    assert len(keys) >= 2
    assert holding(found, RIGHT.encode(), WRONG.encode(), *sealed, *keys) == []

    # The search sees what is there: a PIN put into each store of the page is found.
    hands.page.evaluate(
        """async (pin) => {
            localStorage.setItem("planted", pin);
            await (await caches.open("planted")).put("/planted", new Response(pin));
        }""",
        WRONG,
    )
    planted = holding(places(hands, served, answers), WRONG.encode())
    assert planted == ["local", f"cache {served.address}/planted"]
