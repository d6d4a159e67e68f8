# SPDX-License-Identifier: Apache-2.0
"""Random batches at the bench, from a seed: three tablets, a server, and everything that people do there."""

from __future__ import annotations

import random
from typing import Any

from msgspec import UNSET
from msgspec.structs import replace

from tallywright.records.asked import (
    DifferenceAcceptanceRequestedV1,
    DispositionRequestedV1,
    HoldLiftRequestedV1,
    ReleaseRequestedV1,
    RequestGrantedV1,
)
from tallywright.records.bench import (
    AuthorshipConfirmedV1,
    BatchOpenedV1,
    BatchSplitV1,
    BreakTakenV1,
    DefectTalliedV1,
    ForeignPieceFoundV1,
    HandoverGivenV1,
    HandoverTakenV1,
    HoldPlacedV1,
    LimitCrossedV1,
    LookSignedV1,
    PieceFoundV1,
    PieceJudgedV1,
    PiecesCountedV1,
    RecordWithdrawnV1,
    ReworkReturnedV1,
    ReworkSentV1,
    SeenChain,
    TrayCard,
    TrayClosedV1,
    TrayOpenedV1,
)
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record
from tallywright.records.definition import DefectWord, Limit, PartDefinition, Zone, ZoneClass
from tallywright.records.envelope import Body
from tallywright.records.kinds import chain_of, number_of
from tests.actors import ANYBODY, NOON

ANOTHER = f"{'a' * 26}:2"


def word(defect: str, **members: Any) -> DefectWord:
    return DefectWord(defect=defect, key={"en": defect}, words={"en": defect}, **members)


BY_ZONE = [ZoneClass(zone="bow", defect_class="critical"), ZoneClass(zone="flank", defect_class="minor")]
PART = PartDefinition(
    part="P",
    revision="A",
    name={"en": "P"},
    tray_places=6,
    looks=["first", "second"],
    defects=[
        word("dent", by_zone=BY_ZONE, family="shape", first_seen_at=40),
        word("bend", defect_class="major", family="shape"),
        word("stain", defect_class="minor", first_seen_at=130),
        word("void", defect_class="critical", seen_by_eye="no"),
    ],
    zones=[Zone(zone="bow", words={"en": "bow"}), Zone(zone="ear", words={"en": "ear"}, covered_after=110)],
    limits=[
        Limit(look="first", allowed_per_thousand=0, defect_class="critical"),
        Limit(look="first", allowed_per_thousand=200, defect_class="major"),
        Limit(look="second", allowed_per_thousand=250, defect_class="minor"),
    ],
)
OTHER_WORDS = [word("dent", defect_class="critical"), word("stain", defect_class="major")]
PARTS = {ANYBODY: PART, ANOTHER: replace(PART, defects=OTHER_WORDS)}
ASKED = (HoldLiftRequestedV1, DispositionRequestedV1, DifferenceAcceptanceRequestedV1, ReleaseRequestedV1)


