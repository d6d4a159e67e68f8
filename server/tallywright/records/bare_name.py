# SPDX-License-Identifier: Apache-2.0
"""What is left of a name on a label without what people put between its parts, and leave out elsewhere.

static/src/records/bare_name.ts is the same function.
"""

from __future__ import annotations

_BETWEEN = str.maketrans("", "", " \t-./_")


def bare_name(text: str) -> str:
    """Return a name by which two ways to write it are one: blanks, points and dashes aside, small letters large."""
    # Letters beyond ASCII are large and small by other rules in other languages: they stay as they are.
    return "".join(letter.upper() if letter.isascii() else letter for letter in text.translate(_BETWEEN))
