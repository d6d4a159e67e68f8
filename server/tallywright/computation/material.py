# SPDX-License-Identifier: Apache-2.0
"""Is it the metal that was ordered, and is all of it accounted for.

May import the standard library, scipy.special and the room's own checks only.
"""

from __future__ import annotations

import math
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, ROUND_HALF_UP, Decimal
from fractions import Fraction
from typing import Literal

from scipy import special

from tallywright.computation import require

__all__ = [
    "BarCut",
    "Finding",
    "WeighCount",
    "judge_certificate",
    "mass_per_metre",
    "pieces_from_mass",
    "pieces_per_bar",
    "recovery",
]

_PRINTED = re.compile(r"(<?)([0-9]+(?:\.[0-9]+)?)", re.ASCII)
_ROUNDINGS = {"half_even": ROUND_HALF_EVEN, "half_up": ROUND_HALF_UP}
_SIZES = {"round": 1, "square": 1, "hexagon": 1, "flat": 2, "tube": 2}


@dataclass(frozen=True, slots=True)
class Finding:
    """One element of a certificate: value as printed, None when missing, against the limit 'low..high'."""

    element: str
    value: str | None
    limit: str
    verdict: Literal["ok", "above", "below", "missing"]


@dataclass(frozen=True, slots=True)
class BarCut:
    """Pieces out of one bar, and what is left: trim, remnant, the rest and the last cut."""

    pieces: int
    left_mm: float


@dataclass(frozen=True, slots=True)
class WeighCount:
    """Pieces counted by mass, the standard deviation of the count, and the chance that it is wrong by a piece."""

    pieces: int
    sd: float
    chance_wrong: float


def judge_certificate(
    limits: Mapping[str, tuple[str | None, str | None]],
    certificate: Mapping[str, str],
    rounding: Literal["half_even", "half_up"] = "half_even",
) -> list[Finding]:
    """A certificate against the limits of its alloy, by the rounding method.

    limits       element -> (lowest or None, highest or None), as printed, one of the two given
                 [percent by mass]
    certificate  element -> value as printed, with a decimal point; '<0.01' for less than  [percent by mass]
    rounding     'half_even', or 'half_up' where the order says so
    returns      one Finding for each element of limits, in their order; elements without a limit are not
                 judged
    valid        certificates only: gauge readings are compared as shown, never rounded first; '<' only
                 where it decides
    formula      the value is rounded to the decimals of the limit and then compared; on the limit is ok
    source       ISO 80000-1, annex B; ASTM E29, rounding method
    checked      tests/published/test_material_published.py
    """
    mode = _ROUNDINGS[require.one_of("rounding", rounding, _ROUNDINGS)]
    findings = []
    for element, (low, high) in limits.items():
        given = low is not None or high is not None
        require.holds("limits", f"a lowest or a highest value for {element}", (low, high), given)
        limit = f"{low or ''}..{high or ''}"
        for end in (low, high):
            if end is not None:
                require.holds(
                    "limits", f"printed decimals for {element}", end, _less_than_and_value(end)[0] is False
                )
        if element not in certificate:
            findings.append(Finding(element, None, limit, "missing"))
            continue
        printed = certificate[element]
        findings.append(Finding(element, printed, limit, _verdict(element, printed, low, high, mode)))
    return findings


def mass_per_metre(section: str, sizes_mm: float | Sequence[float], density_g_cm3: float) -> float:
    """Mass of a metre of bar.

    section        'round', 'square', 'hexagon', 'flat' or 'tube'
    sizes_mm       diameter; side; across flats; (width, thickness); (outer, wall), each above 0   [mm]
    density_g_cm3  above 0                                                        [g/cm3]
    returns        mass                                                           [kg/m]
    valid          nominal sizes; a bar at the end of its tolerance differs by twice the tolerance / size
    formula        density x area / 1000; hexagon sqrt(3) / 2 s^2
    source         definition
    checked        tests/published/test_material_published.py
    """
    wanted = _SIZES[require.one_of("section", section, _SIZES)]
    given = list(sizes_mm) if isinstance(sizes_mm, Sequence) else [sizes_mm]
    require.holds("sizes_mm", f"{wanted} number(s) for {section}", sizes_mm, len(given) == wanted)
    sizes = [require.number("sizes_mm", size, above=0.0) for size in given]
    density = require.number("density_g_cm3", density_g_cm3, above=0.0)
    first, last = sizes[0], sizes[-1]
    if section == "tube":
        require.holds("sizes_mm", "a wall of less than half the outer diameter", sizes_mm, 2 * last < first)
    area = {
        "round": math.pi * first**2 / 4,
        "square": first**2,
        "hexagon": math.sqrt(3.0) / 2.0 * first**2,
        "flat": first * last,
        "tube": math.pi * last * (first - last),
    }[section]
    return density * area / 1000.0


