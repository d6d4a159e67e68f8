# SPDX-License-Identifier: Apache-2.0
"""Leads and inspectors who ask about the demo's batch, for the tests of requests."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from tallywright.access.pins import set_pin
from tallywright.db import reading, writing
from tallywright.log.read import of_subject
from tallywright.records.asked import HoldLiftRequestedV1, RequestDeclinedV1, RequestGrantedV1, RequestSecondedV1
from tallywright.records.bench import SeenChain
from tallywright.records.decode import Record
from tallywright.records.people import PersonChangedV1
from tests.actors import Tablet, Works

INSPECTOR, LEAD = ("Ines Brandt", "4071"), ("Jonas Falk", "harbour-71")
CHANGED = "changed"
LIFTED = "lifted_already"
SIGN_ON = "sign_on_not_in_force"


@dataclass
class Bench:
    """An inspector's tablet with one critical mark in the batch, and the lead's."""

    works: Works
    first: Tablet
    mark: Record

    def lead(self, name: str = "lead") -> Tablet:
        """A tablet with the lead signed on and proven."""
        return signed_on(self.works, name, LEAD)

    @property
    def holds(self) -> dict[str, dict[str, Any]]:
        return {row["hold"]: row for row in self.works.rows("holds")}

    def state(self, request: Record) -> tuple[str, list[str]]:
        row = next(row for row in self.works.rows("requests") if row["request"] == request.id)
        return row["state"], json.loads(row["reasons"])


def make_bench(works: Works) -> Bench:
    """Somebody at the bench, whose critical mark holds the batch."""
    first = signed_on(works, "bench 1", INSPECTOR)
    first.open_tray()
    mark = first.find("a_word_nobody_gave_a_class")
    first.push()
    return Bench(works, first, mark)


def signed_on(works: Works, name: str, who: tuple[str, str]) -> Tablet:
    tablet = works.tablet(name)
    tablet.push(enclosures=[tablet.sign_on_as(works.person(who[0]), who[1])])
    return tablet


def another_lead(works: Works, name: str = "Second Lead") -> str:
    """A second lead, who signs on with the first one's PIN as far as the tests care."""
    from tallywright.projections.refold import refold

    with writing(works.engine) as connection:
        (record,) = works.own.write(connection, [PersonChangedV1(name=name, roles=["lead"])])
        set_pin(connection, works.clock.now, record.id, ["lead"], LEAD[1])
        refold(connection, {record.subject})
    return record.id


def change_person(works: Works, body: PersonChangedV1) -> None:
    from tallywright.projections.refold import refold

    with writing(works.engine) as connection:
        (record,) = works.own.write(connection, [body])
        refold(connection, {record.subject})


def seen_now(works: Works, batch: str) -> list[SeenChain]:
    """What somebody sees who has all of the batch."""
    newest: dict[str, int] = {}
    with reading(works.engine) as connection:
        for record in of_subject(connection, batch):
            newest[record.envelope.chain] = max(record.envelope.n, newest.get(record.envelope.chain, 0))
    return [SeenChain(chain=chain, n=n) for chain, n in sorted(newest.items())]


def ask(tablet: Tablet, *holds: str, seen: list[SeenChain] | None = None, **members: Any) -> Record:
    """Ask for a lift, with a PIN given for it alone unless a sign-on is named."""
    if "sign_on" not in members:
        tablet.give_pin_again()
    seen = seen_now(tablet.works, tablet.batch["batch"]) if seen is None else seen
    body = HoldLiftRequestedV1(holds=list(holds), seen=seen, why="looked at together")
    members = {"sign_on": tablet.sign_on, "batch": tablet.batch["batch"], **members}
    return tablet.add(body, **members)


def second(tablet: Tablet, request: Record, **members: Any) -> Record:
    """Put a name under a request, with a PIN given for it alone unless a sign-on is named."""
    if "sign_on" not in members:
        tablet.give_pin_again()
    members = {"sign_on": tablet.sign_on, "batch": tablet.batch["batch"], **members}
    return tablet.add(RequestSecondedV1(request=request.id), **members)


def answers(works: Works) -> list[RequestGrantedV1 | RequestDeclinedV1]:
    with reading(works.engine) as connection:
        found = of_subject(connection, works.batch()["batch"])
    return [r.body for r in found if isinstance(r.body, RequestGrantedV1 | RequestDeclinedV1)]
