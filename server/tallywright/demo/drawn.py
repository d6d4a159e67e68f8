# SPDX-License-Identifier: Apache-2.0
"""Draw the batches that nobody wrote down by hand: sizes, losses and finds, with the causes hidden in them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from random import Random

from msgspec.structs import replace

from tallywright.demo.plans import Batch, Draw, Find, Losses, Order, Product, Step
from tallywright.folds.tally import class_in
from tallywright.records.definition import DefectClass, PartDefinition

BATCHES_A_LOT, BATCHES_A_CAST, BATCHES_A_RIVET_LOT, EVERY_TWO_STINTS = 3, 4, 10, 7
FIRST_LOT, FIRST_LOAD, FIRST_CAST, FIRST_RIVET_LOT = 29, 198, 4465, 5512
FORGE, OUTSIDE, FIRST_LOOK, CAST_NUMBERS_APART = 40, 100, 120, 6


class Drawing:
    """Draws one batch after the other; the same chance draws the same."""

    def __init__(self, chance: Random, draw: Draw, parts: Mapping[str, PartDefinition]) -> None:
        self._chance = chance
        self._draw = draw
        self._parts = parts

    def batch(self, place: int, number: str, product: Product, order: Order) -> Batch:
        """Draw the batch with a place in the weeks; `order` says what is special about it."""
        chance = self._chance
        bars = chance.randint(*product.bars)
        tool, machine = self._forged_with(place, product)
        batch = Batch(
            number=number,
            part=product.part,
            pieces=bars * product.blanks_per_bar,
            cast=f"K{FIRST_CAST + place // BATCHES_A_CAST * CAST_NUMBERS_APART}",
            losses={},
            finds={},
            machines={FORGE: machine},
            tools={FORGE: tool},
            loads={step.operation: _loads(place) for step in product.route if step.does == "load"},
            lot=f"A-{FIRST_LOT + place // BATCHES_A_LOT}",
            rivet_lot=f"R-{FIRST_RIVET_LOT + place // BATCHES_A_RIVET_LOT}",
            held_for=order.held_for,
            stops_before=order.stops_before,
            leaves_queries=order.leaves_queries,
            found_after_release=order.found_after_release,
        )
        losses: dict[int, Losses] = {}
        finds: dict[str, list[Find]] = {}
        crossed: set[str] = set()
        pieces = batch.pieces
        for step in product.route:
            if step.does == "look":
                found = finds[step.look] = self._finds(step, batch, product, pieces, order)
                if len(self._within(found, product, step.look, pieces)) < len(found):
                    crossed.add(step.look)
                pieces -= sum(find.fate == "reject" or not find.good for find in found)
            else:
                lost = losses[step.operation] = self._losses(step, batch, pieces)
                pieces -= lost.scrap + lost.set_up + lost.samples + lost.short
        # What a look has put above its limit is held until somebody has looked again: it goes no further.
        behind_the_first = next(step.operation for step in product.route if step.operation > FIRST_LOOK)
        stopped = batch.stops_before or (behind_the_first if "first" in crossed else 0)
        return replace(batch, losses=losses, finds=finds, stops_before=stopped, is_released="second" not in crossed)

    def _forged_with(self, place: int, product: Product) -> tuple[list[str], list[str]]:
        forge = next(step for step in product.route if step.operation == FORGE)
        if place % EVERY_TWO_STINTS == 0 and len(forge.machines) > 1:
            return forge.tools[:2], forge.machines[:2]
        return [forge.tools[place % len(forge.tools)]], [forge.machines[place % len(forge.machines)]]

    def _losses(self, step: Step, batch: Batch, pieces: int) -> Losses:
        loads = len(batch.loads.get(80, [])) or 1
        is_short = step.operation in self._draw.short_at and self._chance.random() < self._draw.short_share
        return Losses(
            scrap=self._count(pieces, step.scrap),
            set_up=step.set_up,
            samples=step.samples * (loads if step.operation < OUTSIDE else 1),
            short=self._chance.randint(1, 2) if is_short else 0,
        )

    def _count(self, pieces: int, per_thousand: int) -> int:
        return sum(self._chance.random() * 1000 < per_thousand for _ in range(pieces))

    def _rates(self, look: str, batch: Batch, cavity: str) -> dict[str, float]:
        """How many of a thousand pieces bear each defect: as a rule, and by a cause that nobody has seen yet."""
        rates = dict(self._draw.rates[look])
        for cause in self._draw.causes if look == "first" else []:
            is_made = cause.lot == batch.lot if cause.lot else cause.tool in batch.tools[FORGE]
            if is_made and cause.cavity in ("", cavity) and int(batch.lot[2:]) >= cause.from_lot:
                rates[cause.defect] = cause.rate
        return rates

    def _finds(self, step: Step, batch: Batch, product: Product, pieces: int, order: Order) -> list[Find]:
        chance, places = self._chance, product.tray_places
        last = (pieces - 1) // places + 1
        found: list[Find] = []
        rates = {cavity: self._rates(step.look, batch, cavity) for cavity in product.cavities}
        for piece in range(pieces):
            cavity = chance.choice(product.cavities)
            tray = piece // places + 1
            at = chance.random() * 1000
            if step.look == "first" and tray == last:
                at /= self._draw.tired
            for defect, rate in rates[cavity].items():
                if at < rate:
                    found.append(self._find(tray, defect, cavity, product))
                    break
                at -= rate
        if order.critical and step.look == "first":
            found.append(Find(tray=2, defect=order.critical, fate="reject", cavity=product.cavities[0]))
        if order.leaves_queries and step.look == "first":
            found += [self._find(tray, "not_sure", product.cavities[0], product) for tray in (1, 2)]
        if not order.may_cross:
            found = self._within(found, product, step.look, pieces)
        return sorted(found, key=lambda find: find.tray)

    def _find(self, tray: int, defect: str, cavity: str, product: Product) -> Find:
        chance = self._chance
        zone = chance.choice(product.where.get(defect, [""]))
        if defect == "not_sure":
            return Find(
                tray=tray, defect=defect, fate="query", zone=zone, cavity=cavity, good=chance.random() < 0.75
            )
        if self._class(product, defect, zone) == "minor":
            return Find(
                tray=tray, defect=defect, fate="rework", zone=zone, cavity=cavity, good=chance.random() < 0.9
            )
        return Find(tray=tray, defect=defect, fate="reject", zone=zone, cavity=cavity)

    def _class(self, product: Product, defect: str, zone: str) -> DefectClass:
        words = {word.defect: word for word in self._parts[product.part].defects}
        return class_in(words.get(defect), zone)

    def _within(self, found: Sequence[Find], product: Product, look: str, pieces: int) -> list[Find]:
        """As many finds of each class as the look's limit allows."""
        left = {
            limit.defect_class: limit.allowed_per_thousand * pieces // 1000
            for limit in self._parts[product.part].limits or []
            if limit.look == look
        }
        kept = []
        # Any of them may be one too many, not only those of the last trays.
        for find in self._chance.sample(found, len(found)):
            of = "query" if find.fate == "query" else self._class(product, find.defect, find.zone)
            if of == "query" or left.get(of, 0) > 0:
                kept.append(find)
                if of != "query":
                    left[of] -= 1
        return kept


def _loads(place: int) -> list[str]:
    """Two loads, of which the batch before has one as well."""
    return [f"F-{FIRST_LOAD + place}", f"F-{FIRST_LOAD + place + 1}"]
