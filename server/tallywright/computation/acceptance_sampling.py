# SPDX-License-Identifier: Apache-2.0
"""Lots judged by samples: the plans of MIL-STD-105E, plans made to order, and what a plan lets through.

May import numpy, scipy and the room's own modules only.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

from scipy import special, stats

from tallywright.computation import require
from tallywright.computation.errors import OutOfRange
from tallywright.computation.sampling_tables import (
    CODE_LETTERS,
    LETTERS,
    LEVELS,
    QUALITY_LEVELS,
    SIZES,
    Severity,
    cell_of,
)

__all__ = [
    "Plan",
    "SwitchingState",
    "acceptance_probability",
    "acceptance_probability_lot",
    "code_letter",
    "design_plan",
    "single_plan",
    "zero_acceptance_size",
]

LARGEST_SAMPLE = 100_000
LARGEST_LOT = 1_000_000
_SEVERITIES = ("normal", "tightened", "reduced", "discontinued")


@dataclass(frozen=True, slots=True)
class Plan:
    """One single plan: look at n pieces, accept at most so many defective, reject from so many on.

    letter is None for a plan made to order. In reduced plans reject may lie more than one above accept: a count
    between them accepts the lot and ends reduced inspection.
    """

    letter: str | None
    n: int
    accept: int
    reject: int


def code_letter(lot: int, level: str = "II") -> str:
    """The letter of the sample size for a lot.

    lot         pieces of the lot, at least 2                                     [pieces]
    level       'S-1', 'S-2', 'S-3', 'S-4', 'I', 'II' or 'III'
    returns     a letter from A to R (without I and O)
    valid       lots made under one set of conditions
    formula     table I
    source      MIL-STD-105E (1989), table I, public domain
    checked     tests/published/test_acceptance_sampling_published.py
    """
    lot = require.whole("lot", lot, 2)
    place = LEVELS.index(require.one_of("level", level, LEVELS))
    return next(letters[place] for largest, letters in CODE_LETTERS if largest is None or lot <= largest)


def single_plan(letter: str, aql: float | str, severity: Severity = "normal") -> Plan:
    """The single plan of a letter and an acceptable quality level, arrows followed.

    letter      from A to R; S in tightened inspection
    aql         one of the 26 levels of the tables, 0.010 to 1000   [percent, or defects per 100 pieces]
    severity    'normal', 'tightened' or 'reduced'
    returns     Plan, with the letter whose sample it takes; a sample not smaller than the lot means every
                piece  [pieces]
    valid       a series of lots with the switching rules kept; a single lot is judged by design_plan
    formula     tables II-A, II-B, II-C; an arrow leads to the first plan below or above it
    source      MIL-STD-105E (1989), public domain
    checked     tests/published/test_acceptance_sampling_published.py
    """
    require.one_of("severity", severity, SIZES)
    sizes = SIZES[severity]
    row = LETTERS.index(require.one_of("letter", letter, LETTERS[: len(sizes)]))
    column = _quality_level(aql)
    cell = cell_of(severity, row, column)
    while isinstance(cell, str):
        row += 1 if cell == "down" else -1
        cell = cell_of(severity, row, column)
    return Plan(LETTERS[row], sizes[row], *cell)


def acceptance_probability(
    n: int,
    accept: int,
    quality: float,
    model: Literal["binomial", "poisson"] = "binomial",
    lot: int | None = None,
) -> float:
    """Chance that a plan accepts.

    n           pieces of the sample, at least 1                                  [pieces]
    accept      most defective pieces (or defects) accepted, at least 0           [pieces or defects]
    quality     share defective, 0..1 (binomial); defects per piece, at least 0 (poisson)   [1]
    model       'binomial' counts pieces, 'poisson' counts defects
    lot         pieces of the lot, at least n: the sample is drawn from this lot and quality x lot must be
                a whole number; None: from a process  [pieces]
    returns     probability, 0..1                                                 [1]
    valid       a sample drawn at random
    formula     P(X <= accept), X binomial (n, quality), Poisson (n quality) or hypergeometric
    source      MIL-STD-105E (1989), tables X; definition
    checked     tests/published/test_acceptance_sampling_published.py
    """
    n = require.whole("n", n, 1)
    accept = require.whole("accept", accept, 0)
    if require.one_of("model", model, ("binomial", "poisson")) == "poisson":
        require.holds("lot", "None with the Poisson model", lot, lot is None)
        return float(special.pdtr(accept, n * require.number("quality", quality, at_least=0.0)))
    quality = require.share("quality", quality)
    if lot is None:
        return 1.0 if accept >= n else float(special.bdtr(accept, n, quality))
    lot = require.whole("lot", lot, n, LARGEST_LOT)
    defectives = quality * lot
    whole = math.isclose(defectives, round(defectives), abs_tol=1e-6)
    require.holds("quality", f"a whole number of pieces of the lot of {lot}", quality, whole)
    return acceptance_probability_lot(n, accept, round(defectives), lot)


def acceptance_probability_lot(n: int, accept: int, defectives: int, lot: int) -> float:
    """Chance that a plan accepts one lot with so many defective pieces.

    n           pieces of the sample, 1 <= n <= lot                               [pieces]
    accept      most defective pieces accepted, at least 0                        [pieces]
    defectives  defective pieces in the lot, 0 <= defectives <= lot               [pieces]
    lot         pieces of the lot, at least 1                                     [pieces]
    returns     probability, 0..1                                                 [1]
    valid       a sample drawn at random, not put back
    formula     P(X <= accept), X hypergeometric (lot, defectives, n)
    source      definition
    checked     tests/published/test_acceptance_sampling_published.py
    """
    lot = require.whole("lot", lot, 1, LARGEST_LOT)
    n = require.whole("n", n, 1, lot)
    defectives = require.whole("defectives", defectives, 0, lot)
    accept = require.whole("accept", accept, 0)
    return min(1.0, max(0.0, float(stats.hypergeom.cdf(accept, lot, defectives, n))))


def design_plan(p1: float, pa1: float, p2: float, pa2: float) -> Plan:
    """The smallest plan that accepts good quality often enough and bad quality seldom enough.

    p1          good share defective, above 0                                     [1]
    pa1         chance of acceptance wanted at p1, between 0 and 1                [1]
    p2          bad share defective, p1 < p2 < 1                                  [1]
    pa2         chance of acceptance allowed at p2, between 0 and 1, below pa1    [1]
    returns     Plan without a letter, at most 100 000 pieces                     [pieces]
    valid       a sample drawn at random from a process, or a small part of a lot
    formula     smallest accept, and for it smallest n, with Pa(p2) <= pa2, such that Pa(p1) >= pa1;
                binomial
    source      definition; Montgomery, chapter on lot-by-lot sampling (n 89, accept 2 by nomograph, where
                the exact plan is 110 and 3)
    checked     tests/published/test_acceptance_sampling_published.py
    """
    p1 = require.between_0_and_1("p1", p1)
    p2 = require.number("p2", p2, above=p1, below=1.0)
    pa1 = require.between_0_and_1("pa1", pa1)
    pa2 = require.number("pa2", pa2, above=0.0, below=pa1)
    for accept in range(LARGEST_SAMPLE):
        n = _smallest_sample(accept, p2, pa2, accept + 1, LARGEST_SAMPLE)
        if float(special.bdtr(accept, n, p1)) >= pa1:
            return Plan(None, n, accept, accept + 1)
    raise OutOfRange(
        f"p2 must be further from p1 than {p2:g} from {p1:g}, not so near that no plan tells them apart"
    )


def zero_acceptance_size(lot: int, defectives: int, risk: float) -> int:
    """The smallest sample that finds at least one of the defective pieces in a lot with all but this risk.

    lot         pieces of the lot, at least 1                                     [pieces]
    defectives  defective pieces to be found out, 1 <= defectives <= lot          [pieces]
    risk        chance allowed to find none, between 0 and 1                      [1]
    returns     pieces to look at                                                 [pieces]
    valid       a sample drawn at random, a look that misses nothing
    formula     smallest n with C(lot - defectives, n) / C(lot, n) <= risk
    source      Schilling, Acceptance Sampling in Quality Control (from memory); definition
    checked     tests/published/test_acceptance_sampling_published.py
    """
    lot = require.whole("lot", lot, 1)
    defectives = require.whole("defectives", defectives, 1, lot)
    risk = require.between_0_and_1("risk", risk)
    low, high = 0, lot - defectives + 1
    # With high pieces one defective is certain; with none the chance of finding none is 1. Halve between
    # them.
    while high - low > 1:
        middle = (low + high) // 2
        if _log_none_found(lot, defectives, middle) <= math.log(risk) + 1e-9:
            high = middle
        else:
            low = middle
    return high


@dataclass(frozen=True, slots=True)
class SwitchingState:
    """How severely the next lot is inspected, and the lots that led to it.

    severity  'normal', 'tightened', 'reduced' or 'discontinued'
    history   lots judged since this severity began, oldest first: True accepted; on normal the last ten
              at most
    """

    severity: Literal["normal", "tightened", "reduced", "discontinued"] = "normal"
    history: tuple[bool, ...] = ()

    def __post_init__(self) -> None:
        """Refuse a severity that the standard does not know."""
        require.one_of("severity", self.severity, _SEVERITIES)
        sound = all(isinstance(lot, bool) for lot in self.history)
        require.holds("history", "a tuple of True and False", self.history, sound)

    def after(self, accepted: bool, reduced_allowed: bool = False) -> SwitchingState:
        """The state for the next lot.

        accepted         whether this lot was accepted on original inspection; resubmitted lots are left out
        reduced_allowed  whether reduced inspection may begin or go on: production steady, the defectives
                         of the last ten samples within the limit number, the lot not accepted between
                         accept and reject
        returns          SwitchingState
        valid            not once discontinued: after corrective action begin SwitchingState('tightened')
        formula          two of five or fewer lots not accepted: tightened; five accepted in a row:
                         normal; ten accepted and allowed: reduced; one not accepted or not allowed:
                         normal; five not accepted in all on tightened: discontinued
        source           MIL-STD-105E (1989), 4.7.1 to 4.7.4 and 4.8; five, where MIL-STD-105D had ten lots
        checked          tests/published/test_acceptance_sampling_published.py
        """
        require.holds("severity", "other than discontinued", self.severity, self.severity != "discontinued")
        require.holds("accepted", "True or False", accepted, isinstance(accepted, bool))
        lots = (*self.history, accepted)
        if self.severity == "normal":
            if lots[-5:].count(False) >= 2:
                return SwitchingState("tightened")
            if reduced_allowed and len(lots) >= 10 and all(lots[-10:]):
                return SwitchingState("reduced")
            return SwitchingState("normal", lots[-10:])
        if self.severity == "tightened":
            if lots.count(False) >= 5:
                return SwitchingState("discontinued")
            if len(lots) >= 5 and all(lots[-5:]):
                return SwitchingState("normal")
            return SwitchingState("tightened", lots)
        if accepted and reduced_allowed:
            return SwitchingState("reduced", lots[-10:])
        return SwitchingState("normal")


def _quality_level(aql: float | str) -> int:
    wanted = "one of " + ", ".join(QUALITY_LEVELS)
    try:
        value = float(aql)
    except (TypeError, ValueError):
        value = math.nan
    places = [place for place, level in enumerate(QUALITY_LEVELS) if float(level) == value]
    require.holds("aql", wanted, aql, len(places) == 1)
    return places[0]


def _smallest_sample(accept: int, bad: float, allowed: float, low: int, high: int) -> int:
    """Smallest n from low to high at which the bad quality is accepted seldom enough."""
    if float(special.bdtr(accept, high, bad)) > allowed:
        raise OutOfRange(f"p2 must be larger, not {bad:g}: even {high} pieces do not tell it from good quality")
    while low < high:
        middle = (low + high) // 2
        if float(special.bdtr(accept, middle, bad)) <= allowed:
            high = middle
        else:
            low = middle + 1
    return low


def _log_none_found(lot: int, defectives: int, n: int) -> float:
    good = lot - defectives
    return math.lgamma(good + 1) - math.lgamma(good - n + 1) - math.lgamma(lot + 1) + math.lgamma(lot - n + 1)
