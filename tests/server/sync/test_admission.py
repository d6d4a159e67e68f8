# SPDX-License-Identifier: Apache-2.0
"""What was set aside is admitted by a lead and counts then: once, under another id, as what it was."""

from __future__ import annotations

import copy
import json
from dataclasses import dataclass
from typing import Any

import pytest

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.log.aside import lines_aside
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.refold import refold
from tallywright.records.asked import AdmissionRequestedV1, HoldLiftRequestedV1
from tallywright.records.bench import BatchOpenedV1, TrayClosedV1
from tallywright.records.kinds import DeviceRevokedV1
from tallywright.records.people import SignedOnV1
from tests.actors import ANYBODY, Tablet, Works

LEAD = ("Jonas Falk", "harbour-71")


@dataclass
class Office:
    """A lead's tablet, and what it asks for."""

    works: Works
    tablet: Tablet

    def admit(self, chain: str, lines: list[str]) -> tuple[str, list[str]]:
        """Ask for lines to be admitted; returns what became of the request, and the reasons."""
        body = AdmissionRequestedV1(of_chain=chain, lines=lines, why="the work was done")
        asked = self.tablet.add(body, sign_on=self.tablet.sign_on)
        self.tablet.push()
        row = next(row for row in self.works.rows("requests") if row["request"] == asked.id)
        return row["state"], json.loads(row["reasons"])

    def admit_all(self, chain: str) -> tuple[str, list[str]]:
        """Ask for all the list offers of a chain."""
        return self.admit(chain, [line for one in self.listed(chain) for line in one["lines"]])

    def listed(self, chain: str) -> list[dict[str, Any]]:
        """What the list of what was set aside says of a chain."""
        answer = self.tablet.get("/api/v1/set-aside")
        assert answer.status_code == 200, answer.text
        return [one for one in answer.json["chains"] if one["chain"] == chain]


@pytest.fixture
def office(works: Works) -> Office:
    tablet = works.tablet("office")
    tablet.push(enclosures=[tablet.sign_on_as(works.person(LEAD[0]), LEAD[1])])
    return Office(works, tablet)


def revoke(works: Works, tablet: Tablet) -> None:
    with writing(works.engine) as connection:
        [record] = works.own.write(connection, [DeviceRevokedV1(device=tablet.writer.device)])
        refold(connection, [record.subject])


def work_a_tray(tablet: Tablet, number: int, defects: tuple[str, ...] = ("lap", "burn")) -> None:
    """A whole tray: begun, two finds on one piece, closed."""
    tablet.open_tray(number)
    first = tablet.find(defects[0])
    for defect in defects[1:]:
        tablet.find(defect, piece=first.id)
    tablet.at_bench(
        TrayClosedV1(
            look="first",
            tray=tablet.tray,
            places=60,
            empty_counted=0,
            accepted=59,
            rejected=1,
            rework=0,
            query=0,
            all_looked_at=True,
        )
    )


def copied(tablet: Tablet) -> Tablet:
    """The same profile on another machine: the same key and chain, from here on work of its own."""
    twin = copy.copy(tablet)
    twin.writer, twin.outbox = copy.copy(tablet.writer), list(tablet.outbox)
    return twin


