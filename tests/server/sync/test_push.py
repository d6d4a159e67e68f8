# SPDX-License-Identifier: Apache-2.0
"""What becomes of each line of a push: stored, known, or set aside with a reason; and what the answer says."""

from __future__ import annotations

import json
from collections.abc import Callable
from typing import Any

import msgspec
import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from sqlalchemy import select

from tallywright.clock import new_chain_name
from tallywright.db import reading
from tallywright.log.tables import records, set_aside
from tallywright.records.compose import ChainWriter, canonical
from tallywright.records.decode import Record, sha256
from tallywright.records.kinds import ChainOpenedV1
from tests.actors import Tablet, Works, push_body


def mark_of(answer: dict[str, Any], tablet: Tablet) -> dict[str, Any]:
    return next(mark for mark in answer["marks"] if mark["chain"] == tablet.writer.chain)


def stored_lines(works: Works, chain: str) -> list[bytes]:
    with reading(works.engine) as connection:
        query = select(records.c.line).where(records.c.chain == chain).order_by(records.c.n)
        return list(connection.scalars(query))


def aside(works: Works) -> list[tuple[int, str, bool, bytes]]:
    columns = set_aside.c.n, set_aside.c.code, set_aside.c.held, set_aside.c.line
    with reading(works.engine) as connection:
        return [tuple(row) for row in connection.execute(select(*columns).order_by(set_aside.c.n))]


def codes(answer: dict[str, Any]) -> list[tuple[int, str]]:
    return [(entry["n"], entry["code"]) for entry in answer["exceptions"]]


def changed(record: Record, **members: Any) -> bytes:
    """The canonical bytes of a record with some members changed."""
    return canonical({**msgspec.json.decode(record.line), **members})


@pytest.fixture
def tablet(works: Works) -> Tablet:
    tablet = works.tablet()
    tablet.open_tray()
    return tablet


def test_records_are_stored_byte_for_byte(works: Works, tablet: Tablet) -> None:
    sent = [record.line for record in tablet.outbox]
    tablet.push()
    assert stored_lines(works, tablet.writer.chain) == sent


def test_the_mark_names_the_last_record_and_its_hash(tablet: Tablet) -> None:
    last = tablet.find()
    mark = mark_of(tablet.push(), tablet)
    assert (mark["n"], mark["hash"], mark["held"]) == (last.envelope.n, last.hash, [])


def test_hazard_c3_the_same_push_twice_stores_nothing_twice_and_answers_the_same(
    works: Works, tablet: Tablet
) -> None:
    outbox = list(tablet.outbox)
    first, second = tablet.push(outbox), tablet.push(outbox)
    assert (first["marks"], first["exceptions"]) == (second["marks"], second["exceptions"])
    assert len(stored_lines(works, tablet.writer.chain)) == len(outbox)
    assert aside(works) == []


def test_an_empty_push_asks_for_marks(tablet: Tablet) -> None:
    tablet.push()
    answer = tablet.push_lines([], 1, marks=[tablet.writer.chain])
    assert mark_of(answer, tablet)["hash"] == tablet.writer.head


def test_a_chain_nobody_knows_has_an_empty_mark(tablet: Tablet) -> None:
    mark = mark_of(tablet.push_lines([], 1, marks=[tablet.writer.chain]), tablet)
    assert (mark["n"], mark["hash"]) == (0, "")


def test_an_unknown_kind_is_stored_and_not_folded(works: Works, tablet: Tablet) -> None:
    tablet.push()
    find = tablet.find()
    line = changed(find, kind="thing_dreamt", body={"look": "first", "anything": [1, "two"]})
    answer = tablet.push_lines([line], find.envelope.n)
    assert codes(answer) == []
    assert stored_lines(works, tablet.writer.chain)[-1] == line
    assert works.rows("finds") == []
    assert works.rows("batches")[0]["not_understood"] == 1


def test_hazard_d14_a_newer_version_of_a_known_kind_is_stored(works: Works, tablet: Tablet) -> None:
    tablet.push()
    find = tablet.find()
    line = changed(find, v=2)
    assert codes(tablet.push_lines([line], find.envelope.n)) == []
    assert stored_lines(works, tablet.writer.chain)[-1] == line


