# SPDX-License-Identifier: Apache-2.0
"""One byte form for every record; everything near it is refused with its reason and nothing breaks."""

from __future__ import annotations

import random
from typing import Any

import msgspec
import pytest
from hypothesis import given
from hypothesis import strategies as st

from tallywright.errors import NotCanonical, RefusedRecord, TooLarge, Unreadable
from tallywright.records.bench import DefectTalliedV1
from tallywright.records.compose import ChainWriter, canonical
from tallywright.records.decode import decode
from tallywright.records.kinds import ChainOpenedV1
from tests.actors import ANYBODY, NOON

CHAIN = "b" * 26


def a_find() -> dict[str, Any]:
    writer = ChainWriter(CHAIN, ANYBODY, "Europe/Berlin", n=6, head="0" * 64, site=ANYBODY)
    body = DefectTalliedV1(look="first", tray=ANYBODY, defect="lap", zone="inner_bow", cavity="Ä€😀\u2028\x7f")
    record = writer.add(body, NOON, sign_on=ANYBODY, batch=ANYBODY, definition=ANYBODY)
    content: dict[str, Any] = msgspec.json.decode(record.line)
    return content


def test_a_composed_record_reads_back_as_itself() -> None:
    content = a_find()
    record = decode(canonical(content))
    assert (record.id, record.envelope.kind, record.subject, record.look) == (
        f"{CHAIN}:7", "defect_tallied", ANYBODY, "first",
    )  # fmt: skip
    assert isinstance(record.body, DefectTalliedV1)


@given(st.text(min_size=1, max_size=60).filter(lambda text: "\x00" not in text))
def test_any_text_survives_to_the_byte(text: str) -> None:
    content = a_find()
    content["body"]["cavity"] = text
    line = canonical(content)
    record = decode(line)
    assert record.line == line
    assert isinstance(record.body, DefectTalliedV1)
    assert record.body.cavity == text


REPEATED = ("chain", "device", "kind", "sign_on", "site", "batch", "definition")


@pytest.mark.parametrize("member", [*REPEATED, "previous"])
def test_what_records_have_in_common_is_held_to_its_form_in_each(member: str) -> None:
    content = a_find()
    assert decode(canonical(content)).envelope.kind == "defect_tallied"  # and once more, with one other member
    with pytest.raises(Unreadable):
        decode(canonical({**content, member: "No Form Has This"}))


def test_the_first_record_of_a_chain_has_no_previous() -> None:
    first = msgspec.json.decode(ChainWriter(CHAIN, ANYBODY, "UTC").add(ChainOpenedV1(why="first"), NOON).line)
    with pytest.raises(Unreadable, match="previous"):
        decode(canonical({**first, "previous": "0" * 64}))


def test_a_later_record_names_its_previous() -> None:
    content = a_find()
    del content["previous"]
    with pytest.raises(Unreadable, match="previous"):
        decode(canonical(content))


def test_an_id_with_a_line_feed_at_its_end_is_refused() -> None:
    with pytest.raises(Unreadable):
        decode(canonical({**a_find(), "batch": ANYBODY + "\n"}))


def test_a_record_of_the_longest_length_is_read_and_one_byte_more_is_not() -> None:
    content = {**a_find(), "kind": "thing_dreamt"}
    room = 16 * 1024 - len(canonical({**content, "body": {"a": ""}}))
    assert decode(canonical({**content, "body": {"a": "x" * room}})).body is None
    with pytest.raises(TooLarge):
        decode(canonical({**content, "body": {"a": "x" * (room + 1)}}))


NUMBERS = ["1e3", "1.0", "-0", "-0.0", "9007199254740992", "-9007199254740992", "01", "+1", "1E400", "NaN", "0x1"]


@pytest.mark.parametrize("number", NUMBERS)
@pytest.mark.parametrize("kind", ["defect_tallied", "thing_dreamt"])
def test_a_number_of_another_form_is_refused(number: str, kind: str) -> None:
    content = {**a_find(), "kind": kind}
    content["body"] = {**content["body"], "tray": "@"} if kind == "thing_dreamt" else content["body"]
    mark = b'"@"' if kind == "thing_dreamt" else str(NOON).encode()
    line = canonical(content).replace(mark, number.encode(), 1)
    with pytest.raises(RefusedRecord):
        decode(line)


def test_the_largest_whole_numbers_are_taken_in_any_kind() -> None:
    content = {**a_find(), "kind": "thing_dreamt", "body": {"a": [2**53 - 1, -(2**53) + 1, 0]}}
    assert decode(canonical(content)).envelope.kind == "thing_dreamt"


def test_a_member_name_outside_lower_case_ascii_is_not_canonical() -> None:
    with pytest.raises(NotCanonical, match="lower-case"):
        decode(canonical({**a_find(), "kind": "thing_dreamt", "body": {"Größe": 1}}))


@pytest.mark.parametrize("kind", ["defect_tallied", "thing_dreamt"])
def test_ten_thousand_near_records_are_canonical_or_refused_and_nothing_else_happens(kind: str) -> None:
    chance = random.Random(11)
    whole = canonical({**a_find(), "kind": kind})
    taken = 0
    for _ in range(10_000):
        line = bytearray(whole)
        for _ in range(chance.randint(1, 3)):
            place = chance.randrange(len(line))
            change = chance.choice(["flip", "drop", "double"])
            if change == "flip":
                line[place] = chance.choice(b' "\\{}[]:,0-.eE\x00\xff' + bytes([line[place] ^ 1]))
            elif change == "drop":
                del line[place]
            else:
                line[place:place] = line[place : place + chance.randint(1, 9)]
        try:
            record = decode(bytes(line))
        except RefusedRecord:
            continue
        assert canonical(msgspec.json.decode(record.line)) == bytes(line)
        taken += 1
    assert 0 < taken < 10_000
