# SPDX-License-Identifier: Apache-2.0
"""How much of the strength a measured cooling curve leaves. Constants have no defaults: published sets disagree.

The public function has the name of its module. May import numpy and the room's own checks only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike

from tallywright.computation import require

__all__ = ["QuenchConstants", "QuenchFactor", "quench_factor"]

GAS_CONSTANT = 8.314462618


@dataclass(frozen=True, slots=True)
class QuenchConstants:
    """The C-curve of one alloy and temper, to be entered with its source.

    k1  logarithm of the share left on the curve, below 0 (99.5 %: -0.00501)      [1]
    k2  above 0                                                                   [s]
    k3  above 0                                                                   [J/mol]
    k4  solvus temperature, above 0                                               [K]
    k5  activation energy, above 0                                                [J/mol]
    """

    k1: float
    k2: float
    k3: float
    k4: float
    k5: float


@dataclass(frozen=True, slots=True)
class QuenchFactor:
    """Quench factor, and the share of the attainable strength that is left."""

    q: float
    retained: float


def quench_factor(seconds: ArrayLike, temperatures_k: ArrayLike, constants: QuenchConstants) -> QuenchFactor:
    """Quench factor of a cooling curve.

    seconds         rising, at least 2  (reading,)                                [s]
    temperatures_k  of the metal, above 0, one for each time  (reading,)          [K]
    constants       QuenchConstants of the alloy and temper, with a source of their own
    returns         QuenchFactor                                                  [1]
    valid           curves whose steps are short against the nose of the C-curve; above k4 nothing
                    precipitates
    formula         sum over intervals of dt / Ct at the middle temperature, Ct = -k1 k2 exp(k3 k4^2 / (R
                    T (k4 - T)^2)) exp(k5 / R T); retained = exp(k1 q)
    source          Evancho and Staley, Metallurgical Transactions 5 (1974) 43-47 (equation and constants
                    from memory)
    checked         tests/published/test_quench_factor_published.py
    """
    times = require.array("seconds", seconds, min_size=2)
    require.holds("seconds", "rising", seconds, bool((np.diff(times) > 0).all()))
    kelvin = require.array("temperatures_k", temperatures_k, above=0.0)
    require.holds("temperatures_k", "one for each of the seconds", temperatures_k, kelvin.size == times.size)
    k1 = require.number("constants.k1", constants.k1, below=0.0)
    k2 = require.number("constants.k2", constants.k2, above=0.0)
    k3 = require.number("constants.k3", constants.k3, above=0.0)
    k4 = require.number("constants.k4", constants.k4, above=0.0)
    k5 = require.number("constants.k5", constants.k5, above=0.0)
    middle = (kelvin[1:] + kelvin[:-1]) / 2.0
    below = middle < k4
    t = middle[below]
    # In logarithms, because the critical time near the solvus is beyond any float.
    log_critical = math.log(-k1 * k2) + k3 * k4**2 / (GAS_CONSTANT * t * (k4 - t) ** 2) + k5 / (GAS_CONSTANT * t)
    q = float((np.diff(times)[below] * np.exp(-log_critical)).sum())
    return QuenchFactor(q, math.exp(k1 * q))
