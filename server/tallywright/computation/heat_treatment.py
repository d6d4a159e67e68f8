# SPDX-License-Identifier: Apache-2.0
"""Was the load hot enough for long enough, and quenched fast enough. Limits always come from the caller.

May import numpy and the room's own checks only.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np
from numpy.typing import ArrayLike

from tallywright.computation import require
from tallywright.computation.require import Floats

__all__ = ["Excursion", "Judgement", "QuenchFinding", "QuenchLimits", "Soak", "quench", "soak"]

# A step in a logger file longer than so many of its usual steps is a gap, unless the caller says otherwise.
USUAL_STEPS_IN_A_GAP = 3.0


@dataclass(frozen=True, slots=True)
class Excursion:
    """One reading time at which a sensor stood above the band, and the highest value then."""

    seconds: float
    highest_c: float


@dataclass(frozen=True, slots=True)
class Soak:
    """One soak.

    seconds_in_band  time with all sensors in the band, gaps left out
    first_in_band    time at which the last sensor came into the band; None when it never did
    excursions       every reading above the band, by itself; never set off against anything
    interrupted      True when the load left the band, or the file has a gap, before it was last in the band
    """

    seconds_in_band: float
    first_in_band: float | None
    excursions: tuple[Excursion, ...]
    interrupted: bool


@dataclass(frozen=True, slots=True)
class QuenchLimits:
    """What the procedure allows, None where it says nothing.

    delay_s       most seconds from the door opening to the last piece under
    tank_start_c  highest temperature of the tank before
    tank_rise_c   most degrees the tank may rise
    """

    delay_s: float | None
    tank_start_c: float | None
    tank_rise_c: float | None


@dataclass(frozen=True, slots=True)
class QuenchFinding:
    """One limit that was exceeded, by which value."""

    what: Literal["delay_s", "tank_start_c", "tank_rise_c"]
    value: float
    limit: float


@dataclass(frozen=True, slots=True)
class Judgement:
    """One quench: the delay, the rise of the tank, and every limit exceeded (on the limit is within)."""

    delay_s: float
    tank_rise_c: float
    findings: tuple[QuenchFinding, ...]


def soak(trace: tuple[ArrayLike, ArrayLike], low_c: float, high_c: float, gap_s: float | None = None) -> Soak:
    """Time a load spent in its band, from the file of a logger.

    trace       seconds, rising, at least 2 (reading,), and sensors (reading, sensor); a sensor that gave
                nothing is NaN and not in band [s],  [degC]
    low_c       lower end of the band                                             [degC]
    high_c      upper end of the band, above low_c                                [degC]
    gap_s       a step longer than this is a gap in the file, above 0; None: three of its usual (median)
                steps  [s]
    returns     Soak                                                              [s], [degC]
    valid       door openings are judged as the procedure says: a fall they cause shows as interrupted
    formula     sum of the steps whose two readings have all sensors in low_c..high_c, gaps left out
    source      definition, as heat treatment specifications count soak (MIL-H-6088G and its successors,
                from memory)
    checked     tests/published/test_heat_treatment_published.py
    """
    seconds, sensors = _trace(trace)
    low_c = require.number("low_c", low_c)
    high_c = require.number("high_c", high_c, above=low_c)
    steps = np.diff(seconds)
    longest = USUAL_STEPS_IN_A_GAP * float(np.median(steps)) if gap_s is None else gap_s
    longest = require.number("gap_s", longest, above=0.0)
    inside = np.asarray(((sensors >= low_c) & (sensors <= high_c)).all(axis=1))
    counted = inside[1:] & inside[:-1] & (steps <= longest)
    above = np.where(np.isnan(sensors), -np.inf, sensors).max(axis=1)
    excursions = tuple(
        Excursion(float(seconds[place]), float(above[place])) for place in np.flatnonzero(above > high_c)
    )
    places = np.flatnonzero(inside)
    if places.size == 0:
        return Soak(0.0, None, excursions, False)
    between = counted[places[0] : places[-1]]
    return Soak(float(steps[counted].sum()), float(seconds[places[0]]), excursions, not bool(between.all()))


def quench(
    door_open_s: float,
    last_immersed_s: float,
    tank_before_c: float,
    tank_after_c: float,
    limits: QuenchLimits,
) -> Judgement:
    """One quench against the limits of its procedure.

    door_open_s      time at which the door begins to open                        [s]
    last_immersed_s  time at which the last piece is under, at or after door_open_s   [s]
    tank_before_c    temperature of the tank before, -50..400                     [degC]
    tank_after_c     highest temperature of the tank after, -50..400              [degC]
    limits           QuenchLimits from the procedure                              [s], [degC]
    returns          Judgement                                                    [s], [degC]
    valid            immersion quench; one clock for both times
    formula          delay = last_immersed_s - door_open_s; rise = tank_after_c - tank_before_c
    source           definition of the quench delay in T.O. 1-1A-9 (seen); limits are the caller's
    checked          tests/published/test_heat_treatment_published.py
    """
    opened = require.number("door_open_s", door_open_s)
    delay = require.number("last_immersed_s", last_immersed_s, at_least=opened) - opened
    before = require.number("tank_before_c", tank_before_c, at_least=-50.0, at_most=400.0)
    rise = require.number("tank_after_c", tank_after_c, at_least=-50.0, at_most=400.0) - before
    allowed = {
        "delay_s": (delay, limits.delay_s),
        "tank_start_c": (before, limits.tank_start_c),
        "tank_rise_c": (rise, limits.tank_rise_c),
    }
    findings = []
    for what in ("delay_s", "tank_start_c", "tank_rise_c"):
        value, limit = allowed[what]
        if limit is not None and value > require.number(f"limits.{what}", limit):
            findings.append(QuenchFinding(what, value, limit))
    return Judgement(delay, rise, tuple(findings))


def _trace(trace: tuple[ArrayLike, ArrayLike]) -> tuple[Floats, Floats]:
    require.holds("trace", "a pair of seconds and sensors", trace, len(trace) == 2)
    seconds = require.array("trace", trace[0], min_size=2)
    require.holds("trace", "a pair whose seconds rise", trace[0], bool((np.diff(seconds) > 0).all()))
    try:
        sensors = np.asarray(trace[1], dtype=np.float64)
    except (TypeError, ValueError):
        sensors = np.empty(0)
    sound = sensors.ndim == 2 and sensors.shape[0] == seconds.size and sensors.shape[1] >= 1
    require.holds("trace", "a pair with one line of sensors for each time", sensors.shape, sound)
    require.holds("trace", "a pair without infinite readings", trace[1], not bool(np.isinf(sensors).any()))
    return seconds, sensors
