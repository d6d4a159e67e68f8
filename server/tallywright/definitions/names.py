# SPDX-License-Identifier: Apache-2.0
"""The team's own words: the ids they get, what fits on a key, and which letters a text may have."""

from __future__ import annotations

import re
import unicodedata

KEY_LINES, KEY_LETTERS = 2, 12
LONGEST_ID = 64
# Letters that do not come apart into a Latin letter and an accent.
WRITTEN_OUT = str.maketrans(
    {"ß": "ss", "æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i"}
)

# Signs that show the letters behind them in another order than they stand; words that read so by nature need none.
TURNING = frozenset("\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069\ufeff")


def id_of(text: str) -> str:
    """Return the id of a word: lower-case Latin letters, digits and underscores; '' where nothing is left of it.

    The same text gives the same id on every machine and for ever: records name defects and zones by it.
    """
    lower = unicodedata.normalize("NFKC", text).lower().translate(WRITTEN_OUT)
    plain = "".join(letter for letter in unicodedata.normalize("NFKD", lower) if not unicodedata.combining(letter))
    word = re.sub(r"[^a-z0-9]+", "_", plain).strip("_")
    return word if re.match(r"[a-z]", word) and len(word) <= LONGEST_ID else ""


def key_of(text: str) -> str:
    """Return the key word that a defect's name gives by itself: the name with a capital letter."""
    return text[:1].upper() + text[1:]


def why_no_key(text: str) -> str | None:
    """Say why a text does not fit on a key, as the end of a sentence; None where it fits.

    A key shows each word of its text on a line of its own.
    """
    lines = text.split(" ")
    if "" in lines:
        return "has a blank too many"
    if len(lines) > KEY_LINES:
        return f"has {len(lines)} words, and a key has {KEY_LINES} lines with one word each"
    longest = max(lines, key=letters)
    if letters(longest) > KEY_LETTERS:
        return f"has a word of {letters(longest)} letters, and a line of a key holds {KEY_LETTERS}"
    return None


def letters(text: str) -> int:
    """Count what a reader counts: an accent belongs to its letter."""
    return sum(1 for letter in unicodedata.normalize("NFC", text) if not unicodedata.combining(letter))


def is_plain(text: str) -> bool:
    """True where every letter of a text can stand on a screen: no control, nothing that turns a line round."""
    return all(_is_plain(letter) for letter in text)


def plain(text: str) -> str:
    """A text with a mark for each letter that cannot be shown: what a file holds must not steer a terminal."""
    return "".join(letter if _is_plain(letter) else "\ufffd" for letter in text)


def _is_plain(letter: str) -> bool:
    return unicodedata.category(letter) not in ("Cc", "Cs") and letter not in TURNING
