# SPDX-License-Identifier: Apache-2.0
"""Rows of RFC 8785 (JSON Canonicalization Scheme) that lie in our subset are equal; each other one is refused.

Source: RFC 8785, sections 3.2.2 to 3.2.4 and Appendix B. The rows were carried here from memory and
checked against ECMAScript's own number and text rules.
"""

from __future__ import annotations

import hashlib
from typing import Any

import msgspec
import pytest

from tallywright.errors import NotCanonical, RefusedRecord
from tallywright.records.compose import canonical
from tallywright.records.decode import decode
from tests.server.records.test_decode import a_find

# Appendix B: IEEE 754 bits and the text they have in canonical JSON.
NUMBERS = """
0000000000000000 0
8000000000000000 0
0000000000000001 5e-324
8000000000000001 -5e-324
7fefffffffffffff 1.7976931348623157e+308
ffefffffffffffff -1.7976931348623157e+308
4340000000000000 9007199254740992
c340000000000000 -9007199254740992
4430000000000000 295147905179352830000
44b52d02c7e14af5 9.999999999999997e+22
44b52d02c7e14af6 1e+23
44b52d02c7e14af7 1.0000000000000001e+23
444b1ae4d6e2ef4e 999999999999999700000
444b1ae4d6e2ef4f 999999999999999900000
444b1ae4d6e2ef50 1e+21
3eb0c6f7a0b5ed8c 9.999999999999997e-7
3eb0c6f7a0b5ed8d 0.000001
41b3de4355555553 333333333.3333332
41b3de4355555554 333333333.33333325
41b3de4355555555 333333333.3333333
41b3de4355555556 333333333.3333334
41b3de4355555557 333333333.33333343
becbf647612f3696 -0.0000033333333333333333
43143ff3c1cb0959 1424953923781206.2
"""
ROWS = [tuple(row.split()) for row in NUMBERS.split("\n") if row]

# Section 3.2.2: the sample's text, written in an unusual way, and its one canonical form.
SAMPLE_TEXT = '"\\u20ac$\\u000F\\u000aA\'\\u0042\\u0022\\u005c\\\\\\"\\/"'
SAMPLE_CANONICAL = '"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"'
SAMPLE = (
    '{"numbers":[333333333.33333329,1E30,4.50,2e-3,0.000000000000000000000000001],'
    f'"string":{SAMPLE_TEXT},"literals":[null,true,false]}}'
)
SAMPLE_WHOLE = (
    '{"literals":[null,true,false],"numbers":[333333333.3333333,1e+30,4.5,0.002,1e-27],'
    f'"string":{SAMPLE_CANONICAL}}}'
)
SAMPLE_SHA256 = "2d5e01a318d0f0879ab568c4be289c8b1f64ef8921a53c6277d5e069978baacb"


def in_a_record(value: str) -> bytes:
    """The bytes of a record of an unknown kind that carries some JSON text as it is."""
    content: dict[str, Any] = {**a_find(), "kind": "thing_dreamt", "body": {"a": "@"}}
    return canonical(content).replace(b'"@"', value.encode(), 1)


@pytest.mark.parametrize(("bits", "text"), ROWS)
def test_a_number_of_appendix_b_is_equal_in_the_subset_and_refused_outside(bits: str, text: str) -> None:
    if bits == "0000000000000000":
        assert decode(in_a_record(text)).line == in_a_record(text)
    elif text == "0":  # minus zero: the scheme writes it as 0, and "-0" is another form
        with pytest.raises(NotCanonical):
            decode(in_a_record("-0"))
    else:
        with pytest.raises(NotCanonical):
            decode(in_a_record(text))


def test_the_text_of_the_sample_has_its_published_form() -> None:
    assert canonical(msgspec.json.decode(SAMPLE_TEXT)).decode() == SAMPLE_CANONICAL
    assert decode(in_a_record(SAMPLE_CANONICAL)).line == in_a_record(SAMPLE_CANONICAL)


def test_the_text_of_the_sample_in_another_form_is_not_canonical() -> None:
    with pytest.raises(NotCanonical):
        decode(in_a_record(SAMPLE_TEXT))


@pytest.mark.parametrize("text", [SAMPLE, SAMPLE_WHOLE])
def test_the_whole_sample_lies_outside_the_subset_and_is_refused(text: str) -> None:
    with pytest.raises(NotCanonical):
        decode(in_a_record(text))


def test_the_published_form_of_the_sample_has_its_published_hash() -> None:
    assert hashlib.sha256(SAMPLE_WHOLE.encode()).hexdigest() == SAMPLE_SHA256


# Section 3.2.3: member names sort by UTF-16 code units. Ours are lower-case ASCII, so of the sample's names
# none lies in the subset; the order within the subset is that of bytes.
NAMES = ["\u20ac", "\r", "\ufb33", "1", "\U0001f600", "\x80", "\xf6"]


@pytest.mark.parametrize("name", NAMES)
def test_a_member_name_of_the_sorting_sample_is_refused(name: str) -> None:
    with pytest.raises(RefusedRecord):
        decode(canonical({**a_find(), "kind": "thing_dreamt", "body": {name: 1}}))


def test_member_names_of_the_subset_sort_by_code_unit() -> None:
    names = ["b", "a_", "a0", "aa", "a", "z9"]
    text = canonical(dict.fromkeys(names, 1)).decode()
    assert text == '{"a":1,"a0":1,"a_":1,"aa":1,"b":1,"z9":1}'
    assert decode(in_a_record(text)).line == in_a_record(text)
