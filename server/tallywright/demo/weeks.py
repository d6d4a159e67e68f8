# SPDX-License-Identifier: Apache-2.0
"""The weeks of the invented works: which batches were begun when, and what everybody did with them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import date, time
from random import Random
from typing import Any

import msgspec

from tallywright.config import packed_folder
from tallywright.demo.batch_way import BatchWay
from tallywright.demo.drawn import Drawing
from tallywright.demo.plans import Batch, Draw, Order, Product
from tallywright.demo.shop import Shop
from tallywright.demo.telling import Telling
from tallywright.demo.working_time import MINUTE_MS, WorkingTime
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.definition import PartDefinition

WORKS_OPENED, NEW_BATCHES, FIRST_BATCH, EARLY_SHIFT_ENDS = time(5, 0), time(6, 5), time(6, 15), time(13, 59)
HOURS_APART = 3


class Weeks(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """demo_seed/weeks.json: the seed, who works where, what is made, and the batches written down by hand."""

    seed: int
    days: int
    firm: str
    people: list[dict[str, Any]]
    parts: list[dict[str, Any]]
    crews: dict[str, list[str]]
    products: list[Product]
    batches: list[Batch]
    turns: list[str]
    count: int
    draw: Draw
    orders: dict[int, Order]


def read_weeks() -> Weeks:
    """Read the weeks' file."""
    return msgspec.json.decode((packed_folder("demo_seed") / "weeks.json").read_bytes(), type=Weeks)


@dataclass(frozen=True)
class Told:
    """What was told: all acts, and when the weeks begin and end."""

    telling: Telling
    working: WorkingTime
    begins: int
    ends: int


def tell_weeks(
    weeks: Weeks,
    parts: dict[str, PartDefinition],
    time_zone: str,
    until: date,
    now: int | None = None,
    waiting: Sequence[dict[str, Any]] = (),
) -> Told:
    """Tell all batches of the weeks that end with a day's early shift, or with now where that comes first.

    parts    the part definitions by their names
    waiting  batches that are opened on the last day, for whoever tries the works: number, part, pieces
    """
    working = WorkingTime(time_zone)
    telling = Telling(working, time_zone)
    shop = Shop(working, telling, weeks.crews, weeks.firm)
    products = {product.part: product for product in weeks.products}
    days = working.workdays_before(until, weeks.days)
    for place, plan in enumerate(_plans(weeks, products, parts)):
        day = days[place * len(days) // weeks.count]
        start = working.at(day, FIRST_BATCH) + place % 2 * HOURS_APART * 60 * MINUTE_MS
        BatchWay(shop, products[plan.part], plan, start).tell()
    ends = working.at(until, EARLY_SHIFT_ENDS)
    ends = ends if now is None else min(now, ends)
    for batch in waiting:
        opened = BatchOpenedV1(number=batch["number"], pieces=batch["pieces"])
        # Whoever tries the works before its day begins finds them as well.
        at = min(working.at(until, NEW_BATCHES), ends)
        shop.say(at, "goods-in", opened, definition=batch["part"])
    shop.say_opened()
    telling.acts = [act for act in telling.acts if act.at <= ends]
    return Told(telling, working, working.at(days[0], WORKS_OPENED), ends)


def _plans(weeks: Weeks, products: dict[str, Product], parts: dict[str, PartDefinition]) -> Iterator[Batch]:
    """Every batch in the order in which they were begun: those written down by hand at their number's place."""
    drawing = Drawing(Random(weeks.seed), weeks.draw, parts)  # noqa: S311 - nobody has to guess it
    written = {batch.number: batch for batch in weeks.batches}
    numbers = {part: product.first_number for part, product in products.items()}
    for place in range(weeks.count):
        product = products[weeks.turns[place % len(weeks.turns)]]
        number = f"{product.label}-{numbers[product.part]:04}"
        numbers[product.part] += 1
        drawn = drawing.batch(place, number, product, weeks.orders.get(place, Order()))
        yield written.get(number, drawn)