NOT_JSON = b'{"chain":'
BROKEN_TEXT = b'{"chain":"\xff"}'
DEEP = b'{"a":' * 2000 + b"1" + b"}" * 2000
POISON: dict[str, tuple[Callable[[Record], bytes], str]] = {
    "cut JSON": (lambda _: NOT_JSON, "unreadable"),
    "broken UTF-8": (lambda _: BROKEN_TEXT, "unreadable"),
    "broken UTF-8 in an unknown kind": (
        lambda record: changed(record, kind="thing_dreamt", body={"a": "@"}).replace(b"@", b"\xff"),
        "unreadable",
    ),
    "1e400 in an unknown kind": (
        lambda record: changed(record, kind="thing_dreamt", body={"a": "@"}).replace(b'"@"', b"1e400"),
        "unreadable",
    ),
    "deep nesting in an unknown kind": (
        lambda record: changed(record, kind="thing_dreamt", body={"a": "@"}).replace(
            b'"@"', b"[" * 3000 + b"]" * 3000
        ),
        "unreadable",
    ),
    "deep nesting": (lambda _: DEEP, "unreadable"),
    "a body of another shape": (lambda record: changed(record, body={"look": 1}), "unreadable"),
    "an unknown member": (lambda record: changed(record, colour="red"), "unreadable"),
    "a missing sign-on": (
        lambda record: canonical({k: v for k, v in msgspec.json.decode(record.line).items() if k != "sign_on"}),
        "unreadable",
    ),
    "a blank": (lambda record: record.line.replace(b'":', b'": ', 1), "not-canonical"),
    "a doubled member": (lambda record: record.line[:-1] + b',"v":1}', "not-canonical"),
    "an escape that need not be": (lambda record: record.line.replace(b'"lap"', b'"\\u006cap"'), "not-canonical"),
    "another order": (lambda record: b'{"v":1,' + record.line[1:].replace(b',"v":1}', b"}"), "not-canonical"),
    "a null in an unknown kind": (
        lambda record: changed(record, kind="thing_dreamt", body={"a": None}),
        "not-canonical",
    ),
    "a fraction in an unknown kind": (
        lambda record: changed(record, kind="thing_dreamt", body={"a": 1.5}),
        "not-canonical",
    ),
    "2^70 in an unknown kind": (
        lambda record: record.line.replace(b"defect_tallied", b"thing_dreamt").replace(b'"lap"', b"%d" % 2**70),
        "not-canonical",
    ),
    "U+0000": (lambda record: record.line.replace(b'"Europe/Berlin"', b'"Europe\\u0000"'), "not-canonical"),
    "too many bytes": (lambda record: changed(record, kind="thing_dreamt", body={"a": "x" * 17_000}), "too-large"),
    "another number": (lambda record: changed(record, n=record.envelope.n + 7), "misplaced"),
    "another device": (lambda record: changed(record, device=f"{'b' * 26}:9"), "not-yours"),
}


@pytest.mark.parametrize("case", POISON)
def test_a_poison_record_is_set_aside_and_the_good_ones_beside_it_are_stored(
    works: Works, tablet: Tablet, case: str
) -> None:
    make, code = POISON[case]
    before, poisoned = tablet.find(), tablet.find()
    line = make(poisoned)
    tablet.writer.head = sha256(line)
    behind = tablet.find("blister")
    tablet.outbox.remove(poisoned)
    good_before = [record for record in tablet.outbox if record.envelope.n <= before.envelope.n]
    # Where the poison hides its own `previous`, what stands before it is signed by a run of its own.
    tablet.push(good_before)
    answer = tablet.push_lines([line, behind.line], poisoned.envelope.n)
    assert codes(answer) == [(poisoned.envelope.n, code)]
    assert aside(works) == [(poisoned.envelope.n, code, True, line)]
    assert mark_of(answer, tablet)["n"] == behind.envelope.n
    assert sorted(row["id"] for row in works.rows("finds")) == sorted([before.id, behind.id])


def test_hazard_d1_lines_that_cannot_be_stored_keep_none_of_five_hundred_back(works: Works, tablet: Tablet) -> None:
    tablet.push()
    lines, poisoned, good = [], [], []
    for place in range(500):
        find = tablet.find()
        if place in (0, 249, 499):
            poisoned.append(find.line.replace(b'":', b'": ', 1))
            tablet.writer.head = sha256(poisoned[-1])
            lines.append(poisoned[-1])
        else:
            good.append(find.id)
            lines.append(find.line)
    first = tablet.outbox[0].envelope.n
    answer = tablet.push_lines(lines, first)
    assert codes(answer) == [(first + place, "not-canonical") for place in (0, 249, 499)]
    assert [line for _, _, _, line in aside(works)] == poisoned
    assert sorted(row["id"] for row in works.rows("finds")) == sorted(good)
    assert mark_of(answer, tablet)["n"] == first + 499


