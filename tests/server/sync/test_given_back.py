# SPDX-License-Identifier: Apache-2.0
"""What a server wrote and lost comes back from the tablets it was given to, under the server's own signature."""

from __future__ import annotations

import msgspec
import pytest

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.definitions.published import parts
from tallywright.log.read import every_line
from tallywright.log.verify import missing, verify
from tallywright.projections.publish import publish_parts
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.asked import RequestGrantedV1
from tallywright.records.compose import canonical
from tallywright.records.decode import read, sha256
from tallywright.records.envelope import LONGEST_RECORD
from tallywright.records.kinds import chain_of
from tallywright.records.people import SignOnJudgedV1
from tests.actors import Tablet, Works
from tests.server.sync.asking import INSPECTOR, ask, make_bench, second, signed_on
from tests.server.sync.put_back import Copy, Memory, shown

BYTES = "application/octet-stream"


def pair(tablet: Tablet) -> str:
    return f"{tablet.batch['batch']}/first"


def ids(works: Works) -> set[str]:
    with reading(works.engine) as connection:
        return {read(line).id for _, line in every_line(connection)}


def what_is_missing(works: Works) -> list[tuple[str, int, int]]:
    """What verify says of lost stretches; nothing else may be wrong, and the rows are those of a rebuild."""
    with writing(works.engine) as connection:
        assert list(verify(connection, every_public_key(connection))) == []
        before = rows(connection)
        rebuild(connection)
        assert rows(connection) == before
        return missing(connection, works.own)


@pytest.fixture
def keeper(works: Works) -> Tablet:
    """The tablet that was given what the server wrote."""
    return signed_on(works, "keeper", INSPECTOR)


@pytest.fixture
def memory() -> Memory:
    return Memory()


def test_every_line_of_the_server_is_given_with_its_signature_and_no_other_line(
    works: Works, keeper: Tablet
) -> None:
    keeper.open_tray()
    keeper.push()
    head, lines = keeper.pull(carry=pair(keeper))
    own = head["head"]["chain"]
    signed = [one["record"] for one in head["signatures"]]
    assert signed == [read(line).id for line in lines if read(line).envelope.chain == own]
    assert any(read(line).envelope.chain != own for line in works.tablet("other").pull(carry=pair(keeper))[1])


def test_hazard_e6_a_tablet_enrolled_in_the_lost_part_is_known_again(
    works: Works, keeper: Tablet, memory: Memory
) -> None:
    copy = Copy(works)
    late = works.tablet("enrolled behind the copy")
    late.open_tray()
    head = memory.pull(keeper)
    copy.put_back()
    memory.pull(keeper, head=shown(head))
    made = list(late.outbox)
    lost = late.writer.device
    assert {line["code"] for line in late.push(made)["exceptions"]} == {"unknown-device"}
    assert memory.give_back(keeper, lost)["exceptions"] == []
    answer = late.push(made)
    assert (answer["exceptions"], answer["marks"][0]["n"]) == ([], made[-1].envelope.n)
    assert what_is_missing(works) == []


def test_a_grant_of_the_lost_part_lifts_its_hold_again(works: Works, memory: Memory) -> None:
    bench = make_bench(works)
    lead = bench.lead()
    copy = Copy(works)
    request = ask(lead, bench.mark.id)
    asked = list(lead.outbox)
    lead.push()
    second(bench.first, request)
    bench.first.push()
    head = memory.pull(bench.first, carry=pair(bench.first))
    copy.put_back()
    memory.pull(bench.first, carry=pair(bench.first), head=shown(head))
    assert bench.holds[bench.mark.id]["lifted_by"] == ""
    memory.give_back(bench.first)
    lead.push(asked, [])
    assert (bench.state(request), bench.holds[bench.mark.id]["lifted_by"]) == (("granted", []), request.id)
    with reading(works.engine) as connection:
        grants = [r for _, line in every_line(connection) if isinstance((r := read(line)).body, RequestGrantedV1)]
    assert [chain_of(grant.id) for grant in grants] == [head["head"]["chain"]]


