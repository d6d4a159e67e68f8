# SPDX-License-Identifier: Apache-2.0
"""Numbers as gauges show them, compared exactly: no binary fraction stands between a limit and a reading.

static/src/records/decimal.ts is the same function.
"""

from __future__ import annotations

DIGITS = 9  # the most behind the point


def billionths(shown: str) -> int:
    """Return a number in the form of envelope.Decimal as a whole number of billionths.

    shown  as "13.20"; its zeros say how fine the gauge reads, and nothing here
    """
    whole, _, fraction = shown.lstrip("-").partition(".")
    size = int(whole + fraction.ljust(DIGITS, "0"))
    return -size if shown.startswith("-") else size
