# SPDX-License-Identifier: Apache-2.0
"""How far a chain is safe: only what a verified copy holds, without a gap, and never what was set aside."""

from __future__ import annotations

from tallywright.db import writing
from tallywright.log.append import newest_number
from tallywright.log.safe import note_verified
from tests.actors import Tablet, Works


def note(works: Works, number: int | None = None) -> None:
    with writing(works.engine) as connection:
        note_verified(connection, works.own, newest_number(connection) if number is None else number)


def safe(tablet: Tablet) -> int:
    [mark] = tablet.push_lines([], 1, marks=[tablet.writer.chain])["marks"]
    return int(mark["safe"])


def at_work(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.open_tray()
    tablet.push()
    return tablet


def test_nothing_is_safe_before_a_copy_was_verified(works: Works) -> None:
    assert safe(at_work(works)) == 0


def test_all_that_was_held_is_safe_and_nothing_that_came_behind(works: Works) -> None:
    tablet = at_work(works)
    note(works)
    tablet.find()
    tablet.push()
    assert safe(tablet) == 3


def test_an_older_copy_takes_nothing_back(works: Works) -> None:
    tablet = at_work(works)
    note(works)
    note(works, 1)
    assert safe(tablet) == 3


def test_a_gap_that_was_filled_behind_the_copy_ends_what_is_safe(works: Works) -> None:
    tablet = at_work(works)
    late, behind = tablet.find(), tablet.find()
    tablet.push([behind])
    with writing(works.engine) as connection:
        number = newest_number(connection)
    tablet.push([late])
    note(works, number)
    assert safe(tablet) == 3


def test_a_gap_ends_what_is_safe(works: Works) -> None:
    tablet = at_work(works)
    tablet.find()
    tablet.push([tablet.find()])
    note(works)
    assert safe(tablet) == 3


def test_what_was_set_aside_ends_what_is_safe(works: Works) -> None:
    tablet = at_work(works)
    odd = tablet.find().line.replace(b'"body":', b'"body": ')
    assert tablet.push_lines([odd], 4)["exceptions"][0]["code"] == "not-canonical"
    note(works)
    assert safe(tablet) == 3


def test_the_servers_own_chain_goes_on_behind_what_is_safe(works: Works) -> None:
    note(works)
    tablet = at_work(works)
    note(works)
    head = tablet.pull()[0]["head"]
    [mark] = tablet.push_lines([], 1, marks=[head["chain"]])["marks"]
    assert (mark["n"], mark["safe"]) == (head["n"], head["n"] - 1)
