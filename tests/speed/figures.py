# SPDX-License-Identifier: Apache-2.0
"""A measured figure: what it was aimed at, and what the same machine does without us in the same run."""

from __future__ import annotations

import os
import statistics
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

TICKS = os.sysconf("SC_CLK_TCK")


@dataclass(frozen=True, slots=True)
class Floor:
    """What takes the least that is possible here, in the unit of the figure that stands beside it."""

    what: str
    value: float
    cpu: float | None = None


@dataclass(frozen=True, slots=True)
class Figure:
    """One line of the table.

    at_most, at_least   the target, of which a figure has one or none
    floor               what the machine does without us, in the same unit
    cpu                 CPU beside the wall time, of the processes that served  [ms a record, or a request]
    """

    what: str
    value: float
    unit: str
    at_most: float | None = None
    at_least: float | None = None
    floor: Floor | None = None
    cpu: float | None = None

    def told(self) -> dict[str, Any]:
        """The figure as JSON has it, with its ratios; what it has none of is left out."""
        target = self.at_least if self.at_most is None else self.at_most
        said: dict[str, Any] = {"what": self.what, "value": round(self.value, 4), "unit": self.unit}
        if target is not None:
            said |= {
                "target": target,
                "of the target": round(self.value / target, 3) if target else 0,
                "met": self.is_met(),
            }
        if self.floor is not None:
            floor: dict[str, Any] = {"what": self.floor.what, "value": round(self.floor.value, 4)}
            if self.floor.cpu is not None:
                floor["cpu ms"] = round(self.floor.cpu, 4)
            said |= {"floor": floor, "of the floor": round(self.value / self.floor.value, 3)}
        if self.cpu is not None:
            said["cpu ms"] = round(self.cpu, 4)
        return said

    def is_met(self) -> bool:
        """True where the target is reached, or there is none."""
        if self.at_most is not None:
            return self.value <= self.at_most
        return self.at_least is None or self.value >= self.at_least


@dataclass(frozen=True, slots=True)
class Spent:
    """Seconds of the wall's clock, and of this process's CPU."""

    wall: float
    cpu: float


def timed(act: Callable[[], object]) -> Spent:
    """Run a call; returns what it took."""
    wall, cpu = time.perf_counter(), time.process_time()
    act()
    return Spent(time.perf_counter() - wall, time.process_time() - cpu)


def median(spent: Iterable[Spent]) -> Spent:
    """The median of each of the two."""
    times = list(spent)
    return Spent(statistics.median(one.wall for one in times), statistics.median(one.cpu for one in times))


def at(share: float, values: Sequence[float]) -> float:
    """The value that a share of the values does not exceed."""
    ranked = sorted(values)
    return ranked[min(len(ranked) - 1, int(share * len(ranked)))]


def cpu_of(processes: Iterable[int]) -> float:
    """CPU seconds that processes have used since they began, in steps of a tick of the machine."""
    used = 0
    for process in processes:
        words = Path(f"/proc/{process}/stat").read_text().rpartition(")")[2].split()
        used += int(words[11]) + int(words[12])
    return used / TICKS


def children_of(process: int) -> list[int]:
    """The processes that a process started: of a server those that answer."""
    return [int(word) for word in Path(f"/proc/{process}/task/{process}/children").read_text().split()]


def machine() -> dict[str, Any]:
    """What was measured on: cores, and how long ten million additions take Python, the best of three."""

    def add() -> None:
        total = 0
        for one in range(10_000_000):
            total += one

    return {"cores": os.cpu_count(), "ten million additions in s": round(min(timed(add).wall for _ in range(3)), 2)}
