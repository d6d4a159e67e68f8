# SPDX-License-Identifier: Apache-2.0
"""Measure how fast everything is; a measurement, not a test.

python -m tests.speed                                every part, an hour on a slow machine
python -m tests.speed --only push taps --out FILE    some of them, and their figures as JSON

A line for each figure as it is known, then all of them as JSON. docs/proof.md has the targets and what was found.
"""

from __future__ import annotations

import argparse
import json
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from tests.speed.figures import Figure, machine
from tests.speed.parts import PARTS


def main() -> None:
    """Measure the parts that are asked for."""
    words = argparse.ArgumentParser(prog="python -m tests.speed")
    words.add_argument(
        "--only", nargs="+", choices=[*PARTS], default=[*PARTS], metavar="NAME", help=", ".join(PARTS)
    )
    words.add_argument("--out", type=Path, help="a file for the figures")
    wanted = words.parse_args()
    told: dict[str, Any] = {"machine": machine(), "parts": {}}
    for name in wanted.only:
        began = time.monotonic()
        with tempfile.TemporaryDirectory(prefix="tw-speed-") as folder:
            figures = [_shown(name, figure) for figure in PARTS[name](Path(folder))]
        told["parts"][name] = {"figures": figures, "seconds": round(time.monotonic() - began)}
    text = json.dumps(told, indent=1) + "\n"
    if wanted.out is not None:
        wanted.out.write_text(text, encoding="utf-8")
    sys.stdout.write(text)


def _shown(part: str, figure: Figure) -> dict[str, Any]:
    told = figure.told()
    sys.stderr.write(f"{part}: {told.pop('what')}: {json.dumps(told)}\n")
    sys.stderr.flush()
    return figure.told()


if __name__ == "__main__":
    main()
