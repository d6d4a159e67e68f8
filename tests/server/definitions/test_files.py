# SPDX-License-Identifier: Apache-2.0
"""A definition larger than a record: a file by its hash, given to enrolled devices, and marks that wait for it."""

from __future__ import annotations

from typing import Any

import msgspec
import pytest
from sqlalchemy import delete, update

from tallywright.access.devices import every_public_key
from tallywright.db import reading, writing
from tallywright.definitions.published import parts
from tallywright.log.files import put_file, read_file
from tallywright.log.read import every_line
from tallywright.log.tables import files
from tallywright.log.verify import Finding, verify
from tallywright.projections.publish import publish_parts, take_file
from tallywright.projections.rebuild import rebuild, rows
from tallywright.records.compose import canonical
from tallywright.records.decode import sha256
from tallywright.records.definition import FileDefinition, PartDefinition
from tallywright.records.envelope import LONGEST_RECORD
from tallywright.records.kinds import DefinitionPublishedV1
from tests.actors import Works


def large_part(works: Works) -> PartDefinition:
    """The demo's part, told at such length that no record can hold it."""
    with reading(works.engine) as connection:
        part = parts(connection, [works.batch()["definition"]])[works.batch()["definition"]]
    why = "It is told at length. " * 9
    words = [msgspec.structs.replace(part.defects[0], defect=f"lap_{n}", why=why) for n in range(60)]
    return msgspec.structs.replace(part, revision="D", defects=[*part.defects, *words])


def publish(works: Works, part: PartDefinition) -> str:
    with writing(works.engine) as connection:
        return publish_parts(connection, works.own, [part])[0][0]


def lose(works: Works, content: bytes) -> None:
    """The file is gone, as after a restore from a backup that lacks it."""
    with writing(works.engine) as connection:
        connection.execute(delete(files).where(files.c.hash == sha256(content)))
        rebuild(connection)


def found_under(works: Works, definition: str) -> dict[str, Any]:
    """A tablet pushes a find judged by a definition; returns the line of its batch."""
    tablet = works.tablet()
    tablet.batch = {**tablet.batch, "definition": definition}
    tablet.open_tray()
    tablet.find("lap_7")
    tablet.push()
    return works.rows("batches")[0]


def test_a_part_too_large_for_a_record_is_published_as_a_file(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    with reading(works.engine) as connection:
        assert len(canonical(part)) > LONGEST_RECORD
        assert parts(connection, [definition]) == {definition: part}


def test_a_mark_waits_for_the_file_of_its_definition_and_counts_when_it_arrives(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    lose(works, canonical(part))
    assert found_under(works, definition)["not_understood"] == 1
    assert works.rows("finds") == []
    with reading(works.engine) as connection:
        before = list(every_line(connection))
    with writing(works.engine) as connection:
        take_file(connection, canonical(part))
    assert works.rows("batches")[0]["not_understood"] == 0
    assert [find["defect"] for find in works.rows("finds")] == ["lap_7"]
    with reading(works.engine) as connection:
        assert list(every_line(connection)) == before


def test_rows_after_a_late_file_are_those_of_a_rebuild(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    lose(works, canonical(part))
    found_under(works, definition)
    with writing(works.engine) as connection:
        take_file(connection, canonical(part))
        late = rows(connection)
        rebuild(connection)
        assert rows(connection) == late


def what_verify_finds(works: Works) -> list[Finding]:
    with reading(works.engine) as connection:
        return list(verify(connection, every_public_key(connection)))


def test_verify_names_a_definition_whose_file_is_missing_until_it_is_published_again(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    assert what_verify_finds(works) == []
    lose(works, canonical(part))
    [finding] = what_verify_finds(works)
    assert finding.record == definition
    assert finding.what.startswith("the file of SK-70 D is missing")
    publish(works, part)
    assert what_verify_finds(works) == []


def test_verify_names_a_definition_whose_file_was_changed(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    with writing(works.engine) as connection:
        of_part = files.c.hash == sha256(canonical(part))
        connection.execute(update(files).where(of_part).values(bytes=b"{}"))
    assert [finding.record for finding in what_verify_finds(works)] == [definition]


def test_marks_of_two_versions_of_a_list_are_each_judged_by_the_one_they_name(works: Works) -> None:
    tablet = works.tablet()
    with reading(works.engine) as connection:
        part = parts(connection, [tablet.batch["definition"]])[tablet.batch["definition"]]
    raised = [
        msgspec.structs.replace(word, defect_class="critical", by_zone=msgspec.UNSET)
        if word.defect == "staining"
        else word
        for word in part.defects
    ]
    second = publish(works, msgspec.structs.replace(part, defects=raised))
    tablet.open_tray()
    under_the_first = tablet.find("staining")
    tablet.batch = {**tablet.batch, "definition": second}
    under_the_second = tablet.find("staining")
    tablet.push()
    found = {find["id"]: find["weight"] for find in works.rows("finds")}
    assert found == {under_the_first.id: "minor", under_the_second.id: "critical"}
    assert [hold["hold"] for hold in works.rows("holds")] == [under_the_second.id]


def test_publishing_again_brings_a_lost_file_back_and_writes_nothing(works: Works) -> None:
    part = large_part(works)
    definition = publish(works, part)
    lose(works, canonical(part))
    with reading(works.engine) as connection:
        before = list(every_line(connection))
    assert publish(works, part) == definition
    with reading(works.engine) as connection:
        assert parts(connection, [definition]) == {definition: part}
        assert list(every_line(connection)) == before


@pytest.mark.parametrize("content", [b"", b"{", b'{"subject":"part"}', b"\xff\xfe", b"[" * 5_000])
def test_a_file_that_is_no_part_definition_is_not_understood(sqlite_works: Works, content: bytes) -> None:
    with writing(sqlite_works.engine) as connection:
        named = FileDefinition(of="part", part="SK-70", revision="D", file=put_file(connection, content))
        definition = sqlite_works.own.write(connection, [DefinitionPublishedV1(content=named)])[0].id
    assert found_under(sqlite_works, definition)["not_understood"] == 1


def test_bytes_changed_in_the_database_are_no_file_and_are_put_right(works: Works) -> None:
    with writing(works.engine) as connection:
        name = put_file(connection, b"right")
        connection.execute(update(files).values(bytes=b"wrong"))
        assert read_file(connection, name) is None
        assert put_file(connection, b"right") == name
        assert read_file(connection, name) == b"right"


def test_an_enrolled_device_gets_the_bytes_and_may_keep_them_for_ever(works: Works) -> None:
    with writing(works.engine) as connection:
        name = put_file(connection, b"\x00a file")
    answer = works.tablet().client.get(f"/api/v1/files/{name}")
    assert (answer.status_code, answer.data) == (200, b"\x00a file")
    assert "immutable" in answer.headers["Cache-Control"]
    assert "private" in answer.headers["Cache-Control"]


@pytest.mark.parametrize("name", ["0" * 64, "f", "..%2Fserver.key", "A" * 64])
def test_a_file_that_is_not_here_is_404_in_our_shape(sqlite_works: Works, name: str) -> None:
    answer = sqlite_works.tablet().client.get(f"/api/v1/files/{name}")
    assert (answer.status_code, answer.json["marker"], answer.json["code"]) == (404, "tallywright", "not-found")
    assert answer.headers["Cache-Control"] == "no-store"


def test_nobody_without_a_session_gets_a_file(sqlite_works: Works) -> None:
    with writing(sqlite_works.engine) as connection:
        name = put_file(connection, b"a file")
    assert sqlite_works.client().get(f"/api/v1/files/{name}").json["code"] == "not-enrolled"