def test_one_changed_byte_sets_aside_what_stands_before_it_and_the_mark_waits(tablet: Tablet) -> None:
    tablet.push()
    start = tablet.writer.n
    finds = [tablet.find() for _ in range(5)]
    lines = [record.line for record in finds]
    lines[2] = lines[2].replace(b'"lap"', b'"nap"')
    answer = tablet.push_lines(lines, finds[0].envelope.n)
    assert codes(answer) == [(finds[i].envelope.n, "unvouched") for i in range(3)]
    assert mark_of(answer, tablet)["n"] == start
    assert mark_of(answer, tablet)["held"] == [{"first": finds[3].envelope.n, "last": finds[4].envelope.n}]


def test_a_byte_changed_on_the_way_is_named_unvouched_also_where_no_record_is_left(tablet: Tablet) -> None:
    # Whoever sent it has to send it again: under any other code the bytes it sent would be held.
    tablet.push()
    finds = [tablet.find() for _ in range(3)]
    lines = [finds[0].line, finds[1].line.replace(b"{", b"z", 1), finds[2].line]
    answer = tablet.push_lines(lines, finds[0].envelope.n)
    assert codes(answer) == [(find.envelope.n, "unvouched") for find in finds[:2]]


def test_true_bytes_sent_after_forged_ones_are_stored_and_close_the_gap(works: Works, tablet: Tablet) -> None:
    tablet.push()
    finds = [tablet.find() for _ in range(5)]
    lines = [record.line for record in finds]
    forged = [*lines[:2], lines[2].replace(b'"lap"', b'"nap"'), *lines[3:]]
    tablet.push_lines(forged, finds[0].envelope.n)
    mark = mark_of(tablet.push(finds), tablet)
    assert (mark["n"], mark["hash"], mark["held"]) == (finds[-1].envelope.n, finds[-1].hash, [])
    assert len(works.rows("finds")) == 5


def test_a_run_signed_by_another_key_is_set_aside_unvouched(works: Works, tablet: Tablet) -> None:
    tablet.key = ec.generate_private_key(ec.SECP256R1())
    count = len(tablet.outbox)
    answer = tablet.push()
    assert [code for _, code in codes(answer)] == ["unvouched"] * count
    assert mark_of(answer, tablet)["n"] == 0
    assert len(aside(works)) == count


def test_records_of_an_unknown_device_are_set_aside(works: Works, tablet: Tablet) -> None:
    key = ec.generate_private_key(ec.SECP256R1())
    writer = ChainWriter(new_chain_name(works.clock), f"{'c' * 26}:3", "UTC")
    line = writer.add(ChainOpenedV1(why="first"), works.clock.now).line
    answer = tablet.send(push_body(writer.chain, key, [line], 1))
    assert codes(dict(answer.json or {})) == [(1, "unknown-device")]
    assert aside(works) == [(1, "unknown-device", False, line)]


def test_hazard_d12_other_bytes_under_the_same_number_are_set_aside_and_the_first_stay(
    works: Works, tablet: Tablet
) -> None:
    tablet.push()
    head, n = tablet.writer.head, tablet.writer.n
    first = tablet.find("lap")
    tablet.push()
    tablet.writer.head, tablet.writer.n = head, n
    second = tablet.find("blister")
    answer = tablet.push()
    assert codes(answer) == [(second.envelope.n, "number-taken")]
    assert mark_of(answer, tablet)["hash"] == first.hash
    assert [row["defect"] for row in works.rows("finds")] == ["lap"]


def test_what_continues_bytes_that_were_refused_is_set_aside_too(works: Works, tablet: Tablet) -> None:
    tablet.push()
    head, n = tablet.writer.head, tablet.writer.n
    tablet.find("lap")
    tablet.push()
    tablet.writer.head, tablet.writer.n = head, n
    clone = [tablet.find("blister"), tablet.find("burn")]
    answer = tablet.push(clone)
    assert codes(answer) == [(clone[0].envelope.n, "number-taken"), (clone[1].envelope.n, "number-taken")]
    assert len(works.rows("finds")) == 1


def test_a_mark_never_passes_a_gap(works: Works, tablet: Tablet) -> None:
    tablet.push()
    start = tablet.writer.n
    missing, behind = tablet.find(), tablet.find("blister")
    mark = mark_of(tablet.push([behind]), tablet)
    assert (mark["n"], mark["held"]) == (start, [{"first": behind.envelope.n, "last": behind.envelope.n}])
    assert [row["defect"] for row in works.rows("finds")] == ["blister"]
    mark = mark_of(tablet.push([missing]), tablet)
    assert (mark["n"], mark["hash"]) == (behind.envelope.n, behind.hash)


def test_another_device_cannot_continue_a_chain(works: Works, tablet: Tablet) -> None:
    tablet.push()
    other = works.tablet("bench 2")
    other.writer.chain, other.writer.n, other.writer.head = tablet.writer.chain, tablet.writer.n, tablet.writer.head
    other.outbox = []
    other.tray = tablet.tray
    other.find()
    answer = other.push()
    assert [code for _, code in codes(answer)] == ["unvouched"]
    assert works.rows("finds") == []


