# SPDX-License-Identifier: Apache-2.0
"""A machine put back by a day: what twelve tablets hold comes back, and what only a wiped one held is named."""

from __future__ import annotations

import shutil
from pathlib import Path

from sqlalchemy import select

from tallywright.access.devices import every_public_key
from tallywright.config import packed_folder
from tallywright.db import reading
from tallywright.definitions.published import newest_publications
from tallywright.log.chains import read_heads
from tallywright.log.read import every_line
from tallywright.log.verify import verify
from tallywright.projections.tables import finds
from tallywright.records.decode import Record
from tallywright.records.people import SignedOnV1
from tests.actors import Tablet, Works
from tests.command import Done, run
from tests.server.sync.put_back import Copy, shown

DAY_MS = 24 * 60 * 60 * 1000
TABLETS, BEFORE, THAT_DAY = 12, 3, 5


def command(works: Works, *words: str) -> Done:
    there = {"TALLYWRIGHT_DATA": str(works.config.data), "TALLYWRIGHT_DATABASE_URL": works.config.database_url}
    return run(*words, **there)


def at_work(works: Works, number: int) -> tuple[Tablet, list[Record]]:
    """A tablet with its first finds at the server, and all that it holds."""
    tablet = works.tablet(f"bench {number}")
    person = works.person("Ines Brandt")
    tablet.sign_on = tablet.add(SignedOnV1(person=person)).id
    tablet.open_tray(number)
    for _ in range(BEFORE):
        tablet.find()
    held = list(tablet.outbox)
    tablet.push()
    return tablet, held


def lines(works: Works) -> set[bytes]:
    with reading(works.engine) as connection:
        return {line for _, line in every_line(connection)}


def send_what_the_server_lacks(tablet: Tablet, held: list[Record]) -> None:
    """What a tablet does once it learnt of a new epoch: it asks for its mark, and sends all above it."""
    [mark] = tablet.push_lines([], 1, marks=[tablet.writer.chain])["marks"]
    above = [record for record in held if record.envelope.n > mark["n"]]
    if above:
        assert tablet.push(above)["exceptions"] == []


def test_a_server_a_day_back_has_what_tablets_hold_and_names_what_a_wiped_one_held(works: Works) -> None:
    twelve = [at_work(works, number) for number in range(1, TABLETS + 1)]
    snapshot = Copy(works)
    works.clock.now += DAY_MS
    for tablet, held in twelve:
        held += [tablet.find("burn") for _ in range(THAT_DAY)]
        tablet.push()
    wiped, lost = twelve.pop()
    # Somebody took a mark of that tablet back, as far as it may be: a record of another tablet names it.
    first, held = twelve[0]
    held.append(first.withdraw(lost[-1].id))
    first.push()
    told = [tablet.pull()[0] for tablet, _ in twelve]
    letters = {row["device"]: row["letters"] for row in works.rows("devices")}
    before = lines(works)

    snapshot.put_back()
    _, anew = at_work(works, TABLETS)
    for (tablet, held), head in zip(twelve, told, strict=True):
        tablet.pull(head=shown(head))
        send_what_the_server_lacks(tablet, held)

    after = lines(works)
    held_by_tablets = {record.line for _, held in twelve for record in [*held, *anew]}
    assert held_by_tablets <= after
    gone = {record.line for record in lost[-THAT_DAY:]}
    assert before - after == gone
    with reading(works.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
        assert read_heads(connection, [wiped.writer.chain])[wiped.writer.chain].mark_n == len(lost) - THAT_DAY
        counted = connection.scalars(select(finds.c.id).where(finds.c.defect == "burn")).all()
    assert len(counted) == THAT_DAY * len(twelve)
    done = command(works, "verify")
    assert done.returncode == 0, done.stdout
    missing = [line for line in done.stdout.splitlines() if "names them" in line]
    chain, mark = wiped.writer.chain, len(lost) - THAT_DAY
    assert [line.split(";")[0] for line in missing] == [
        f"{chain}:{mark + 1} to {len(lost)}: of {letters[wiped.writer.device]} bench {TABLETS}"
    ]
    assert "The log is whole." in done.stdout


def test_definitions_of_the_lost_day_are_named_and_come_back_by_their_import(works: Works, tmp_path: Path) -> None:
    tablet, _ = at_work(works, 1)
    snapshot = Copy(works)
    folder = tmp_path / "definitions"
    shutil.copytree(packed_folder("demo_seed") / "definitions", folder)
    words = ("definitions", "import", str(folder), "--revision", "D")
    done = command(works, *words)
    assert done.returncode == 0, done.stdout
    told, _ = tablet.pull()
    snapshot.put_back()
    tablet.pull(head=shown(told))
    own = told["head"]
    first_line = command(works, "verify").stdout.splitlines()[0]
    assert first_line.startswith(f"{own['chain']}:")
    assert f" to {own['n']}: lost when" in first_line
    with reading(works.engine) as connection:
        assert "D" not in {revision for _, revision in newest_publications(connection)}
    again = command(works, *words)
    assert again.returncode == 0
    with reading(works.engine) as connection:
        assert "D" in {revision for _, revision in newest_publications(connection)}
