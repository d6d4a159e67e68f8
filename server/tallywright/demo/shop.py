# SPDX-License-Identifier: Apache-2.0
"""The shop floor: who stands where at which time, which place is free, and which loads and lots are open."""

from __future__ import annotations

from bisect import insort
from collections.abc import Callable

from tallywright.demo.telling import Act, Known, Telling
from tallywright.demo.working_time import MINUTE_MS, WorkingTime
from tallywright.records.envelope import Body
from tallywright.records.route import LoadOpenedV1, LotOpenedV1

Make = Body | Callable[[Known], Body]
BEFORE_FILLING = 10 * MINUTE_MS


class Shop:
    """Places are taken one batch after the other; the late shift takes over from the early one."""

    def __init__(self, working: WorkingTime, telling: Telling, crews: dict[str, list[str]], firm: str) -> None:
        self.working = working
        self._telling = telling
        self._crews = crews
        self._firm = firm
        self._taken: dict[str, list[tuple[int, int]]] = {}
        self._opened: dict[str, tuple[int, str, Body]] = {}

    def who(self, place: str, at: int) -> str:
        """Who works at a place: the first of its crew early, the last one late."""
        crew = self._crews[place]
        return crew[-1] if self.working.is_late(at) else crew[0]

    def take(self, place: str, after: int, minutes: int) -> int:
        """Take a place for so long, in one go, as soon as it is free; returns when it begins."""
        taken = self._taken.setdefault(place, [])
        start = self.working.working(after, minutes)
        for begins, ends in taken:
            if start + minutes * MINUTE_MS <= begins:
                break
            if ends > start:
                start = self.working.working(ends, minutes)
        insort(taken, (start, start + minutes * MINUTE_MS))
        return start

    def say(
        self,
        at: int,
        place: str,
        make: Make,
        *,
        person: str = "",
        key: str = "",
        batch: str = "",
        definition: str = "",
        is_fresh: bool = False,
    ) -> None:
        """Say what somebody did at a place."""
        said = make if callable(make) else lambda _known, body=make: body
        who = person or self.who(place, at)
        self._telling.say(Act(at, place, who, said, key, batch, definition, is_fresh))

    def load(self, number: str, operation: int, at: int, place: str) -> str:
        """The key of a load, which is opened before the first pieces go in."""
        return self._open(f"load {number}", at, place, LoadOpenedV1(operation=operation, number=number))

    def lot(self, number: str, operation: int, at: int, place: str) -> str:
        """The key of a lot, which is opened before the first pieces leave with it."""
        return self._open(
            f"lot {number}", at, place, LotOpenedV1(operation=operation, number=number, firm=self._firm)
        )

    def _open(self, key: str, at: int, place: str, body: Body) -> str:
        at -= BEFORE_FILLING
        if key not in self._opened or at < self._opened[key][0]:
            self._opened[key] = at, place, body
        return key

    def say_opened(self) -> None:
        """Say which loads and lots were opened, each before its first pieces."""
        for key, (at, place, body) in self._opened.items():
            self.say(at, place, body, key=key)
