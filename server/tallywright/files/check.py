# SPDX-License-Identifier: Apache-2.0
"""Whether every file that records name is here, and has the bytes it is named by."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, select

from tallywright.log.tables import files
from tallywright.projections.tables import attachments
from tallywright.records.decode import sha256


@dataclass(frozen=True, slots=True)
class Checked:
    """What was found of files.

    here     how many are kept whole
    broken   names of those whose bytes were changed
    missing  (record, file) of those that records name and that are not here, or not whole
    """

    here: int
    broken: list[str]
    missing: list[tuple[str, str]]


def check_files(connection: Connection) -> Checked:
    """Hash every file. One that is missing may be on its way: its record came before it."""
    whole, broken = set(), []
    # One at a time: a file may have 20 MB.
    for name in connection.scalars(select(files.c.hash).order_by(files.c.hash)).all():
        content = connection.scalar(select(files.c.bytes).where(files.c.hash == name))
        if content is not None and sha256(content) == name:
            whole.add(name)
        else:
            broken.append(name)
    named = select(attachments.c.record, attachments.c.file).where(attachments.c.withdrawn.is_(False))
    rows = connection.execute(named.order_by(attachments.c.record))
    missing = [(row.record, row.file) for row in rows if row.file not in whole]
    return Checked(len(whole), broken, missing)
