# SPDX-License-Identifier: Apache-2.0
"""Ids that the team's words get, and what fits on a key."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.definitions.names import id_of, key_of, why_no_key

IDS = [
    ("lap", "lap"), ("Set-up piece in good bin", "set_up_piece_in_good_bin"), ("Riß", "riss"), ("RIẞ", "riss"),
    ("Ścięcie", "sciecie"), ("Łuska", "luska"), ("Kälte  Schweiße ", "kalte_schweisse"), ("ﬁn", "fin"),
    ("x4", "x4"), ("4x", ""), ("内側", ""), ("", ""), ("_", ""), ("a" * 65, ""),
]  # fmt: skip


@pytest.mark.parametrize(("text", "expected"), IDS)
def test_a_word_gives_its_id(text: str, expected: str) -> None:
    assert id_of(text) == expected


@given(text=st.text())
def test_an_id_has_the_form_of_a_word_and_is_its_own_id(text: str) -> None:
    found = id_of(text)
    assert found == "" or re.fullmatch(r"[a-z][a-z0-9_]{0,63}", found)
    assert id_of(found) == found


def test_a_key_derived_from_a_name_begins_with_a_capital() -> None:
    assert key_of("trim nick") == "Trim nick"


@pytest.mark.parametrize("text", ["Lap", "Impingement dent", "Schmierstoff Vertiefung", "é" * 12, "e\u0301" * 12])
def test_two_words_of_twelve_letters_fit(text: str) -> None:
    assert why_no_key(text) is None


@pytest.mark.parametrize(
    ("text", "why"),
    [
        ("one two three", "has 3 words"),
        ("Schmiedegrat1 x", "has a word of 13 letters"),
        ("a  b", "a blank too many"),
    ],
)
def test_more_does_not_fit_and_says_why(text: str, why: str) -> None:
    assert why in (why_no_key(text) or "")
