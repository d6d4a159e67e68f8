# SPDX-License-Identifier: Apache-2.0
"""Write the whole log as lines of JSON that outlive this program, with a page that says how to read them."""

from __future__ import annotations

import base64
import hashlib
import os
import shutil
from collections.abc import Iterator
from importlib.resources import files as packaged
from pathlib import Path

import click
import msgspec
from sqlalchemy import Connection, select

from tallywright.cli.backup import ROWS_AT_ONCE
from tallywright.cli.data_folder import DATA, config_in
from tallywright.cli.works import prepare_data
from tallywright.db import reading
from tallywright.errors import WrongUse
from tallywright.log.files import read_file
from tallywright.log.read import every_line
from tallywright.log.tables import chains, files, records, set_aside

PAGE = "READ_ME.md"


@click.command()
@DATA
@click.argument("folder", type=click.Path(path_type=Path))
def export(data: Path | None, folder: Path) -> None:
    """Write all records, and all that proves them, as readable text into a new FOLDER."""
    if folder.exists():
        raise WrongUse(f"The folder {folder} is there already. Name a new one: an export never replaces another.")
    part = folder.with_name(f"{folder.name}.part")
    engine = prepare_data(config_in(data))
    try:
        shutil.rmtree(part, ignore_errors=True)
        part.mkdir(mode=0o700)
        with reading(engine) as connection:
            sums = dict(_write(part, connection))
        _put(part / "sums.json", [msgspec.json.format(msgspec.json.encode(sums), indent=1), b"\n"])
        part.rename(folder)
    except OSError as problem:
        shutil.rmtree(part, ignore_errors=True)
        raise WrongUse(f"The export {folder} could not be written: {problem}.") from problem
    finally:
        engine.dispose()
    count = sums["records.jsonl"]["lines"]
    click.echo(f"{folder} holds {count} records as text. Its page {PAGE} says how to read and to prove them.")


def _write(folder: Path, connection: Connection) -> Iterator[tuple[str, dict[str, str | int]]]:
    """Write each file out of one state of the database; yield its name, and its lines and SHA-256."""
    page = packaged("tallywright.cli").joinpath("export.md").read_bytes()
    yield PAGE, _put(folder / PAGE, [page])
    lines = (line + b"\n" for _, line in every_line(connection, ROWS_AT_ONCE))
    yield "records.jsonl", _put(folder / "records.jsonl", lines)
    arrived = select(records.c.number, records.c.chain, records.c.n, records.c.received_at)
    heads = select(chains.c.chain, chains.c.device, chains.c.signed_n, chains.c.signature)
    for name, query in (
        ("received.jsonl", arrived.order_by(records.c.number)),
        ("heads.jsonl", heads.order_by(chains.c.chain)),
        ("set_aside.jsonl", select(set_aside).order_by(set_aside.c.entry)),
    ):
        found = connection.execution_options(yield_per=ROWS_AT_ONCE).execute(query).mappings()
        yield name, _put(folder / name, (_as_line(dict(row)) for row in found))
    (folder / "files").mkdir(mode=0o700)
    for name in connection.scalars(select(files.c.hash).order_by(files.c.hash)).all():
        # What somebody changed in the database is no file any more; `verify` names it.
        if (content := read_file(connection, name)) is not None:
            _put(folder / "files" / name, [content])


def _as_line(row: dict[str, object]) -> bytes:
    """A row as JSON; bytes that may be no text, as those of a line that was refused, in base64."""
    line = row.pop("line", None)
    if isinstance(line, bytes):
        row["line_base64"] = base64.b64encode(line).decode()
    return msgspec.json.encode(row, order="sorted") + b"\n"


def _put(path: Path, parts: Iterator[bytes] | list[bytes]) -> dict[str, str | int]:
    """Write a file that its user alone may read; return how many lines it has, and the SHA-256 of its bytes."""
    digest, count = hashlib.sha256(), 0
    with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
        for one in parts:
            file.write(one)
            digest.update(one)
            count += one.count(b"\n")
    return {"lines": count, "sha256": digest.hexdigest()}
