# SPDX-License-Identifier: Apache-2.0
"""Copy the database while the server runs, read the copy back, and say so in the log; or put a copy back.

A copy is an SQLite file whatever database the works is on: its lines are the log's own bytes either way.
"""

from __future__ import annotations

import os
import sqlite3
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import click
from sqlalchemy import Connection, Engine, func, select, text
from sqlalchemy.exc import SQLAlchemyError

from tallywright.access.devices import every_public_key
from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in, own_chain
from tallywright.cli.works import prepare_data
from tallywright.db import insert_rows, metadata, migrate, open_engine, reading, writing
from tallywright.errors import NotWritable, WrongUse
from tallywright.files.check import Checked, check_files
from tallywright.log.append import newest_number
from tallywright.log.own_chain import OwnChain
from tallywright.log.safe import differences, note_verified
from tallywright.log.tables import set_aside
from tallywright.log.verify import verify
from tallywright.projections.rebuild import ensure, rebuild
from tallywright.projections.refold import refold

ROWS_AT_ONCE = 2_000


@click.command()
@DATA
@click.argument("file", type=click.Path(path_type=Path))
def backup(data: Path | None, file: Path) -> None:
    """Copy the database to FILE, check the copy, and let tablets know how far it goes."""
    config = config_in(data)
    with _closing(prepare_data(config)) as engine:
        number, files = _backup(engine, own_chain(config), file)
    # A file that was changed here must not keep all the records from being copied.
    for name in files.broken:
        click.echo(f"{name}: the bytes of this file were changed before they were copied")
    click.echo(
        f"{file} holds {number} records and {files.here} files, and was read back whole. "
        "Keep it apart, with the key files."
    )


def _backup(engine: Engine, own: OwnChain, file: Path) -> tuple[int, Checked]:
    with reading(engine) as connection:
        own.name(connection)
    if file.exists():
        raise WrongUse(f"The file {file} is there already. Name a new one: a copy never replaces another.")
    part = file.with_name(f"{file.name}.part")
    try:
        _copy(engine, part)
        with _closing(_engine_of(part)) as copied, reading(copied) as copy, reading(engine) as live:
            number = newest_number(copy)
            wrong = _broken(copy) + differences(copy, live)
            files = check_files(copy)
        if wrong:
            _stop(wrong)
        part.rename(file)
    except (OSError, sqlite3.Error, SQLAlchemyError, NotWritable) as problem:
        raise WrongUse(f"The copy {part} could not be written: {problem}.") from problem
    finally:
        # Half a copy, or one that is not whole, would take the room of the next.
        for left in part.parent.glob(f"{part.name}*"):
            left.unlink()
    with writing(engine) as connection:
        refold(connection, {record.subject for record in note_verified(connection, own, number)})
    return number, files


@click.command()
@DATA
@click.argument("file", type=click.Path(path_type=Path, exists=True, dir_okay=False))
def restore(data: Path | None, file: Path) -> None:
    """Put the copy in FILE back, into a database that holds no works; the copy itself stays as it is."""
    config = config_in(data)
    # What an older version copied is brought to this one's tables, in a copy of the copy.
    part = config.data / ".restoring"
    try:
        with _closing(prepare_data(config)) as engine:
            _read_whole(file, _only_ours(part))
            with _closing(_engine_of(part)) as copied:
                number = _restore(copied, engine)
    except (OSError, sqlite3.Error, SQLAlchemyError, NotWritable) as problem:
        raise WrongUse(f"The copy {file} could not be put back: {problem}.") from problem
    finally:
        for left in config.data.glob(f"{part.name}*"):
            left.unlink()
    click.echo(
        f"{number} records were put back. Tablets send again what this copy lacks, as far as they still hold it."
    )
    if not config.key_file.exists():
        click.echo(f"Put the key files beside it before the server starts: {config.key_file} is missing.")


def _restore(copied: Engine, engine: Engine) -> int:
    migrate(copied)
    with writing(copied) as copy:
        ensure(copy)
    with reading(copied) as copy:
        # Before the writing begins: PostgreSQL ends a transaction that waits as long as this takes.
        if wrong := _broken(copy):
            _stop(wrong)
        with writing(engine) as connection:
            if newest_number(connection):
                raise WrongUse("This database holds a works already. Put a copy back into an empty one.")
            _fill(copy, connection)
            rebuild(connection)
            return newest_number(connection)


def _copy(engine: Engine, part: Path) -> None:
    """Write all rows of one state of the database into a new SQLite file."""
    _only_ours(part)
    if engine.dialect.name == "sqlite":
        source, target = engine.raw_connection(), sqlite3.connect(part)
        try:
            driver = source.driver_connection
            assert isinstance(driver, sqlite3.Connection)  # noqa: S101 - the dialect says so
            driver.backup(target)
        finally:
            target.close()
            source.close()
        return
    with _closing(_engine_of(part)) as copied:
        migrate(copied)
        with reading(engine) as live, writing(copied) as copy:
            _fill(live, copy)
            ensure(copy)


def _read_whole(file: Path, part: Path) -> None:
    """Copy a file and what its write-ahead log holds beside it, without writing to either."""
    source, target = sqlite3.connect(f"{file.absolute().as_uri()}?mode=ro", uri=True), sqlite3.connect(part)
    try:
        source.backup(target)
    finally:
        target.close()
        source.close()


def _engine_of(part: Path) -> Engine:
    return open_engine(f"sqlite:///{part.absolute()}")


@contextmanager
def _closing(engine: Engine) -> Iterator[Engine]:
    try:
        yield engine
    finally:
        engine.dispose()


def _only_ours(part: Path) -> Path:
    """Make an empty file that nobody else on this machine may read: a copy holds verifiers of PINs too."""
    os.close(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600))
    return part


def _fill(source: Connection, target: Connection) -> None:
    """Copy every row that lasts; the projected ones are folded from them. A session is opened again by its key."""
    for table in metadata.sorted_tables:
        if "ends_at" in table.c:
            continue
        found = source.execution_options(yield_per=ROWS_AT_ONCE).execute(select(table))
        for rows in found.partitions():
            insert_rows(target, table, [tuple(row) for row in rows])
    if target.dialect.name == "postgresql":
        # Its own counter knows nothing of rows that came with their numbers.
        entry = f"pg_get_serial_sequence('{set_aside.name}', '{set_aside.c.entry.name}')"
        newest = target.scalar(select(func.max(set_aside.c.entry)))
        if newest is not None:
            target.execute(text(f"SELECT setval({entry}, :newest)"), {"newest": newest})


def _broken(copy: Connection) -> list[str]:
    return [f"{one.record}: {one.what}" for one in verify(copy, every_public_key(copy))]


def _stop(wrong: list[str]) -> None:
    for one in wrong:
        click.echo(one)
    sys.exit(WRONG_DATA)
