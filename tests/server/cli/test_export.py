# SPDX-License-Identifier: Apache-2.0
"""An export is read and proven by what its own page says, without our code; an empty server folds it again."""

from __future__ import annotations

import base64
import hashlib
import json
from pathlib import Path
from typing import Any

import pytest
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import load_der_public_key
from sqlalchemy import insert

from tallywright.config import Config, sqlite_url
from tallywright.db import migrate, open_engine, reading, writing
from tallywright.log.files import put_file
from tallywright.log.read import every_line
from tallywright.log.tables import records, set_aside
from tallywright.projections.rebuild import ensure, rows
from tallywright.projections.refold import refold
from tallywright.records.decode import decode
from tallywright.records.kinds import DeviceRevokedV1
from tests.actors import Works
from tests.command import run

PHOTO = b"\xff\xd8 a picture"


@pytest.fixture
def exported(works: Works, tmp_path: Path) -> Path:
    """A works with finds, a file, and a line that was set aside and is a link of its chain: as an export."""
    kept, lost = works.tablet("bench 1"), works.tablet("bench 7")
    for tablet in (kept, lost):
        tablet.open_tray()
        tablet.find()
        tablet.push()
    with writing(works.engine) as connection:
        put_file(connection, PHOTO)
        [record] = works.own.write(connection, [DeviceRevokedV1(device=lost.writer.device)])
        refold(connection, [record.subject])
    lost.find()
    lost.push()
    folder = tmp_path / "export"
    done = run("export", str(folder), **settings(works.config))
    assert (done.returncode, done.stderr) == (0, "")
    return folder


def settings(config: Config) -> dict[str, str]:
    return {"TALLYWRIGHT_DATA": str(config.data), "TALLYWRIGHT_DATABASE_URL": config.database_url}


def lines(folder: Path, name: str) -> list[bytes]:
    return (folder / name).read_bytes().splitlines()


def read(folder: Path, name: str) -> list[dict[str, Any]]:
    return [json.loads(line) for line in lines(folder, name)]


def noted(folder: Path) -> dict[tuple[str, int], str]:
    """The SHA-256 of each line that is a link, as step 1 of the page says."""
    links = [(json.loads(line), line) for line in lines(folder, "records.jsonl")]
    links += [(one, base64.b64decode(one["line_base64"])) for one in read(folder, "set_aside.jsonl") if one["held"]]
    return {(one["chain"], one["n"]): hashlib.sha256(line).hexdigest() for one, line in links}


def wrong(folder: Path) -> list[str]:
    """What steps 2 to 4 of the page find."""
    sums, found = noted(folder), []
    keys = {}
    for one in read(folder, "records.jsonl"):
        name = f"{one['chain']}:{one['n']}"
        if one["kind"] == "device_enrolled":
            keys[name] = base64.b64decode(one["body"]["public_key"])
        if one["n"] > 1 and sums.get((one["chain"], one["n"] - 1)) != one["previous"]:
            found.append(name)
    for head in read(folder, "heads.jsonl"):
        last = sums.get((head["chain"], head["signed_n"]), "")
        text = f"tallywright-run-1|{head['chain']}|{head['signed_n']}|{last}".encode("ascii")
        raw = base64.b64decode(head["signature"])
        key = load_der_public_key(keys[head["device"]])
        assert isinstance(key, ec.EllipticCurvePublicKey)
        try:
            der = encode_dss_signature(int.from_bytes(raw[:32]), int.from_bytes(raw[32:]))
            key.verify(der, text, ec.ECDSA(SHA256()))
        except InvalidSignature:
            found.append(f"{head['chain']} is not signed")
    found += [
        file.name
        for file in (folder / "files").iterdir()
        if hashlib.sha256(file.read_bytes()).hexdigest() != file.name
    ]
    return found


def test_the_records_are_the_logs_own_bytes_in_its_order(works: Works, exported: Path) -> None:
    with reading(works.engine) as connection:
        assert lines(exported, "records.jsonl") == [line for _, line in every_line(connection)]
        numbers = [number for number, _ in every_line(connection)]
    assert [one["number"] for one in read(exported, "received.jsonl")] == numbers


def test_it_is_proven_by_what_its_page_says(exported: Path) -> None:
    assert [one["code"] for one in read(exported, "set_aside.jsonl")] == ["revoked-device"]
    assert len(list((exported / "files").iterdir())) == 2
    assert wrong(exported) == []


def test_a_changed_byte_is_found_by_what_its_page_says(exported: Path) -> None:
    text = (exported / "records.jsonl").read_bytes()
    for number, line in enumerate(text.splitlines()):
        changed = text.splitlines()
        changed[number] = line.replace(b'"made_at":1', b'"made_at":2')
        assert changed[number] != line
        (exported / "records.jsonl").write_bytes(b"\n".join(changed))
        assert wrong(exported), f"line {number + 1}"


def test_the_sums_are_those_of_the_files(exported: Path) -> None:
    sums = json.loads((exported / "sums.json").read_text())
    assert set(sums) == {path.name for path in exported.iterdir()} - {"sums.json", "files"}
    for name, said in sums.items():
        content = (exported / name).read_bytes()
        assert said == {"lines": content.count(b"\n"), "sha256": hashlib.sha256(content).hexdigest()}


def test_an_empty_server_folds_the_same_rows_from_it(works: Works, exported: Path, tmp_path: Path) -> None:
    (tmp_path / "again").mkdir()
    again = open_engine(sqlite_url(tmp_path / "again"))
    migrate(again)
    with writing(again) as connection:
        arrived = zip(read(exported, "received.jsonl"), lines(exported, "records.jsonl"), strict=True)
        for place, line in arrived:
            record = decode(line)
            connection.execute(insert(records).values(**place, line=line, subject=record.subject, look=record.look))
        for one in read(exported, "set_aside.jsonl"):
            line = base64.b64decode(one.pop("line_base64"))
            connection.execute(insert(set_aside).values(**one, line=line))
        for file in (exported / "files").iterdir():
            put_file(connection, file.read_bytes())
        ensure(connection)
    with reading(works.engine) as live, reading(again) as filled:
        assert rows(filled) == rows(live)
    again.dispose()


def test_neither_pins_nor_keys_are_in_it(works: Works, exported: Path) -> None:
    text = b"".join(path.read_bytes() for path in exported.rglob("*") if path.is_file())
    assert b"$argon2" not in text
    assert b"PRIVATE KEY" not in text
    assert works.config.key_file.read_bytes()[:40] not in text


def test_only_its_user_may_read_it(exported: Path) -> None:
    assert [path.name for path in (exported, *exported.rglob("*")) if path.stat().st_mode & 0o077] == []


def test_an_export_never_replaces_another(works: Works, exported: Path) -> None:
    before = (exported / "records.jsonl").read_bytes()
    done = run("export", str(exported), **settings(works.config))
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert (exported / "records.jsonl").read_bytes() == before


def test_a_folder_that_cannot_be_written_is_one_sentence_and_leaves_nothing(works: Works, tmp_path: Path) -> None:
    done = run("export", str(tmp_path / "nowhere" / "export"), **settings(works.config))
    assert (done.returncode, done.stderr.count("\n")) == (2, 1)
    assert not (tmp_path / "nowhere").exists()
