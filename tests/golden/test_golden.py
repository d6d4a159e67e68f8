# SPDX-License-Identifier: Apache-2.0
"""What each released version wrote is taken by this one, byte for byte, and folded to what it folded to then."""

from __future__ import annotations

import base64
import gzip
import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from sqlalchemy import insert

from tallywright.access.devices import every_public_key
from tallywright.access.session import open_session
from tallywright.cli.works import prepare_data
from tallywright.config import Config
from tallywright.db import insert_rows, reading, writing
from tallywright.log.files import put_file
from tallywright.log.read import every_line
from tallywright.log.tables import chains, records
from tallywright.log.verify import verify
from tallywright.projections.rebuild import rebuild
from tallywright.records.compose import canonical
from tallywright.records.decode import decode
from tallywright.records.kinds import KINDS
from tests.actors import LINES, NOON, Works, join_works
from tests.golden.make import folded, is_a_tablets

HERE = Path(__file__).parent
VERSIONS = sorted(path.stem for path in HERE.glob("*.json"))


def all_kept(version: str) -> dict[str, bytes]:
    packed: dict[str, str] = json.loads((HERE / f"{version}.json").read_text(encoding="utf-8"))
    return {name: gzip.decompress(base64.b64decode(content)) for name, content in packed.items()}


def kept(version: str, name: str) -> bytes:
    return all_kept(version)[name]


def lines_of(version: str, name: str) -> list[bytes]:
    return kept(version, name).splitlines()


@pytest.fixture(params=VERSIONS)
def version(request: pytest.FixtureRequest) -> str:
    found: str = request.param
    return found


@pytest.fixture
def works(version: str, tmp_path: Path) -> Iterator[Works]:
    """The server as it was before the push, in this version's tables."""
    url = f"sqlite:///{tmp_path / 'works.db'}"
    engine = prepare_data(Config(data=tmp_path, database_url=url, demo=True))
    with writing(engine) as connection:
        rows = []
        for number, line in enumerate(lines_of(version, "server/log.ndjson"), start=1):
            record = decode(line)
            where = (record.envelope.chain, record.envelope.n, record.subject, record.look)
            rows.append((number, *where, NOON, line))
        insert_rows(connection, records, rows)
        connection.execute(insert(chains), json.loads(kept(version, "server/chains.json")))
        for name, content in all_kept(version).items():
            if name.startswith("server/files/"):
                assert put_file(connection, content) == name.split("/")[-1]
        assert rebuild(connection) == []
    engine.dispose()
    opened = join_works(tmp_path, url)
    yield opened
    opened.engine.dispose()


def push(works: Works, version: str) -> dict[str, Any]:
    body = kept(version, "push.ndjson")
    device = decode(body.splitlines()[1]).envelope.device
    client = works.client()
    with writing(works.engine) as connection:
        token = open_session(connection, works.clock, device)
    client.set_cookie("__Host-tallywright", token, secure=True)
    answer = client.post("/api/v1/sync/push", data=body, content_type=LINES)
    assert answer.status_code == 200, answer.text
    return dict(answer.json or {})


def test_there_is_a_version_to_look_back_to() -> None:
    assert VERSIONS


def test_its_push_is_stored_byte_for_byte(works: Works, version: str) -> None:
    sent = lines_of(version, "push.ndjson")[1:]
    answer = push(works, version)
    assert answer["exceptions"] == []
    [mark] = answer["marks"]
    assert mark["n"] == len(sent)
    with reading(works.engine) as connection:
        log = [line for _, line in every_line(connection)]
        before = lines_of(version, "server/log.ndjson")
        assert log[: len(before) + len(sent)] == before + sent
        tablet = [one for one in verify(connection, every_public_key(connection)) if mark["chain"] in one.record]
    assert tablet == []


def test_its_records_fold_to_what_they_folded_to_then(works: Works, version: str) -> None:
    push(works, version)
    now = folded(works)
    then: dict[str, list[dict[str, Any]]] = json.loads(kept(version, "folded.json"))
    for table, rows in then.items():
        # A later version may know more of a row; what was known must not change.
        columns = rows[0].keys()
        known = [{name: row[name] for name in columns} for row in now[table]]
        assert sorted(known, key=canonical) == sorted(rows, key=canonical), table


def test_a_record_of_every_kind_it_had_is_one_still_and_has_the_same_bytes(version: str) -> None:
    lines = lines_of(version, "every_kind.ndjson")
    kinds = {(record.envelope.kind, record.envelope.v) for record in map(decode, lines)}
    assert len(kinds) == len(lines)
    assert kinds <= KINDS.keys()
    assert all(decode(line).line == line and decode(line).body is not None for line in lines)


def test_a_tablet_wrote_every_kind_it_might(version: str) -> None:
    written = {decode(line).envelope.kind for line in lines_of(version, "push.ndjson")[1:]}
    every = {
        (record.envelope.kind, record.envelope.v) for record in map(decode, lines_of(version, "every_kind.ndjson"))
    }
    assert {kind for kind, v in every if is_a_tablets(kind, v)} == written
