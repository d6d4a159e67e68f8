# SPDX-License-Identifier: Apache-2.0
"""A tablet's store was emptied, cleared, torn or cut between two starts: the rest goes on, and it is said."""

from __future__ import annotations

import json
import re
import sqlite3
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.hands import Hands
from tests.served import Served

pytestmark = pytest.mark.browser

EMPTIED = """async () => {
    const folder = await navigator.storage.getDirectory();
    const names = [];
    for await (const name of folder.keys()) names.push(name);
    for (const name of names) await folder.removeEntry(name);
    return names;
}"""
# A writer works on a copy of the file, so it ends with the length it is given.
CUT = """async (bytes) => {
    const folder = await navigator.storage.getDirectory();
    const file = await folder.getFileHandle('journal-a');
    const { size } = await file.getFile();
    const writer = await file.createWritable({ keepExistingData: true });
    await writer.truncate(size - bytes);
    await writer.close();
}"""
TORN = """async (end) => {
    const folder = await navigator.storage.getDirectory();
    const file = await folder.getFileHandle('journal-a');
    const { size } = await file.getFile();
    const writer = await file.createWritable({ keepExistingData: true });
    await writer.write({ type: 'write', position: size, data: end });
    await writer.close();
}"""


def begin(hands: Hands) -> None:
    """Mark three finds in tray 1, and wait until the server confirmed them."""
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(1)
    hands.find_several(3)
    hands.wait_until_confirmed()


def between_two_starts(hands: Hands, served: Served, script: str, argument: Any = None) -> Any:
    """Do something to the files while no page of the app has them, then start the app."""
    hands.page.goto(f"{served.address}/api/v1/works")
    done = hands.page.evaluate(script, argument)
    hands.page.goto(f"{served.address}/#/en/batches")
    return done


def finds(served: Served) -> int:
    """How many finds the server counts."""
    with sqlite3.connect(served.data / "works.db") as connection:
        return int(connection.execute("SELECT count(*) FROM finds").fetchone()[0])


def kinds(hands: Hands) -> list[str]:
    """The kinds of the journal's records, in order."""
    return [json.loads(line)["kind"] for line in hands.journal()]


def test_hazard_a2_a_tablet_whose_files_are_gone_begins_anew_says_so_and_has_what_the_server_had(
    hands: Hands, served: Served
) -> None:
    begin(hands)
    assert "journal-a" in between_two_starts(hands, served, EMPTIED)
    hands.sign_on()
    expect(hands.page.get_by_text("the store of this tablet was found empty")).to_be_visible()
    hands.take_up()
    hands.begin_tray(2)
    hands.find_several(2)
    hands.wait_until_confirmed()
    assert kinds(hands)[0] == "chain_opened"
    assert finds(served) == 5


def test_hazard_a1_a7_a_tablet_whose_site_data_were_cleared_is_made_known_anew_and_what_it_sent_is_there(
    hands: Hands, served: Served
) -> None:
    begin(hands)
    [(chain, device)] = {(one["chain"], one["device"]) for one in map(json.loads, hands.journal())}
    last = len(hands.journal())
    hands.page.goto(f"{served.address}/api/v1/works")
    protocol = hands.context.new_cdp_session(hands.page)
    protocol.send("Storage.clearDataForOrigin", {"origin": served.address, "storageTypes": "all"})
    hands.page.goto(f"{served.address}/#/en/batches")
    hands.enrol()
    hands.sign_on()
    hands.take_up()
    hands.begin_tray(2)
    hands.find_several(1)
    hands.wait_until_confirmed()
    assert finds(served) == 4
    # It is another device now; what the old one was heard of is known, and both are listed.
    assert {one["device"] for one in map(json.loads, hands.journal())}.isdisjoint({device})
    with sqlite3.connect(served.data / "works.db") as connection:
        heard = connection.execute("SELECT mark_n FROM chains WHERE chain = ?", (chain,)).fetchone()
    assert heard == (last,)
    assert device in served.run("devices").stdout


def test_half_a_line_at_the_journals_end_is_cut_and_every_whole_line_before_it_goes_on(
    hands: Hands, served: Served
) -> None:
    begin(hands)
    between_two_starts(hands, served, TORN, '00000250 0123abcd {"batch":"')
    hands.take_up()
    hands.press("Go on with tray 1")
    assert hands.marked() == 3
    hands.find_several(1)
    hands.wait_until_confirmed()
    assert kinds(hands)[-4:] == ["defect_tallied"] * 4
    assert finds(served) == 4
    expect(hands.page.get_by_text(re.compile("set aside"))).to_have_count(0)


def test_a_journal_that_lost_a_record_the_server_has_goes_on_in_a_new_chain_and_says_so(
    hands: Hands, served: Served
) -> None:
    begin(hands)
    between_two_starts(hands, served, CUT, 10)
    expect(hands.page.get_by_text("an older image was put back")).to_be_visible(timeout=20_000)
    hands.wait_until_confirmed()
    assert kinds(hands).count("chain_opened") == 2
    assert kinds(hands).count("defect_tallied") == 2
    assert finds(served) == 3
