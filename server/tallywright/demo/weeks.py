# SPDX-License-Identifier: Apache-2.0
"""The weeks of the invented works: which batches were begun when, and what everybody did with them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date, time
from typing import Any

import msgspec

from tallywright.config import packed_folder
from tallywright.demo.batch_way import BatchWay
from tallywright.demo.plans import Batch, Product
from tallywright.demo.shop import Shop
from tallywright.demo.telling import Telling
from tallywright.demo.working_time import WorkingTime
from tallywright.records.bench import BatchOpenedV1

WORKS_OPENED, NEW_BATCHES, FIRST_BATCH, EARLY_SHIFT_ENDS = time(5, 0), time(6, 5), time(6, 15), time(13, 59)


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
    weeks: Weeks, time_zone: str, until: date, now: int | None = None, waiting: Sequence[dict[str, Any]] = ()
) -> Told:
    """Tell all batches of the weeks that end with a day's early shift, or with now where that comes first.

    waiting  batches that are opened on the last day, for whoever tries the works: number, part, pieces
    """
    working = WorkingTime(time_zone)
    telling = Telling(working, time_zone)
    shop = Shop(working, telling, weeks.crews, weeks.firm)
    products = {product.part: product for product in weeks.products}
    days = working.workdays_before(until, weeks.days)
    for plan in weeks.batches:
        BatchWay(shop, products[plan.part], plan, working.at(days[0], FIRST_BATCH)).tell()
    for batch in waiting:
        opened = BatchOpenedV1(number=batch["number"], pieces=batch["pieces"])
        shop.say(working.at(until, NEW_BATCHES), "goods-in", opened, definition=batch["part"])
    shop.say_opened()
    ends = working.at(until, EARLY_SHIFT_ENDS)
    ends = ends if now is None else min(now, ends)
    telling.acts = [act for act in telling.acts if act.at <= ends]
    return Told(telling, working, working.at(days[0], WORKS_OPENED), ends)