class Batch:
    """One random batch: its records in the order they were made, and whose sign-ons were proven."""

    def __init__(self, seed: int) -> None:
        # What is chosen fits where it is put: a record that does not is refused when it is written.
        self.chance: Any = random.Random(seed)
        self.records: list[Record] = []
        self.proven: dict[str, str] = {}
        self._writers = {
            letter: ChainWriter(letter * 26, ANYBODY, "UTC", n=4, head="0" * 64, site=ANYBODY) for letter in "bcds"
        }
        self._batch = ""
        self._is_calm = self.chance.random() < 0.4
        self._batch = self._add("b", BatchOpenedV1(number="P-1", pieces=self.chance.choice([6, 18, 18, 24]))).id
        for letter in "bcd":
            for n in (2, 3):
                if self._is_calm or self.chance.random() < 0.8:
                    self.proven[f"{letter * 26}:{n}"] = f"{'p' * 26}:{self.chance.randint(1, 6)}"
        self._work(self.chance.randint(0, 3 if self._is_calm else 45))

    def _add(self, letter: str, body: Body) -> Record:
        chance = self.chance
        sign_on = f"{letter * 26}:{chance.choice([2, 2, 3])}"
        if not self._is_calm and chance.random() < 0.1:
            sign_on = f"{'b' * 26}:2"
        definition = ANYBODY
        if self._batch and not self._is_calm:
            definition = chance.choice([ANYBODY] * 40 + [ANOTHER] * 4 + [f"{'z' * 26}:9"])
        record = self._writers[letter].add(
            body,
            NOON + chance.randint(0, 40) * 1000,
            sign_on=sign_on,
            definition=definition,
            skew_ms=chance.choice([0, 0, 500, UNSET]),
            batch=self._batch or UNSET,
        )
        self.records.append(record)
        return record

    def _work(self, acts: int) -> None:
        """Much of it as it should be, so that some looks come out complete; the rest at random."""
        for look in self.chance.choice([["first"], ["first", "second"], ["first", "second"], []]):
            self._whole_look(look)
        for _ in range(acts):
            self._add(self.chance.choice("bcd"), self.chance.choice(self._acts())())
            asked = self._of(*ASKED)
            if asked and self.chance.random() < 0.3:
                self._add("s", RequestGrantedV1(request=self.chance.choice(asked)))
            if self.chance.random() < 0.02:
                self._add("s", LimitCrossedV1(look="first", defect_class="major"))

    def _whole_look(self, look: str) -> None:
        """Counted in, looked at to the last tray or nearly so, with a find here and there, and signed."""
        is_poor = self.chance.random() < 0.2
        cards = [TrayCard(number=number, pieces=6) for number in range(1, 7 if is_poor else 4)]
        operation = self.chance.choice([130, 130, UNSET])
        self._add("d", PiecesCountedV1(look=look, pieces=6 * len(cards), trays=cards, operation=operation))
        for card in cards[: 4 if is_poor else self.chance.choice([2, 3, 3, 3])]:
            letter = self.chance.choice("bc" if look == "first" else "bcd")
            tray = self._add(letter, TrayOpenedV1(look=look, number=card.number, places=6)).id
            for _ in range(self.chance.choice([1, 2] if is_poor else [0, 0, 1, 2])):
                defect = self.chance.choice(["bend"] if is_poor else ["stain", "bend"])
                self._add(letter, DefectTalliedV1(look=look, tray=tray, defect=defect))
            self._add(letter, self._closing(look, tray, exactly=True))
        if self.chance.random() < 0.8:
            self._add("b", LookSignedV1(look=look, seen=self._seen()))
        if self.chance.random() < 0.2:
            asked = self._add("d", ReleaseRequestedV1(seen=self._seen()))
            self._add("s", RequestGrantedV1(request=asked.id))

    def _acts(self) -> list[Any]:
        """What somebody may do next; each is a call that makes the body."""
        chance = self.chance
        look = chance.choice(["first", "first", "second"])
        perhaps = chance.choice([UNSET, look])
        tray = chance.choice(self._of(TrayOpenedV1) or [ANYBODY])
        marks = self._of(DefectTalliedV1) or [ANYBODY]
        mark, count = chance.choice(marks), chance.randint(1, 3)
        anything = chance.choice([record.id for record in self.records])
        cards = [TrayCard(number=n, pieces=chance.choice([5, 6])) for n in (1, 2)]
        operation = chance.choice([UNSET, 30, 150])
        decided = chance.choice(["accept", "rework", "reject"])
        return [
            *[lambda: self._find(look, tray, mark)] * 3,
            *[lambda: self._judgement(look, mark, marks)] * 2,
            lambda: TrayOpenedV1(look=look, number=chance.randint(1, 3), places=6),
            lambda: self._closing(look, tray),
            lambda: RecordWithdrawnV1(record=mark),
            lambda: RecordWithdrawnV1(record=anything, look=look),
            lambda: AuthorshipConfirmedV1(look=look, tray=tray, of_sign_on=f"{chance.choice('bc') * 26}:3"),
            lambda: PiecesCountedV1(look=look, pieces=12, trays=cards, operation=operation),
            lambda: BatchSplitV1(number="P-2", pieces=count, trays=chance.choice([UNSET, [1]]), look=perhaps),
            lambda: ReworkSentV1(look=look, pieces=count),
            lambda: ReworkReturnedV1(look=look, pieces=count),
            lambda: PieceFoundV1(where="bin", pieces=count, look=perhaps),
            lambda: HandoverGivenV1(look=look, tray=tray, place=chance.randint(0, 6)),
            lambda: HandoverTakenV1(look=look, tray=tray, from_first=chance.choice([UNSET, True])),
            lambda: BreakTakenV1(look=look),
            lambda: ForeignPieceFoundV1(look=look, pieces=1, tray=chance.choice([UNSET, tray])),
            lambda: HoldPlacedV1(why="smells", piece=chance.choice([UNSET, mark]), look=perhaps),
            lambda: LookSignedV1(look=look, seen=self._seen()),
            lambda: HoldLiftRequestedV1(holds=[mark, anything], seen=[], why="looked at"),
            lambda: DispositionRequestedV1(piece=mark, look=look, verdict=decided, seen=self._seen()),
            lambda: self._acceptance(look),
            lambda: ReleaseRequestedV1(seen=self._seen()),
        ]

    def _find(self, look: str, tray: str, mark: str) -> Body:
        chance = self.chance
        return DefectTalliedV1(
            look=look,
            tray=tray,
            defect=chance.choice(["dent", "bend", "stain", "void", "not_sure", "odd"]),
            piece=chance.choice([UNSET, UNSET, mark]),
            zone=chance.choice([UNSET, "bow", "flank"]),
            quick_repeat=chance.choice([UNSET] * 9 + [True]),
            round=chance.choice([UNSET, UNSET, 1, 2]),
        )

    def _judgement(self, look: str, mark: str, marks: list[str]) -> Body:
        chance = self.chance
        return PieceJudgedV1(
            look=look,
            piece=mark,
            verdict=chance.choice(["accept", "rework", "query", "reject"]),
            settles=chance.choice([UNSET, [mark], [chance.choice(marks), mark]]),
            round=chance.choice([UNSET, UNSET, 1, 2]),
        )

    def _acceptance(self, look: str) -> Body:
        chance = self.chance
        difference, subject, amount = chance.choice(
            [
                ("foreign_pieces", chance.choice(self._of(ForeignPieceFoundV1) or [""]), 1),
                ("tray_short", chance.choice("12"), chance.choice([-1, -2])),
                ("rework_not_judged", "", chance.choice([-1, -2])),
                ("rework_away", "", chance.choice([1, 2])),
            ]
        )
        return DifferenceAcceptanceRequestedV1(
            look=look, subject=subject, difference=difference, amount=amount, seen=[], why="searched"
        )

    def _closing(self, look: str, tray: str, exactly: bool = False) -> Body:
        empty = 0 if exactly else self.chance.choice([0, 0, 1, 2])
        rejected = 0 if exactly else self.chance.randint(0, 2)
        accepted = 6 - empty - rejected
        return TrayClosedV1(
            look=look,
            tray=tray,
            places=6,
            empty_counted=empty,
            accepted=accepted if exactly else self.chance.choice([accepted, 4]),
            rejected=rejected,
            rework=0,
            query=0,
            all_looked_at=True,
        )

    def _seen(self) -> list[SeenChain]:
        """All that is there, now and then a little less."""
        ends: dict[str, int] = {}
        for record in self.records:
            ends[chain_of(record.id)] = number_of(record.id)
        less = self.chance.choice([0, 0, 1, 3])
        return [SeenChain(chain=chain, n=max(1, n - less)) for chain, n in ends.items()]

    def _of(self, *bodies: type[Body]) -> list[str]:
        return [record.id for record in self.records if isinstance(record.body, bodies)]
