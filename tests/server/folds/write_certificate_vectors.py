# SPDX-License-Identifier: Apache-2.0
"""Write tests/vectors/certificate: what the computation says of many values, for the tablet's twin to say as well.

Run `python -m tests.server.folds.write_certificate_vectors` in the repository's root.
"""

from __future__ import annotations

import json
import random
from pathlib import Path

from msgspec import UNSET

from tallywright.folds.receipts import judge
from tallywright.records.definition import ElementLimit, MaterialDefinition

FILE = Path(__file__).parents[2] / "vectors" / "certificate" / "answers.json"


def answers() -> list[list[str]]:
    """Value, lowest, highest, the verdict half to even and half up; many of them lie just between two decimals."""
    chance = random.Random(80000)
    found = []
    for _ in range(800):
        decimals = chance.randint(0, 3)
        low, high = sorted(chance.randint(0, 30) for _ in range(2))
        near = chance.choice([low, high]) * 10 + chance.choice([-6, -5, -4, 0, 4, 5, 6, chance.randint(-30, 30)])
        value = printed(max(0, near), decimals + 1)
        ends = [printed(low, decimals), printed(high, decimals)]
        gone = chance.choice(["", "low", "high", "", "both"] if chance.random() < 0.2 else ["", "low", "high"])
        ends = [
            "" if gone == "both" or (gone == name) else end for name, end in zip(("low", "high"), ends, strict=True)
        ]
        value = chance.choice(["", "<"]) + value if chance.random() < 0.3 else value
        value = "" if chance.random() < 0.03 else value
        limit = ElementLimit(element="X", low=ends[0] or UNSET, high=ends[1] or UNSET)
        verdicts = [
            judge(MaterialDefinition(alloy="A", limits=[limit], rounding=way), {"X": value})[0].verdict
            for way in ("half_even", "half_up")
        ]
        found.append([value, *ends, *verdicts])
    return found


def printed(digits: int, decimals: int) -> str:
    text = str(digits).rjust(decimals + 1, "0")
    return text if decimals == 0 else f"{text[:-decimals]}.{text[-decimals:]}"


if __name__ == "__main__":
    FILE.parent.mkdir(exist_ok=True)
    lines = ",\n".join(json.dumps(row) for row in answers())
    FILE.write_text(f"[\n{lines}\n]\n", encoding="utf-8")