@pytest.mark.parametrize("is_first", [True, False])
def test_a_sign_on_that_was_judged_in_the_lost_part_is_proven_again(
    works: Works, memory: Memory, is_first: bool
) -> None:
    tablet = works.tablet("bench 1")
    tablet.push()
    copy = Copy(works)
    sealed = tablet.sign_on_as(works.person(INSPECTOR[0]), INSPECTOR[1])
    made = [*tablet.outbox, tablet.open_tray(), tablet.find()]
    tablet.push(enclosures=[sealed])
    head = memory.pull(tablet, chain=tablet.writer.chain)
    copy.put_back()
    memory.pull(tablet, head=shown(head))
    if is_first:
        memory.give_back(tablet)
    tablet.push(made, [])  # the sealed PIN was wiped when it was judged

    def proven() -> dict[str, bool]:
        return {row["sign_on"]: bool(row["proven"]) for row in works.rows("sign_ons")}

    assert proven()[tablet.sign_on] == is_first
    memory.give_back(tablet)
    assert proven()[tablet.sign_on]
    assert what_is_missing(works) == []


def test_marks_under_a_definition_of_the_lost_part_are_understood_again(
    works: Works, keeper: Tablet, memory: Memory
) -> None:
    copy = Copy(works)
    with reading(works.engine) as connection:
        [part] = parts(connection, [works.batch()["definition"]]).values()
    lap = msgspec.structs.replace(part.defects[0], defect="lap_9")
    with writing(works.engine) as connection:
        newer = msgspec.structs.replace(part, revision="D", defects=[*part.defects, lap])
        [(definition, _)] = publish_parts(connection, works.own, [newer])
    content = canonical(newer)
    assert len(content) > LONGEST_RECORD  # it is a file beside the log
    keeper.batch = {**keeper.batch, "definition": definition}
    made = [keeper.open_tray(), keeper.find("lap_9")]
    keeper.push()
    head = memory.pull(keeper)
    copy.put_back()
    memory.pull(keeper, head=shown(head))
    keeper.push(made)
    assert (works.rows("batches")[0]["not_understood"], works.rows("finds")) == (1, [])
    memory.give_back(keeper)
    answer = keeper.client.post(f"/api/v1/files/{sha256(content)}/parts?offset=0", data=content, content_type=BYTES)
    assert answer.json["whole"]
    assert works.rows("batches")[0]["not_understood"] == 0
    assert [find["defect"] for find in works.rows("finds")] == ["lap_9"]
    assert what_is_missing(works) == []


def test_what_no_tablet_was_given_stays_missing_and_is_named(works: Works, memory: Memory) -> None:
    other = works.tablet("other")
    copy = Copy(works)
    works.tablet("first behind the copy")
    judged = signed_on(works, "second behind the copy", INSPECTOR)  # its judgement is given to it alone
    works.tablet("third behind the copy")
    head = memory.pull(other)
    copy.put_back()
    memory.pull(other, head=shown(head))
    memory.give_back(other)
    lost = head["head"]
    assert what_is_missing(works) == [(lost["chain"], lost["n"] - 1, lost["n"] - 1)]
    with reading(works.engine) as connection:
        records = [read(line) for _, line in every_line(connection)]
    assert not any(isinstance(r.body, SignOnJudgedV1) and r.body.sign_on == judged.sign_on for r in records)


def test_given_back_twice_it_is_there_once(works: Works, keeper: Tablet, memory: Memory) -> None:
    copy = Copy(works)
    works.tablet("enrolled behind the copy")
    head = memory.pull(keeper)
    copy.put_back()
    memory.pull(keeper, head=shown(head))
    memory.give_back(keeper)
    held = ids(works)
    assert memory.give_back(keeper)["exceptions"] == []
    assert ids(works) == held
    assert what_is_missing(works) == []


