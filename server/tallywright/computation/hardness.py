# SPDX-License-Identifier: Apache-2.0
"""Hardness from the diameter of an indentation. May import the standard library and the room's own checks only."""

from __future__ import annotations

import math

from tallywright.computation import require

__all__ = ["brinell", "brinell_kgf"]

# Below, the ball sinks too little to be read; above, the metal heaps up around it.
SMALLEST_RATIO, LARGEST_RATIO = 0.24, 0.60


def brinell(force_n: float, ball_mm: float, diameter_mm: float) -> float:
    """Brinell hardness HBW from a force in newtons.

    force_n      test force, above 0                                              [N]
    ball_mm      diameter of the hard-metal ball, above 0                         [mm]
    diameter_mm  mean diameter of the indentation, 0.24 to 0.60 of the ball       [mm]
    returns      HBW                                                              [HBW]
    valid        piece at least eight times as thick as the indentation is deep, distances and times as
                 the standard says; never converted to another scale for acceptance
    formula      0.102 x 2 F / (pi D (D - sqrt(D^2 - d^2)))
    source       ISO 6506-1, clause 3
    checked      tests/published/test_hardness_published.py
    """
    force = require.number("force_n", force_n, above=0.0)
    return 0.102 * force / _area(ball_mm, diameter_mm)


def brinell_kgf(force_kgf: float, ball_mm: float, diameter_mm: float) -> float:
    """Brinell hardness HBW from a nominal force in kilograms-force, as tables are printed.

    force_kgf    nominal test force, above 0                                      [kgf]
    ball_mm      diameter of the hard-metal ball, above 0                         [mm]
    diameter_mm  mean diameter of the indentation, 0.24 to 0.60 of the ball       [mm]
    returns      HBW, up to 0.03 % below brinell, because 0.102 is rounded        [HBW]
    valid        as brinell
    formula      2 F / (pi D (D - sqrt(D^2 - d^2)))
    source       ISO 6506-4; ASTM E10 (printed tables from memory)
    checked      tests/published/test_hardness_published.py
    """
    force = require.number("force_kgf", force_kgf, above=0.0)
    return force / _area(ball_mm, diameter_mm)


def _area(ball_mm: float, diameter_mm: float) -> float:
    ball = require.number("ball_mm", ball_mm, above=0.0)
    diameter = require.number("diameter_mm", diameter_mm, above=0.0)
    ratio = diameter / ball
    wanted = f"{SMALLEST_RATIO:g} to {LARGEST_RATIO:g} of the ball of {ball:g} mm"
    inside = SMALLEST_RATIO - 1e-9 <= ratio <= LARGEST_RATIO + 1e-9
    require.holds("diameter_mm", wanted, diameter_mm, inside)
    return math.pi * ball * (ball - math.sqrt(ball * ball - diameter * diameter)) / 2.0
