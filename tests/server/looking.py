# SPDX-License-Identifier: Apache-2.0
"""A batch of twelve in two trays, and the people who look at it: for the tests of what is worked out from it."""

from __future__ import annotations

import json
from dataclasses import dataclass
from typing import Any

from msgspec import UNSET

from tallywright.db import writing
from tallywright.projections.publish import publish_parts
from tallywright.records.asked import DifferenceAcceptanceRequestedV1, ReleaseRequestedV1
from tallywright.records.bench import (
    BatchOpenedV1,
    LimitCrossedV1,
    LookSignedV1,
    PiecesCountedV1,
    SeenChain,
    TrayCard,
    TrayClosedV1,
)
from tallywright.records.decode import Record, read
from tallywright.records.definition import DefectWord, Limit, PartDefinition
from tallywright.records.envelope import Body
from tests.actors import Tablet, Works
from tests.server.sync.asking import INSPECTOR, LEAD, second, seen_now, signed_on

OTHER_INSPECTOR, OPERATOR = ("Piotr Zielny", "5823"), ("Maren Holt", "3960")
PLACES, TRAYS = 6, (1, 2)


def word(defect: str, **members: Any) -> DefectWord:
    return DefectWord(defect=defect, key={"en": defect}, words={"en": defect}, **members)


PART = PartDefinition(
    part="K-7",
    revision="B",
    name={"en": "K-7"},
    tray_places=PLACES,
    looks=["first", "second"],
    defects=[
        word("stain", defect_class="minor"),
        word("bend", defect_class="major"),
        word("lap", defect_class="critical"),
    ],
    limits=[
        Limit(look="first", allowed_per_thousand=100, defect_class="major"),
        Limit(look="first", allowed_per_thousand=0, defect_class="minor"),
        Limit(look="second", allowed_per_thousand=500, defect_class="major"),
    ],
)


@dataclass
class Floor:
    """A batch that waits to be looked at: who counts it in, two inspectors, and the lead; all are proven."""

    works: Works
    counter: Tablet
    first: Tablet
    second: Tablet
    lead: Tablet
    batch: str

    def count_in(self, look: str, pieces: int = PLACES * len(TRAYS)) -> Record:
        """Count the batch in before a look."""
        cards = [TrayCard(number=number, pieces=PLACES) for number in TRAYS]
        counted = self.counter.at_bench(PiecesCountedV1(look=look, pieces=pieces, trays=cards))
        self.counter.push()
        return counted

    def look_through(self, tablet: Tablet, look: str) -> None:
        """Count a look in, look at all of it without a find, and sign it."""
        self.count_in(look)
        for number in TRAYS:
            tablet.open_tray(number, look)
            close(tablet, look)
        tablet.push()
        self.sign(tablet, look)

    def sign(self, tablet: Tablet, look: str) -> Record:
        """Sign a look on all that is there."""
        signed = tablet.at_bench(LookSignedV1(look=look, seen=self.seen()))
        tablet.push()
        return signed

    def complete(self) -> None:
        """Both looks, by two people, without a find."""
        self.look_through(self.first, "first")
        self.look_through(self.second, "second")

    def seen(self) -> list[SeenChain]:
        return seen_now(self.works, self.batch)

    def ask_release(self, seen: list[SeenChain] | None = None) -> Record:
        """The lead asks, with a PIN for it alone; nothing is pushed yet."""
        self.lead.give_pin_again()
        return self.ask(ReleaseRequestedV1(seen=self.seen() if seen is None else seen))

    def ask_acceptance(self, line: tuple[str, str, str, int], seen: list[SeenChain] | None = None) -> Record:
        """The lead asks for a difference to be accepted: look, kind, subject and amount."""
        look, difference, subject, amount = line
        return self.ask(
            DifferenceAcceptanceRequestedV1(
                look=look or UNSET,
                difference=difference,
                subject=subject,
                amount=amount,
                seen=self.seen() if seen is None else seen,
                why="searched the bin and the bench",
            )
        )

    def ask(self, body: Body) -> Record:
        return self.lead.add(body, sign_on=self.lead.sign_on, batch=self.batch)

    def second_and_push(self, request: Record) -> None:
        """An inspector puts the second name to it; then the request comes."""
        second(self.second, request)
        self.second.push()
        self.lead.push()

    def answer(self, request: Record) -> tuple[str, list[str]]:
        row = next(row for row in self.works.rows("requests") if row["request"] == request.id)
        return row["state"], json.loads(row["reasons"])

    def release(self) -> Record:
        """Ask, second, push; returns the request."""
        request = self.ask_release()
        self.second_and_push(request)
        return request

    def rows(self, table: str) -> list[dict[str, Any]]:
        return [row for row in self.works.rows(table) if row["batch"] == self.batch]

    def points(self) -> dict[str, list[tuple[str, str, int]]]:
        """The open points of each look."""
        pages = {row["look"]: json.loads(row["page"])["look"]["points"] for row in self.rows("looks")}
        return {look: [(p["kind"], p["subject"], p["amount"]) for p in points] for look, points in pages.items()}

    def crossed(self) -> list[tuple[str, str]]:
        """What the server's chain says about limits, in the order it said it."""
        from sqlalchemy import select

        from tallywright.db import reading
        from tallywright.log.tables import records

        with reading(self.works.engine) as connection:
            of_batch = select(records.c.line).where(records.c.subject == self.batch).order_by(records.c.number)
            bodies = [read(line).body for line in connection.scalars(of_batch)]
        return [(body.look, body.defect_class) for body in bodies if isinstance(body, LimitCrossedV1)]


def make_floor(works: Works, part: PartDefinition = PART) -> Floor:
    """Publish a part, open a batch of it, and sign everybody on."""
    with writing(works.engine) as connection:
        [(definition, _)] = publish_parts(connection, works.own, [part])
    tablets = [
        signed_on(works, name, who)
        for name, who in (
            ("scales", OPERATOR),
            ("bench 1", INSPECTOR),
            ("bench 2", OTHER_INSPECTOR),
            ("office", LEAD),
        )
    ]
    opened = tablets[0].add(
        BatchOpenedV1(number="K7-1", pieces=PLACES * len(TRAYS)),
        sign_on=tablets[0].sign_on,
        definition=definition,
    )
    for tablet in tablets:
        tablet.batch = {"batch": opened.id, "definition": definition}
        tablet.outbox = [record for record in tablet.outbox if record.id == opened.id]
    tablets[0].push()
    counter, first, other, lead = tablets
    return Floor(works, counter, first, other, lead, opened.id)


def close(tablet: Tablet, look: str, empty: int = 0, rejected: int = 0) -> Record:
    """Close the open tray: all looked at."""
    return tablet.at_bench(
        TrayClosedV1(
            look=look,
            tray=tablet.tray,
            places=PLACES,
            empty_counted=empty,
            accepted=PLACES - empty - rejected,
            rejected=rejected,
            rework=0,
            query=0,
            all_looked_at=True,
        )
    )
