# SPDX-License-Identifier: Apache-2.0
"""Look through every committed file for what must not stand in one: addresses of registries, paths of a machine."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

REPOSITORY = Path(__file__).parents[1]
# Written in pieces, so that this file does not hold what it looks for.
FORBIDDEN = {
    "a registry's address": r"registry\.npmjs|" + r"files\.pythonhosted|" + r"pypi\.org/simple|" + r"file:///opt",
    "a path of one machine": r"(?<![\w.])/(?:root|home/\w+|work)/" + r"\w",
    "a mark of unfinished work": r"\b(?:TO" + r"DO|FIX" + r"ME|X" + r"XX)\b",
}
EXEMPT = {"docs/LICENSE", "tests/forbidden_words.py"}


def findings() -> list[str]:
    """Return one line for each place that holds something forbidden."""
    names = subprocess.run(
        ["git", "ls-files", "-z", "--cached", "--others", "--exclude-standard"],
        cwd=REPOSITORY, capture_output=True, check=True,
    ).stdout.decode().split("\0")  # fmt: skip
    found = []
    for name in names:
        path = REPOSITORY / name
        if not name or name in EXEMPT or not path.is_file():
            continue
        try:
            text = path.read_text(encoding="utf-8")
        except UnicodeDecodeError:
            continue
        for number, line in enumerate(text.splitlines(), start=1):
            found += [f"{name}:{number}: {what}" for what, pattern in FORBIDDEN.items() if re.search(pattern, line)]
    return found


if __name__ == "__main__":
    lines = findings()
    sys.stdout.write("".join(line + "\n" for line in lines))
    sys.exit(1 if lines else 0)
