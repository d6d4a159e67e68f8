# SPDX-License-Identifier: Apache-2.0
"""Add up what several runs of the simulation told, as lines and tables of Markdown.

python -m tests.simulation.added_up FILE ...     each with the JSON of one run or of several, one behind the other
"""

from __future__ import annotations

import json
import sys
from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

COUNTS = ("worlds", "pushes", "records", "stored", "restarts", "seconds")
IN_A_LINE = 4


def main(files: list[str]) -> int:
    """Print the sums; returns how many runs had a world that was wrong."""
    runs = [told for name in files for told in _runs(Path(name).read_text(encoding="utf-8"))]
    sums = Counter({name: sum(told[name] for told in runs) for name in COUNTS})
    struck, decided = Counter[str](), Counter[str]()
    for told in runs:
        struck.update(told["struck"])
        decided.update(told["decided"])
    failed = [told["failed"] for told in runs if "failed" in told]
    seeds = ", ".join(f"{told['firstSeed']} to {told['lastSeed']}" for told in runs)
    lines = [f"seeds {seeds}", ", ".join(f"{name} {sums[name]:,}" for name in COUNTS)]
    lines += [f"wrong: {json.dumps(one)}" for one in failed] or ["no world was wrong"]
    lines += [*_table("fault", struck), *_table("decided", decided)]
    sys.stdout.write("\n".join(lines) + "\n")
    return len(failed)


def _runs(text: str) -> Iterator[dict[str, Any]]:
    """Yield each JSON object of a text."""
    decoder = json.JSONDecoder()
    while text := text.lstrip():
        told, end = decoder.raw_decode(text)
        text = text[end:]
        yield told


def _table(what: str, counts: Counter[str]) -> Iterator[str]:
    yield f"| {what} | times " * IN_A_LINE + "|"
    yield "|---" * 2 * IN_A_LINE + "|"
    cells = [f"| {name.replace('_', ' ')} | {count:,} " for name, count in sorted(counts.items())]
    for first in range(0, len(cells), IN_A_LINE):
        row = cells[first : first + IN_A_LINE]
        yield "".join(row) + "| | " * (IN_A_LINE - len(row)) + "|"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
