# SPDX-License-Identifier: Apache-2.0
"""How long a hand needs from key to key, worked out from where the keys are: no clock, so no machine's speed.

The time of a reach is its index of difficulty, log2(D / W + 1) bits (Fitts's law in the Shannon form of ISO
9241-411), by the throughput of a bare finger on glass: 5.53 bits/s in F. Sasangohar, I. S. MacKenzie, S. D.
Scott, "Evaluation of mouse and touch input for a tabletop display using Fitts' reciprocal tapping task", HFES
2009, pp. 839-843 (abstract). W is the smaller side of the key. Reading, counting and thinking are the person's
own time and not in it; for a glove no published figure is known to us.
"""

from __future__ import annotations

from collections.abc import Iterable
from itertools import pairwise
from math import hypot, log2

THROUGHPUT = 5.53  # bits per second

Box = dict[str, float]


def middle(box: Box) -> tuple[float, float]:
    """The middle of a box."""
    return (box["left"] + box["right"]) / 2, (box["top"] + box["bottom"]) / 2


def reach_seconds(start: Box, key: Box) -> float:
    """Seconds from the middle of one box to a key."""
    (from_x, from_y), (to_x, to_y) = middle(start), middle(key)
    side = min(key["right"] - key["left"], key["bottom"] - key["top"])
    return log2(hypot(to_x - from_x, to_y - from_y) / side + 1) / THROUGHPUT


def way_seconds(keys: Iterable[Box]) -> float:
    """Seconds along keys that are tapped one after the other, from the first one on."""
    return sum(reach_seconds(start, key) for start, key in pairwise(keys))


# Keystroke-level model: S. K. Card, T. P. Moran, A. Newell, "The keystroke-level model for user performance time
# with interactive systems", Communications of the ACM 23 (1980) 396-410 (times from memory): pointing, one key of
# an average typist, getting ready for a step. A finger is taken to point as a mouse does, though it is faster.
POINTING, KEYSTROKE, GETTING_READY = 1.10, 0.28, 1.35


def keystroke_seconds(taps: int, steps: int) -> float:
    """Seconds of a person for so many taps in so many steps, each thought of first; the gauge is not in it."""
    return taps * (POINTING + KEYSTROKE) + steps * GETTING_READY
