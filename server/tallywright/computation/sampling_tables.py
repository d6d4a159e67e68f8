# SPDX-License-Identifier: Apache-2.0
"""The attribute plans of MIL-STD-105E, tables I, II-A, II-B and II-C (public domain), in their printed shape.

In print, one plan runs down a diagonal: one letter further and one acceptable quality level stricter is the
same plan. So a table is a list of diagonals, and a few cells at its ends that differ. Public through
acceptance_sampling.
"""

from __future__ import annotations

from typing import Literal

Severity = Literal["normal", "tightened", "reduced"]
Cell = tuple[int, int] | Literal["down", "up"]

LETTERS = "ABCDEFGHJKLMNPQRS"
LEVELS = ("S-1", "S-2", "S-3", "S-4", "I", "II", "III")
QUALITY_LEVELS = (
    "0.010", "0.015", "0.025", "0.040", "0.065", "0.10", "0.15", "0.25", "0.40", "0.65", "1.0", "1.5", "2.5", "4.0",
    "6.5", "10", "15", "25", "40", "65", "100", "150", "250", "400", "650", "1000",
)  # fmt: skip

# Largest lot of each line of table I, and the letters of its seven levels; the last line has no largest lot.
CODE_LETTERS: tuple[tuple[int | None, str], ...] = (
    (8, "AAAAAAB"), (15, "AAAAABC"), (25, "AABBBCD"), (50, "ABBCCDE"), (90, "BBCCCEF"), (150, "BBCDDFG"),
    (280, "BCDEEGH"), (500, "BCDEFHJ"), (1200, "CCEFGJK"), (3200, "CDEGHKL"), (10000, "CDFGJLM"),
    (35000, "CDFHKMN"), (150000, "DEGJLNP"), (500000, "DEGJMPQ"), (None, "DEHKNQR"),
)  # fmt: skip

_FULL_SIZES = (2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800, 1250, 2000, 3150)
_REDUCED_SIZES = (2, 2, 2, 3, 5, 8, 13, 20, 32, 50, 80, 125, 200, 315, 500, 800)
SIZES: dict[Severity, tuple[int, ...]] = {
    "normal": _FULL_SIZES[:-1],
    "tightened": _FULL_SIZES,
    "reduced": _REDUCED_SIZES,
}

# Diagonal (place of the letter + place of the quality level) -> accept, reject. Diagonals before the first
# are arrows
# down; those between acceptance on none and on one are an arrow up, then arrows down; those after the last
# are arrows
# up.
_PLANS: dict[Severity, dict[int, tuple[int, int]]] = {
    "normal": {
        14: (0, 1), 17: (1, 2), 18: (2, 3), 19: (3, 4), 20: (5, 6), 21: (7, 8), 22: (10, 11), 23: (14, 15),
        24: (21, 22), 25: (30, 31), 26: (44, 45),
    },
    "tightened": {
        15: (0, 1), 18: (1, 2), 19: (2, 3), 20: (3, 4), 21: (5, 6), 22: (8, 9), 23: (12, 13), 24: (18, 19),
        25: (27, 28), 26: (41, 42),
    },
    "reduced": {
        14: (0, 1), 17: (0, 2), 18: (1, 3), 19: (1, 4), 20: (2, 5), 21: (3, 6), 22: (5, 8), 23: (7, 10),
        24: (10, 13), 25: (14, 17), 26: (21, 24),
    },
}  # fmt: skip

# Letters A and B of the reduced table have the plans of the normal one where the sample cannot shrink.
_REDUCED_A = {
    17: (1, 2), 18: (2, 3), 19: (3, 4), 20: (5, 6), 21: (7, 8), 22: (10, 11), 23: (14, 15), 24: (21, 22),
    25: (30, 31),
}  # fmt: skip
_REDUCED_B = {
    19: (2, 4), 20: (3, 5), 21: (5, 6), 22: (7, 8), 23: (10, 11), 24: (14, 15), 25: (21, 22), 26: (30, 31),
}  # fmt: skip

# The last two diagonals end at letter E: longer samples would allow counts beyond the table.
_LAST_OF_LONG_DIAGONALS = LETTERS.index("E")


def cell_of(severity: Severity, letter: int, level: int) -> Cell:
    """The printed cell at the place of a letter and of a quality level: a plan, or an arrow."""
    diagonal = letter + level
    plans = _PLANS[severity]
    if severity == "reduced" and letter == 0 and diagonal in _REDUCED_A:
        return _REDUCED_A[diagonal]
    if severity == "reduced" and letter == 1 and diagonal in _REDUCED_B:
        return _REDUCED_B[diagonal]
    if diagonal >= 25 and letter > _LAST_OF_LONG_DIAGONALS:
        return "up"
    if LETTERS[letter] == "S" and diagonal in plans and plans[diagonal][0] > 1:
        # The letter S exists for one quality level only, 0.025; at all others its column ends above it.
        return "up"
    if diagonal in plans and not (severity == "tightened" and diagonal == 15 and letter == 0):
        return plans[diagonal]
    return _arrow(severity, letter, diagonal)


def _arrow(severity: Severity, letter: int, diagonal: int) -> Literal["down", "up"]:
    first = min(_PLANS[severity])
    if diagonal > max(_PLANS[severity]):
        return "up"
    if diagonal <= first:
        return "down"
    last_letter = len(SIZES[severity]) - 1
    if severity == "tightened":
        # One letter more than in the other tables, so two arrows point up at the foot of its columns.
        upwards = (diagonal == 16 and letter >= last_letter - 1) or (diagonal == 17 and letter == last_letter)
        return "up" if upwards else "down"
    # Just below acceptance on none the arrow points up, but the letter A has nothing above it; one further
    # it points
    # down, but the last letter has nothing below it.
    if diagonal == first + 1:
        return "down" if letter == 0 else "up"
    return "up" if letter == last_letter else "down"
