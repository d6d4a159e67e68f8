# SPDX-License-Identifier: Apache-2.0
"""A server put back to an older copy of its database: noticed once, and made whole by what the tablets hold."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from sqlalchemy import select

from tallywright.access.devices import every_public_key
from tallywright.db import reading
from tallywright.log.own_chain import Witness
from tallywright.log.read import every_line
from tallywright.log.tables import records
from tallywright.log.verify import missing, verify
from tallywright.records.decode import Record, decode, read
from tallywright.sync.epoch import begin_epoch
from tests.actors import Tablet, Works
from tests.server.sync.put_back import Copy, shown


def lines(works: Works) -> set[bytes]:
    with reading(works.engine) as connection:
        return {line for _, line in every_line(connection)}


def restored(works: Works) -> list[Any]:
    return [record for line in lines(works) if (record := read(line)).envelope.kind == "restored"]


def work(tablet: Tablet) -> list[Any]:
    made = list(tablet.outbox)
    tablet.push()
    return made


@pytest.fixture
def tablets(works: Works) -> list[Tablet]:
    """Three tablets whose enrolments the copy holds."""
    three = [works.tablet(f"bench {n}") for n in (1, 2, 3)]
    for tablet in three:
        tablet.open_tray()
    return three


def test_a_push_says_of_what_was_answered_for_whether_it_is_kept_and_a_log_put_back_has_lost_it(
    works: Works, tablets: list[Tablet]
) -> None:
    tablet = tablets[0]
    tablet.push()
    head, n = tablet.writer.head, tablet.writer.n
    copy = Copy(works)
    stored = tablet.find("lap")
    tablet.push()
    tablet.writer.head, tablet.writer.n = head, n
    set_aside = tablet.find("blister")
    tablet.push()

    def lost(record: Record, line_hash: str) -> Any:
        answered = [{"chain": tablet.writer.chain, "n": record.envelope.n, "hash": line_hash}]
        return tablet.push_lines([], 1, answered=answered)["lost"]

    known = [(one, one.hash) for one in (stored, set_aside)]
    assert [lost(*one) for one in known] == [[], []]
    assert lost(stored, "0" * 64) == [tablet.writer.chain]
    copy.put_back()
    assert [lost(*one) for one in known] == [[tablet.writer.chain]] * 2


@pytest.fixture
def behind(works: Works, tablets: list[Tablet]) -> tuple[list[dict[str, Any]], list[list[Any]], set[bytes]]:
    """The server was put back; what the tablets were told before, what they hold, and what the log held."""
    held = [work(tablet) for tablet in tablets]
    copy = Copy(works)
    for number, tablet in enumerate(tablets):
        held[number].append(tablet.find())
        tablet.push()
    works.tablet("enrolled behind the copy")
    told = [tablet.pull()[0] for tablet in tablets]
    before = lines(works)
    copy.put_back()
    return told, held, before


def test_a_shown_head_beyond_the_log_begins_a_new_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    told = behind[0]
    head, _ = tablets[0].pull(head=shown(told[0]))
    [record] = restored(works)
    assert head["epoch"] == record.id != told[0]["epoch"]
    assert head["head"]["chain"] == record.envelope.chain != told[0]["head"]["chain"]
    assert (record.body.noticed_by, record.body.lost) == (
        "head",
        f"{told[0]['head']['chain']}:{told[0]['head']['n']}",
    )


def test_the_new_chain_names_the_head_that_was_shown(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    told = behind[0]
    tablets[0].pull(head=shown(told[0]))
    [record] = restored(works)
    opened = next(r for line in lines(works) if (r := read(line)).id == f"{record.envelope.chain}:1")
    assert (opened.body.why, opened.body.before) == ("behind", told[0]["head"]["hash"])
    assert record.envelope.site == tablets[0].site


def test_many_tablets_that_notice_one_roll_back_begin_one_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    told = behind[0]
    epochs = {tablet.pull(head=shown(one))[0]["epoch"] for tablet in tablets for one in told}
    assert len(epochs) == len(restored(works)) == 1


def test_twelve_tablets_that_notice_at_the_same_moment_begin_one_epoch(
    works: Works, behind: tuple[Any, Any, Any]
) -> None:
    own = behind[0][0]["head"]
    witness = Witness(own["chain"], own["n"], own["hash"], own["signature"])
    with ThreadPoolExecutor(12) as together:
        list(together.map(lambda _: begin_epoch(works.engine, works.own, witness), range(12)))
    assert len(restored(works)) == 1


def test_a_second_roll_back_begins_a_second_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    copy = Copy(works)
    first, _ = tablets[0].pull(head=shown(behind[0][0]))
    copy.put_back()
    second, _ = tablets[0].pull(head=shown(first))
    assert second["epoch"] not in (first["epoch"], behind[0][0]["epoch"])
    again, _ = tablets[1].pull(head=shown(second))
    assert again["epoch"] == second["epoch"]


def test_other_records_under_the_same_numbers_of_the_servers_chain_are_noticed_too(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    for number in range(3):
        works.tablet(f"new {number}")
    head, _ = tablets[0].pull(head=shown(behind[0][0]))
    assert [record.id for record in restored(works)] == [head["epoch"]]


def test_a_head_the_server_still_has_changes_nothing(works: Works, tablets: list[Tablet]) -> None:
    head, _ = tablets[0].pull()
    works.tablet("one more")
    again, _ = tablets[0].pull(head=shown(head))
    assert again["epoch"] == head["epoch"]
    assert restored(works) == []


def test_a_head_nobody_signed_changes_nothing(works: Works, tablets: list[Tablet]) -> None:
    head, _ = tablets[0].pull()
    lie = {"head": {**head["head"], "n": head["head"]["n"] + 50}}
    again, _ = tablets[0].pull(head=shown(lie))
    other = {"head": {**head["head"], "hash": "0" * 64}}
    assert tablets[0].pull(head=shown(other))[0]["epoch"] == again["epoch"] == head["epoch"]
    assert restored(works) == []


def test_a_wrong_cursor_alone_is_void_and_begins_no_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    answer = tablets[0].client.get("/api/v1/sync/pull", query_string={"after": behind[0][0]["cursor"]})
    assert (answer.status_code, answer.json["code"]) == (409, "cursor-void")
    assert restored(works) == []


def test_a_void_cursor_beside_a_head_begins_the_epoch_all_the_same(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    query = {"after": behind[0][0]["cursor"], "head": shown(behind[0][0])}
    answer = tablets[0].client.get("/api/v1/sync/pull", query_string=query)
    assert answer.json["code"] == "cursor-void"
    assert len(restored(works)) == 1


def test_hazard_e6_what_the_tablets_send_again_makes_the_log_whole(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    told, held, before = behind
    for tablet, one, records_held in zip(tablets, told, held, strict=True):
        tablet.pull(head=shown(one))
        answer = tablet.push(records_held)
        assert answer["exceptions"] == []
        assert answer["marks"][0]["n"] == records_held[-1].envelope.n
    server = told[0]["head"]["chain"]
    missing = {record.id for line in before - lines(works) if (record := decode(line)).envelope.chain == server}
    assert {record.line for one in held for record in one} <= lines(works)
    assert len(before - lines(works)) == len(missing) == 1


def test_the_epoch_of_a_push_is_that_of_a_pull(tablets: list[Tablet], behind: tuple[Any, Any, Any]) -> None:
    head, _ = tablets[0].pull(head=shown(behind[0][0]))
    assert tablets[1].push(behind[1][1])["epoch"] == head["epoch"]


def test_works_and_device_keep_their_ids_in_a_new_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    tablets[0].pull(head=shown(behind[0][0]))
    late = works.tablet("enrolled in the new epoch")
    assert late.site == tablets[0].site
    late.open_tray()
    assert late.push()["exceptions"] == []
    [record] = restored(works)
    assert record.envelope.device == f"{tablets[0].site.split(':')[0]}:3"


def test_the_log_is_whole_after_a_new_epoch(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    tablets[0].pull(head=shown(behind[0][0]))
    works.tablet("enrolled in the new epoch")
    with reading(works.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []


def test_what_the_server_wrote_and_lost_is_named_as_missing(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    own = behind[0][0]["head"]
    tablets[0].pull(head=shown(behind[0][0]))
    with reading(works.engine) as connection:
        assert missing(connection, works.own) == [(own["chain"], own["n"], own["n"])]


def test_a_chain_of_the_server_is_not_taken_up_from_a_tablet(
    works: Works, tablets: list[Tablet], behind: tuple[Any, Any, Any]
) -> None:
    copy = Copy(works)
    first, _ = tablets[0].pull(head=shown(behind[0][0]))
    with reading(works.engine) as connection:
        chain = first["head"]["chain"]
        rows = connection.execute(select(records.c.line).where(records.c.chain == chain).order_by(records.c.n))
        lost = [row.line for row in rows]
    copy.put_back()
    run = {"chain": chain, "first": 1, "last": len(lost), "signature": first["head"]["signature"]}
    answer = tablets[0].push_lines(lost, 1, runs=[run])
    assert {one["code"] for one in answer["exceptions"]} == {"not-yours"}
    assert tablets[0].pull()[0]["epoch"] == behind[0][0]["epoch"]


@pytest.mark.parametrize("text", ["x", f"{'a' * 26}:1", f"{'a' * 26}:0.{'0' * 64}.AAAA"])
def test_a_head_of_another_form_is_refused(tablets: list[Tablet], text: str) -> None:
    answer = tablets[0].client.get("/api/v1/sync/pull", query_string={"head": text})
    assert (answer.status_code, answer.json["code"]) == (400, "request-not-understood")