def is_whole(works: Works) -> bool:
    """True when `verify` finds nothing, and a rebuild gives the same rows."""
    with writing(works.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
        before = rows(connection)
        assert rebuild(connection) == []
        return rows(connection) == before


def test_a_revoked_tablets_whole_tray_is_admitted_and_counts_once(works: Works, office: Office) -> None:
    tablet = works.tablet()
    tablet.push()
    revoke(works, tablet)
    work_a_tray(tablet, 4)
    sent = list(tablet.outbox)
    tablet.push()
    assert works.rows("finds") == []
    assert office.admit_all(tablet.writer.chain) == ("granted", [])
    found = works.rows("finds")
    assert sorted(row["defect"] for row in found) == ["burn", "lap"]
    assert len({row["piece"] for row in found}) == 1
    assert {row["piece"] for row in found} <= {row["id"] for row in found}
    assert len({row["tray"] for row in found}) == 1
    tablet.push(sent)
    assert works.rows("finds") == found
    assert is_whole(works)


def test_a_clones_second_side_is_set_aside_and_admitted_and_nothing_counts_twice(
    works: Works, office: Office
) -> None:
    tablet = works.tablet()
    work_a_tray(tablet, 1)
    tablet.push()
    twin = copied(tablet)
    for side in (tablet, twin):
        side.sign_on = side.add(SignedOnV1(person=ANYBODY)).id
    for number, side in ((2, tablet), (3, twin)):
        work_a_tray(side, number, ("crack", "lap") if side is twin else ("burn",))
    tablet.push()
    sent = list(twin.outbox)
    answer = twin.push()
    assert {one["code"] for one in answer["exceptions"]} == {"number-taken"}
    assert office.admit_all(twin.writer.chain) == ("granted", [])
    found = works.rows("finds")
    assert sorted(row["defect"] for row in found) == ["burn", "burn", "crack", "lap", "lap"]
    second = next(row for row in found if row["defect"] == "crack")
    assert second["piece"] == second["id"]
    signed = {row["sign_on"]: row for row in works.rows("sign_ons")}
    assert signed[second["sign_on"]]["chain"] == twin.writer.chain
    twin.push(sent)
    assert works.rows("finds") == found
    assert is_whole(works)


def test_what_was_admitted_is_declined_when_it_is_asked_for_again(works: Works, office: Office) -> None:
    tablet = works.tablet()
    tablet.push()
    revoke(works, tablet)
    work_a_tray(tablet, 4)
    tablet.push()
    lines = office.listed(tablet.writer.chain)[0]["lines"]
    office.admit(tablet.writer.chain, lines)
    found = works.rows("finds")
    assert office.admit(tablet.writer.chain, lines[:1]) == ("declined", ["admitted_already"])
    assert office.listed(tablet.writer.chain)[0]["admitted"] == len(lines)
    assert office.listed(tablet.writer.chain)[0]["lines"] == []
    assert works.rows("finds") == found


def test_a_line_nobody_has_is_declined(works: Works, office: Office) -> None:
    assert office.admit(works.tablet().writer.chain, ["0" * 64]) == ("declined", ["no_such_line"])


def test_a_find_whose_tray_is_not_admitted_waits_for_it(works: Works, office: Office) -> None:
    tablet = works.tablet()
    tablet.push()
    revoke(works, tablet)
    tablet.open_tray()
    tablet.find("lap")
    tablet.push()
    opened, find = office.listed(tablet.writer.chain)[0]["lines"]
    assert office.admit(tablet.writer.chain, [find]) == ("declined", ["not_admissible"])
    assert office.admit(tablet.writer.chain, [opened]) == ("granted", [])
    assert office.admit(tablet.writer.chain, [find]) == ("granted", [])
    [row] = works.rows("finds")
    [tray] = [line for line in works.rows("admissions") if line["line_hash"] == opened]
    assert row["tray"] == tray["admission"]


def test_a_batch_that_was_set_aside_is_opened_with_its_finds_under_its_new_id(works: Works, office: Office) -> None:
    tablet = works.tablet()
    tablet.push()
    revoke(works, tablet)
    before = {row["batch"] for row in works.rows("batches")}
    body = BatchOpenedV1(number="SA-1", pieces=60)
    opened = tablet.add(body, sign_on=tablet.sign_on, definition=tablet.batch["definition"])
    tablet.batch = {"batch": opened.id, "definition": tablet.batch["definition"]}
    tablet.open_tray()
    tablet.find("lap")
    tablet.push()
    assert office.admit_all(tablet.writer.chain) == ("granted", [])
    [batch] = [row for row in works.rows("batches") if row["batch"] not in before]
    assert batch["number"] == "SA-1"
    assert [row["batch"] for row in works.rows("finds")] == [batch["batch"]]
    assert is_whole(works)


def test_threat_3_unvouched_bytes_are_never_admitted(works: Works, office: Office) -> None:
    tablet, thief = works.tablet(), works.tablet("thief")
    tablet.push()
    thief.writer = copy.copy(tablet.writer)
    thief.outbox = []
    thief.batch, thief.sign_on = tablet.batch, tablet.sign_on
    thief.open_tray()
    assert [one["code"] for one in thief.push()["exceptions"]] == ["unvouched"]
    with reading(works.engine) as connection:
        [line] = lines_aside(connection, tablet.writer.chain)
    assert office.listed(tablet.writer.chain)[0]["lines"] == []
    assert office.admit(tablet.writer.chain, [line.hash]) == ("declined", ["not_admissible"])


def test_a_request_that_was_set_aside_is_not_admitted(works: Works, office: Office) -> None:
    tablet = works.tablet()
    tablet.push()
    revoke(works, tablet)
    asked = tablet.at_bench(HoldLiftRequestedV1(holds=[ANYBODY], seen=[], why="let it go"))
    tablet.push()
    assert office.admit(tablet.writer.chain, [asked.hash]) == ("declined", ["not_admissible"])


def test_threat_9_only_a_lead_admits(works: Works, office: Office) -> None:
    tablet, bench = works.tablet(), works.tablet("bench")
    bench.push(enclosures=[bench.sign_on_as(works.person("Ines Brandt"), "4071")])
    tablet.push()
    revoke(works, tablet)
    tablet.open_tray()
    tablet.push()
    lines = office.listed(tablet.writer.chain)[0]["lines"]
    state, reasons = Office(works, bench).admit(tablet.writer.chain, lines)
    assert (state, "role" in reasons) == ("declined", True)
    assert works.rows("admissions") == []


def test_admitted_work_counts_as_if_it_had_come_under_other_ids(works: Works, office: Office) -> None:
    """The same work twice: one tablet pushes it, a revoked one has it admitted."""
    honest, lost = works.tablet("bench 1"), works.tablet("bench 2")
    for tablet in (honest, lost):
        tablet.push()
    revoke(works, lost)
    for tablet in (honest, lost):
        work_a_tray(tablet, 4, ("lap", "burn", "crack"))
        taken_back = tablet.find("lap")
        tablet.withdraw(taken_back.id)
    honest.push()
    came = shape(works.rows("finds"))
    lost.push()
    office.admit_all(lost.writer.chain)
    known = {name for row in works.rows("finds") if row["sign_on"] == honest.sign_on for name in [row["id"]]}
    admitted = [row for row in works.rows("finds") if row["id"] not in known]
    assert shape(admitted) == came
    assert {row["sign_on"] for row in admitted} == {lost.sign_on}


def shape(finds: list[dict[str, Any]]) -> list[tuple[Any, ...]]:
    """Finds without their ids: what was found, of which class, and which of them are one piece in one tray."""
    ordered = sorted(finds, key=lambda row: (row["defect"], row["weight"]))
    pieces = list(dict.fromkeys(row["piece"] for row in ordered))
    trays = list(dict.fromkeys(row["tray"] for row in ordered))
    return [
        (row["defect"], row["weight"], row["look"], pieces.index(row["piece"]), trays.index(row["tray"]))
        for row in ordered
    ]
