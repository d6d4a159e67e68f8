# SPDX-License-Identifier: Apache-2.0
"""What the weeks are made of: products with their routes, and what one batch meets on its way."""

from __future__ import annotations

from typing import Literal

import msgspec


class Step(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One operation of a product's route, as this works does it.

    does      work, or what else there is to it: pieces put into loads, tested, sent out, counted back, looked at
    scrap     pieces of a thousand that it spoils, as a rule
    set_up    pieces a machine takes until it runs right
    samples   pieces a load, or a batch, gives for tests
    look      the name of the look, where it is one
    """

    operation: int
    place: str
    minutes: int
    does: Literal["work", "load", "test", "send", "back", "look", "assemble"] = "work"
    machines: list[str] = []
    tools: list[str] = []
    scrap: int = 0
    set_up: int = 0
    samples: int = 0
    test: str = ""
    look: str = ""


class Product(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A product and its route.

    label, first_number  how its batches are called
    bars                 the fewest and the most bars of a batch
    where                the zones in which each defect word is found
    """

    part: str
    label: str
    first_number: int
    tray_places: int
    cavities: list[str]
    blanks_per_bar: int
    bars: tuple[int, int]
    where: dict[str, list[str]]
    route: list[Step]


class Cause(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """A cause hidden in the weeks: with a tool or in a lot a defect is this frequent [pieces of a thousand].

    cavity    the one that is worn; '' for all
    from_lot  the number of the first lot since it is so
    """

    defect: str
    rate: float
    tool: str = ""
    lot: str = ""
    cavity: str = ""
    from_lot: int = 0


class Draw(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is usual.

    rates        by look: how many of a thousand pieces bear each defect
    tired        the share that an inspector still finds in the last tray of a first look
    short_at     operations at which pieces get lost, in a share of the batches
    """

    rates: dict[str, dict[str, float]]
    causes: list[Cause]
    tired: float
    short_at: list[int]
    short_share: float


class Order(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What is special about one batch of the weeks."""

    critical: str = ""
    may_cross: bool = False
    held_for: str = ""
    stops_before: int = 0
    leaves_queries: bool = False
    found_after_release: str = ""


class Losses(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """What one operation costs a batch; `short` is what nobody can account for."""

    scrap: int = 0
    set_up: int = 0
    samples: int = 0
    short: int = 0


class Find(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One piece that an inspector marks: in which tray, with what, and what becomes of it.

    fate   what the inspector does with it
    good   whether it is good in the end: a piece from rework, or one in query
    """

    tray: int
    defect: str
    fate: Literal["reject", "rework", "query"]
    zone: str = ""
    cavity: str = ""
    good: bool = False


class Batch(msgspec.Struct, frozen=True, forbid_unknown_fields=True):
    """One batch: its size, what it is made with, what it loses where, and what its looks find.

    machines, tools  by operation, in the order of its stints: two of them make two stints
    loads            by operation: the number of each load, and the share of the batch that goes in
    lot              number of the lot outside
    foreign          pieces of another batch that came back with the lot
    found            what turned up later, by operation: pieces, and where
    rivets_left_out  assemblies without a rivet that the function test finds
    held_for         why it is on hold at the end, where it is
    stops_before     the operation it has not come to; 0 where it goes the whole way
    leaves_queries   nobody has settled what its first look was not sure of
    found_after_release  where one of its pieces turned up when it had been released
    """

    number: str
    part: str
    pieces: int
    cast: str
    losses: dict[int, Losses]
    finds: dict[str, list[Find]]
    machines: dict[int, list[str]] = {}
    tools: dict[int, list[str]] = {}
    loads: dict[int, list[str]] = {}
    lot: str = ""
    rivet_lot: str = ""
    foreign: int = 0
    found: dict[int, str] = {}
    rivets_left_out: int = 0
    rivets_issued: int = 0
    held_for: str = ""
    stops_before: int = 0
    leaves_queries: bool = False
    is_released: bool = True
    found_after_release: str = ""