def test_a_line_of_the_chain_that_is_written_to_shows_that_it_was_put_back_and_is_taken(
    works: Works, keeper: Tablet, memory: Memory
) -> None:
    """It proves what a head would; nothing more is written in that chain, so that it holds nobody's number."""
    copy = Copy(works)
    late = works.tablet("enrolled behind the copy")
    before = memory.pull(keeper)
    copy.put_back()
    answer = memory.give_back(keeper, late.writer.device)
    assert answer["epoch"] != before["epoch"]
    assert answer["exceptions"] == []
    assert late.writer.device in ids(works)
    assert not works.tablet("enrolled behind it").writer.device.startswith(chain_of(late.writer.device))
    assert what_is_missing(works) == []


def test_the_chain_that_is_written_to_takes_what_it_has_as_known_and_goes_on(
    keeper: Tablet, memory: Memory
) -> None:
    before = memory.pull(keeper)
    answer = memory.give_back(keeper)
    assert (answer["epoch"], answer["exceptions"]) == (before["epoch"], [])


def test_what_the_server_did_not_sign_begins_no_epoch(works: Works, keeper: Tablet, memory: Memory) -> None:
    copy = Copy(works)
    late = works.tablet("enrolled behind the copy")
    before = memory.pull(keeper)
    copy.put_back()
    line, signature = memory.kept[late.writer.device]
    memory.kept[late.writer.device] = line.replace(b"behind", b"beyond"), signature
    answer = memory.give_back(keeper, late.writer.device)
    assert (answer["epoch"], [line["code"] for line in answer["exceptions"]]) == (before["epoch"], ["unvouched"])
    assert late.writer.device not in ids(works)


def test_a_line_the_server_did_not_sign_is_not_taken(works: Works, keeper: Tablet, memory: Memory) -> None:
    copy = Copy(works)
    late = works.tablet("enrolled behind the copy")
    head = memory.pull(keeper)
    copy.put_back()
    memory.pull(keeper, head=shown(head))
    line, signature = memory.kept[late.writer.device]
    memory.kept[late.writer.device] = line.replace(b"behind", b"beyond"), signature
    answer = memory.give_back(keeper, late.writer.device)
    assert [line["code"] for line in answer["exceptions"]] == ["unvouched"]
    assert late.writer.device not in ids(works)


def test_a_number_that_was_given_anew_before_the_roll_back_was_noticed_keeps_its_new_bytes(
    works: Works, keeper: Tablet, memory: Memory
) -> None:
    copy = Copy(works)
    lost = works.tablet("enrolled behind the copy")
    head = memory.pull(keeper)
    copy.put_back()
    anew = works.tablet("enrolled before anybody noticed")
    assert anew.writer.device == lost.writer.device
    keeper.pull(head=shown(head))
    answer = memory.give_back(keeper, lost.writer.device)
    assert [line["code"] for line in answer["exceptions"]] == ["number-taken"]
    assert what_is_missing(works) == []


def test_a_chain_that_a_second_roll_back_took_whole_comes_back_behind_the_one_in_use(
    works: Works, keeper: Tablet, memory: Memory
) -> None:
    copy = Copy(works)
    works.tablet("enrolled behind the copy")
    head = memory.pull(keeper)
    copy.put_back()
    second_head = memory.pull(keeper, head=shown(head))
    late = works.tablet("enrolled in the second epoch")
    second_head = memory.pull(keeper, after=second_head["cursor"])
    copy.put_back()
    third_head = memory.pull(keeper, head=shown(second_head))
    chains = [one["head"]["chain"] for one in (head, second_head, third_head)]
    assert len(set(chains)) == 3
    assert memory.give_back(keeper)["exceptions"] == []
    assert late.writer.device in ids(works)
    assert what_is_missing(works) == [(chains[1], 1, 1)]
    again = memory.pull(keeper, after=third_head["cursor"])
    assert (again["epoch"], again["head"]["chain"]) == (third_head["epoch"], chains[2])
    assert works.tablet("enrolled in the third epoch").writer.device.startswith(chains[2])
    with reading(works.engine) as connection:
        assert set(works.own.lost(connection)) == set(chains[:2])
        assert not works.own.takes_back(connection, chains[2])
    # The head of a chain that came back whole is no news.
    assert keeper.pull(head=shown(second_head))[0]["epoch"] == third_head["epoch"]
