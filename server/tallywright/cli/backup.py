# SPDX-License-Identifier: Apache-2.0
"""Copy the database while the server runs, read the copy back, and write down that it was found whole."""

from __future__ import annotations

import os
import sqlite3
import sys
from pathlib import Path

import click
from sqlalchemy import Engine

from tallywright.access.devices import every_public_key
from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in, own_chain
from tallywright.cli.works import prepare_data
from tallywright.db import open_engine, reading, writing
from tallywright.errors import WrongUse
from tallywright.log.append import newest_number
from tallywright.log.safe import differences, note_verified
from tallywright.log.verify import verify
from tallywright.projections.refold import refold


@click.command()
@DATA
@click.argument("file", type=click.Path(path_type=Path))
def backup(data: Path | None, file: Path) -> None:
    """Copy the database to FILE, check the copy, and let tablets know how far it goes."""
    config = config_in(data)
    if not config.database_url.startswith("sqlite"):
        raise WrongUse(
            "This works is on PostgreSQL: copy it with pg_dump; such a copy is not read back here, so that tablets"
            " keep all their records."
        )
    engine = prepare_data(config)
    own = own_chain(config)
    with reading(engine) as connection:
        own.name(connection)
    if file.exists():
        raise WrongUse(f"The file {file} is there already. Name a new one: a copy never replaces another.")
    part = file.with_name(f"{file.name}.part")
    number, wrong = _copy(engine, part)
    if wrong:
        part.unlink()
        for text in wrong:
            click.echo(text)
        sys.exit(WRONG_DATA)
    part.rename(file)
    with writing(engine) as connection:
        refold(connection, {record.subject for record in note_verified(connection, own, number)})
    click.echo(f"{file} holds {number} records and was read back whole. Keep it apart, with the key files.")


def _copy(engine: Engine, part: Path) -> tuple[int, list[str]]:
    """Make the copy and read it back: its newest number, and what is wrong with it."""
    try:
        # It holds what the database holds, verifiers of PINs too: nobody else on this machine may read it.
        os.close(os.open(part, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600))
        source, target = engine.raw_connection(), sqlite3.connect(part)
        try:
            driver = source.driver_connection
            assert isinstance(driver, sqlite3.Connection)  # noqa: S101 - the caller asked for the dialect
            driver.backup(target)
        finally:
            target.close()
            source.close()
    except (OSError, sqlite3.Error) as problem:
        part.unlink(missing_ok=True)
        raise WrongUse(f"The copy {part} could not be written: {problem}.") from problem
    copied = open_engine(f"sqlite:///{part.absolute()}")
    try:
        with reading(copied) as copy, reading(engine) as live:
            wrong = [f"{one.record}: {one.what}" for one in verify(copy, every_public_key(copy))]
            return newest_number(copy), wrong + differences(copy, live)
    finally:
        copied.dispose()