def test_anybody_may_carry_a_run_of_another_tablet(works: Works, tablet: Tablet) -> None:
    carrier = works.tablet("bench 2")
    find = tablet.find()
    first = tablet.outbox[0].envelope.n
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in tablet.outbox], first)
    assert codes(dict(carrier.send(body).json or {})) == []
    assert [row["id"] for row in works.rows("finds")] == [find.id]


def test_two_runs_of_two_chains_travel_in_one_push(works: Works, tablet: Tablet) -> None:
    other = works.tablet("bench 2")
    bodies = [
        push_body(t.writer.chain, t.key, [record.line for record in t.outbox], 1).split(b"\n", 1)
        for t in (tablet, other)
    ]
    heads = [json.loads(head) for head, _ in bodies]
    head = {**heads[0], "count": heads[0]["count"] + heads[1]["count"], "runs": heads[0]["runs"] + heads[1]["runs"]}
    answer = tablet.send(json.dumps(head).encode() + b"\n" + bodies[0][1] + bodies[1][1]).json
    assert {mark["chain"]: mark["hash"] for mark in answer["marks"]} == {
        tablet.writer.chain: tablet.writer.head,
        other.writer.chain: other.writer.head,
    }


def test_a_line_gets_the_same_verdict_alone_or_in_company(tablet: Tablet) -> None:
    tablet.push()
    before, spaced = tablet.find(), tablet.find()
    line = spaced.line.replace(b'":', b'": ', 1)
    tablet.writer.head = sha256(line)
    behind = tablet.find()
    tablet.push([before])
    alone = tablet.push_lines([line], spaced.envelope.n)
    company = tablet.push_lines([before.line, line, behind.line], before.envelope.n)
    assert codes(alone) == codes(company) == [(spaced.envelope.n, "not-canonical")]


def test_a_fold_that_fails_does_not_keep_its_records_out(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(*_: object) -> None:
        raise RuntimeError("planted")

    monkeypatch.setattr("tallywright.projections.batch_rows.fold_bench", fail)
    sent = len(tablet.outbox)
    answer = tablet.push()
    assert codes(answer) == []
    assert len(stored_lines(works, tablet.writer.chain)) == sent
    assert [row["subject"] for row in works.rows("stale")] == [tablet.batch["batch"]]


def test_a_subject_that_was_stale_is_folded_at_the_next_push(
    works: Works, tablet: Tablet, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.projections.batch_rows.fold_bench", None)
        first = tablet.find()
        tablet.push()
    second = tablet.find()
    tablet.push()
    assert works.rows("stale") == []
    assert sorted(row["id"] for row in works.rows("finds")) == sorted([first.id, second.id])


CUT = {
    "no line feed at the end": lambda body: body[:-1],
    "half a line": lambda body: body[:-30],
    "a line less": lambda body: body[: body[:-1].rfind(b"\n") + 1],
    "the head alone": lambda body: body[: body.find(b"\n") + 1],
}


@pytest.mark.parametrize("case", CUT)
def test_a_cut_body_keeps_nothing_and_says_try_again(works: Works, tablet: Tablet, case: str) -> None:
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in tablet.outbox], 1)
    answer = tablet.send(CUT[case](body))
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (400, "body-cut", True)
    assert stored_lines(works, tablet.writer.chain) == []


HEADS: dict[str, dict[str, Any]] = {
    "another protocol": {"protocol": 2},
    "an unknown member": {"colour": "red"},
    "runs that are none": {"runs": [{"chain": "x", "first": 1, "last": 1, "signature": ""}]},
    "a run that falls": {"runs": [{"chain": "a" * 26, "first": 2, "last": 1, "signature": ""}]},
    "too many lines": {"count": 501},
}


@pytest.mark.parametrize("case", HEADS)
def test_a_head_of_another_shape_is_refused_whole(tablet: Tablet, case: str) -> None:
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in tablet.outbox], 1, **HEADS[case])
    answer = tablet.send(body)
    assert (answer.status_code, answer.json["code"]) == (400, "request-not-understood")


def test_a_body_over_a_mebibyte_is_told_to_come_in_parts(tablet: Tablet) -> None:
    answer = tablet.send(b"x" * (1024 * 1024 + 70 * 1024) + b"\n")
    assert (answer.status_code, answer.json["code"]) == (413, "too-much")


def test_hazard_d3_a_tablet_without_a_session_may_still_push(works: Works, tablet: Tablet) -> None:
    tablet.client = works.client()
    count = len(tablet.outbox)
    tablet.push()
    assert len(stored_lines(works, tablet.writer.chain)) == count