def pieces_per_bar(
    bar_mm: float, piece_mm: float, kerf_mm: float, trim_mm: float = 0.0, remnant_mm: float = 0.0
) -> BarCut:
    """Pieces that one bar gives.

    bar_mm      length of the bar, above 0                                        [mm]
    piece_mm    length of a piece, above 0                                        [mm]
    kerf_mm     width of a cut, at least 0                                        [mm]
    trim_mm     cut off at the start, at least 0                                  [mm]
    remnant_mm  needed at the end to hold the bar, at least 0                     [mm]
    returns     BarCut; left_mm is the bar less the pieces and the cuts between them   [pieces], [mm]
    valid       lengths in decimals, counted exactly
    formula     floor((bar - trim - remnant + kerf) / (piece + kerf)), not below 0: the last piece needs
                no cut
    source      definition
    checked     tests/published/test_material_published.py
    """
    bar = _exact(require.number("bar_mm", bar_mm, above=0.0))
    piece = _exact(require.number("piece_mm", piece_mm, above=0.0))
    kerf = _exact(require.number("kerf_mm", kerf_mm, at_least=0.0))
    trim = _exact(require.number("trim_mm", trim_mm, at_least=0.0))
    remnant = _exact(require.number("remnant_mm", remnant_mm, at_least=0.0))
    pieces = max(0, math.floor((bar - trim - remnant + kerf) / (piece + kerf)))
    used = pieces * piece + max(0, pieces - 1) * kerf
    return BarCut(pieces, float(bar - used))


def recovery(good_mass_g: float, issued_mass_g: float) -> float:
    """Share of the metal issued that ends in good pieces.

    good_mass_g    mass of the good pieces, 0 <= good_mass_g <= issued_mass_g     [g]
    issued_mass_g  mass issued, above 0                                           [g]
    returns        share, 0..1                                                    [1]
    valid          both weighed dry, scrap and samples not in good_mass_g
    formula        good_mass_g / issued_mass_g
    source         definition
    checked        tests/published/test_material_published.py
    """
    issued = require.number("issued_mass_g", issued_mass_g, above=0.0)
    return require.number("good_mass_g", good_mass_g, at_least=0.0, at_most=issued) / issued


def pieces_from_mass(net_g: float, reference_mass_g: float, reference_count: int, cv: float) -> WeighCount:
    """Pieces in a box, from their mass.

    net_g             mass of the pieces without the box, at least 0              [g]
    reference_mass_g  mass of the counted pieces, above 0                         [g]
    reference_count   pieces counted by hand, at least 1                          [pieces]
    cv                standard deviation of the mass of a piece / its mean, 0..1  [1]
    returns           WeighCount                                                  [pieces], chance [1]
    valid             pieces of one kind, masses independent of one another, a scale finer than half a piece
    formula           N = net / mean mass, rounded; sd = cv sqrt(N + N^2 / reference_count); chance = 2
                      Phi(-1 / (2 sd))
    source            propagation of errors, definition
    checked           tests/published/test_material_published.py
    """
    net = require.number("net_g", net_g, at_least=0.0)
    mean = require.number("reference_mass_g", reference_mass_g, above=0.0)
    count = require.whole("reference_count", reference_count, 1)
    cv = require.share("cv", cv)
    pieces = round(net * count / mean)
    sd = cv * math.sqrt(pieces + pieces**2 / count)
    return WeighCount(pieces, sd, 0.0 if sd == 0.0 else float(2.0 * special.ndtr(-0.5 / sd)))


def _verdict(
    element: str, printed: str, low: str | None, high: str | None, mode: str
) -> Literal["ok", "above", "below"]:
    less_than, value = _less_than_and_value(printed)
    require.holds("certificate", f"a printed decimal number for {element}", printed, less_than is not None)
    if high is not None and _rounded(value, high, mode) > Decimal(high):
        require.holds("certificate", f"a number for {element}: '<' does not decide", printed, not less_than)
        return "above"
    if low is None:
        return "ok"
    if less_than:
        require.holds("certificate", f"a number for {element}: '<' does not decide", printed, value <= Decimal(low))
        return "below"
    return "below" if _rounded(value, low, mode) < Decimal(low) else "ok"


def _less_than_and_value(printed: str) -> tuple[bool | None, Decimal]:
    match = _PRINTED.fullmatch(printed.strip())
    return (None, Decimal(0)) if match is None else (match[1] == "<", Decimal(match[2]))


def _rounded(value: Decimal, limit: str, mode: str) -> Decimal:
    return value.quantize(Decimal(1).scaleb(Decimal(limit).as_tuple().exponent), rounding=mode)  # type: ignore[arg-type]  # finite


def _exact(value: float) -> Fraction:
    # The shortest decimal text of a float is what was typed in.
    return Fraction(repr(value))
