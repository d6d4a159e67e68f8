# SPDX-License-Identifier: Apache-2.0
"""The one place where a parameter is held against its range: each sentence names the parameter and the range.

Every public computation passes its parameters through here first, so that nothing outside the validity of a
method is ever turned into a number. May import numpy and the room's errors only.
"""

from __future__ import annotations

import math
import operator
from collections.abc import Iterable

import numpy as np
from numpy.typing import ArrayLike, NDArray

from tallywright.computation.errors import OutOfRange

Floats = NDArray[np.float64]

# Sizes whose squares and quotients a float still carries. Nothing that is counted or measured here lies
# outside.
MOST = 10**9
LARGEST, SMALLEST = 1e15, 1e-100
_SIZES = f", of a size from {SMALLEST:g} to {LARGEST:g}"


def _outside(name: str, wanted: str, value: object) -> OutOfRange:
    shown = repr(value)
    return OutOfRange(f"{name} must be {wanted}, not {shown if len(shown) <= 60 else shown[:57] + '...'}")


def whole(name: str, value: object, low: int, high: int | None = None) -> int:
    """A whole number from low to high, both included; high None means a thousand million."""
    wanted = f"a whole number from {low} to {MOST if high is None else high}"
    try:
        number = operator.index(value)  # type: ignore[arg-type]  # what is no number is what the except is for
    except TypeError:
        raise _outside(name, wanted, value) from None
    if number < low or number > (MOST if high is None else high):
        raise _outside(name, wanted, value)
    return number


def number(
    name: str,
    value: object,
    *,
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
) -> float:
    """A number inside the ends given, of a size that can be reckoned with; an end that is None does not exist."""
    words = [
        f"{word} {end:g}"
        for word, end in (("above", above), ("at least", at_least), ("below", below), ("at most", at_most))
        if end is not None
    ]
    wanted = "a number" + (" " + " and ".join(words) if words else "")
    try:
        real = float(value)  # type: ignore[arg-type]  # what is no number is what the except is for
    except (TypeError, ValueError, OverflowError):
        raise _outside(name, wanted, value) from None
    if _is_beyond_reckoning(real, real, above):
        raise _outside(name, wanted + _SIZES, value)
    inside = (
        math.isfinite(real)
        and (above is None or real > above)
        and (at_least is None or real >= at_least)
        and (below is None or real < below)
        and (at_most is None or real <= at_most)
    )
    if not inside or isinstance(value, str):
        raise _outside(name, wanted, value)
    return real


def _is_beyond_reckoning(low: float, high: float, above: float | None) -> bool:
    """Whether finite numbers from low to high are too large, or too near to the 0 they must lie above."""
    too_near = above == 0.0 and 0.0 < low < SMALLEST
    return too_near or LARGEST < max(abs(low), abs(high)) < math.inf


def between_0_and_1(name: str, value: object) -> float:
    """A number strictly between 0 and 1: a confidence level, a risk, a proportion."""
    return number(name, value, above=0.0, below=1.0)


def share(name: str, value: object) -> float:
    """A number from 0 to 1, both included: a rate, a power, a probability."""
    return number(name, value, at_least=0.0, at_most=1.0)


def one_of(name: str, value: str, options: Iterable[str]) -> str:
    """One of the words of the list."""
    words = tuple(options)
    if value not in words:
        raise _outside(name, "one of " + ", ".join(words), value)
    return value


def array(
    name: str,
    values: ArrayLike,
    ndim: int = 1,
    *,
    at_least: float | None = None,
    above: float | None = None,
    whole_numbers: bool = False,
    min_size: int = 1,
    number_too: bool = False,
) -> Floats:
    """A float array of the given number of dimensions, every element inside the ends given.

    number_too lets a single number stand for a list of one.
    """
    shape = {1: "a list", 2: "a table with two dimensions", 3: "a block with three dimensions"}[ndim]
    kind = "whole numbers" if whole_numbers else "numbers"
    wanted = f"{shape} of {kind}"
    if at_least is not None:
        wanted += f", each at least {at_least:g}"
    if above is not None:
        wanted += f", each above {above:g}"
    if min_size > 1:
        wanted += f", at least {min_size} of them"
    try:
        data = np.asarray(values, dtype=np.float64)
    except (TypeError, ValueError, OverflowError):
        raise _outside(name, wanted, values) from None
    if number_too and data.ndim == 0:
        data = data.reshape(1)
    sound = data.ndim == ndim and data.size >= max(min_size, 1) and bool(np.isfinite(data).all())
    if sound and _is_beyond_reckoning(float(data.min()), float(data.max()), above):
        raise _outside(name, wanted + _SIZES, values)
    if sound and at_least is not None:
        sound = bool(data.min() >= at_least)
    if sound and above is not None:
        sound = bool(data.min() > above)
    if sound and whole_numbers:
        sound = bool((data == np.floor(data)).all())
    if not sound:
        raise _outside(name, wanted, values)
    return data


def holds(name: str, wanted: str, value: object, condition: bool) -> None:
    """Raise OutOfRange unless the condition holds; wanted says it in words."""
    if not condition:
        raise _outside(name, wanted, value)
