# SPDX-License-Identifier: Apache-2.0
"""Runs and patterns on a chart: Nelson's eight rules over whole arrays at once.

Public through control_chart. May import numpy and the room's own checks only.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tallywright.computation import require
from tallywright.computation.require import Floats

Flags = NDArray[np.bool_]

ALL_RULES = (1, 2, 3, 4, 5, 6, 7, 8)
# A value printed with few decimals may miss a line that it lies on by rounding alone.
_ON_THE_LINE = 1e-9


def run_signals(
    values: ArrayLike, centre: ArrayLike, sigma: ArrayLike, rules: Iterable[int] = ALL_RULES
) -> dict[int, list[int]]:
    """Points at which Nelson's rules fire.

    values      in order of making, one stream (a cavity, a machine)  (point,)    [unit of the chart]
    centre      centre line, one number or one a point                            [unit of the chart]
    sigma       distance of one standard deviation, above 0, one number or one a point   [unit of the chart]
    rules       numbers of the rules asked for, 1 to 8; screens ask for 1 and 2, because all eight raise a
                signal on one good chart of 25 points in four
    returns     rule -> numbers of the points that complete its pattern, 1-based, rising; an empty list
                when none
    valid       independent points; a point on a line is not beyond it, a point on the centre line is on
                neither side, equal neighbours end a trend
    formula     1 beyond 3 sigma; 2 nine on one side; 3 six rising or falling; 4 fourteen alternating; 5
                two of three beyond 2 sigma on one side; 6 four of five beyond 1 sigma on one side; 7
                fifteen within 1 sigma; 8 eight beyond 1 sigma on either side
    source      Nelson, Journal of Quality Technology 16 (1984) 237-239 (rules from memory)
    checked     tests/published/test_control_chart_published.py
    """
    data = require.array("values", values)
    middle = _per_point("centre", centre, data)
    distance = _per_point("sigma", sigma, data)
    require.holds("sigma", "above 0", sigma, bool((distance > 0).all()))
    wanted = [require.whole("rules", rule, 1, 8) for rule in rules]
    z = (data - middle) / distance
    found = {}
    for rule in wanted:
        fires = _trend_rules[rule](data) if rule in _trend_rules else _zone_rules[rule](z)
        found[rule] = (np.flatnonzero(fires) + 1).tolist()
    return found


def _per_point(name: str, value: ArrayLike, data: Floats) -> Floats:
    given = require.array(name, value, number_too=True)
    require.holds(name, "one number, or one for each of the values", value, given.size in (1, data.size))
    return given


def _run_of(flags: Flags, length: int) -> Flags:
    """True where a run of at least so many true flags ends."""
    place = np.arange(flags.size)
    last_false = np.maximum.accumulate(np.where(flags, -1, place))
    return place - last_false >= length


def _so_many_of(flags: Flags, least: int, window: int) -> Flags:
    """True where the full window that ends here holds at least so many true flags."""
    fires = np.zeros(flags.size, dtype=np.bool_)
    if flags.size < window:
        return fires
    total = np.concatenate(([0], np.cumsum(flags)))
    fires[window - 1 :] = total[window:] - total[: flags.size - window + 1] >= least
    return fires


def _beyond(z: Floats) -> Flags:
    return np.abs(z) > 3.0 + _ON_THE_LINE


def _one_side(z: Floats) -> Flags:
    return _run_of(z > _ON_THE_LINE, 9) | _run_of(z < -_ON_THE_LINE, 9)


def _two_of_three(z: Floats) -> Flags:
    return _so_many_of(z > 2.0 + _ON_THE_LINE, 2, 3) | _so_many_of(z < -2.0 - _ON_THE_LINE, 2, 3)


def _four_of_five(z: Floats) -> Flags:
    return _so_many_of(z > 1.0 + _ON_THE_LINE, 4, 5) | _so_many_of(z < -1.0 - _ON_THE_LINE, 4, 5)


def _close(z: Floats) -> Flags:
    return _run_of(np.abs(z) < 1.0 - _ON_THE_LINE, 15)


def _apart(z: Floats) -> Flags:
    return _run_of(np.abs(z) > 1.0 + _ON_THE_LINE, 8)


def _trend(values: Floats) -> Flags:
    steps = np.diff(values)
    return np.concatenate(([False], _run_of(steps > 0, 5) | _run_of(steps < 0, 5)))


def _alternation(values: Floats) -> Flags:
    signs = np.sign(np.diff(values))
    turns = signs[1:] * signs[:-1] < 0
    return np.concatenate((np.zeros(min(2, values.size), dtype=np.bool_), _run_of(turns, 12)))


_zone_rules: dict[int, Callable[[Floats], Flags]] = {
    1: _beyond,
    2: _one_side,
    5: _two_of_three,
    6: _four_of_five,
    7: _close,
    8: _apart,
}
_trend_rules: dict[int, Callable[[Floats], Flags]] = {3: _trend, 4: _alternation}
