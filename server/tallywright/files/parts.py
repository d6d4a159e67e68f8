# SPDX-License-Identifier: Apache-2.0
"""Take a file in parts: each begins where the one before ended, and what a kill or a proxy cut goes on from there.

A part is a row, so that any worker takes the next one. The whole is hashed and looked at outside any transaction.
"""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection, Engine, delete, func, insert, select

from tallywright.clock import Clock
from tallywright.db import reading, writing
from tallywright.definitions.published import is_definition
from tallywright.errors import FileBroken, FileNotNamed, FileRefused, TooMuch, TooMuchUnfinished
from tallywright.files.copies import check
from tallywright.log.files import is_safe, put_file, read_file
from tallywright.log.tables import file_parts
from tallywright.projections.publish import take_file
from tallywright.projections.tables import attachments
from tallywright.records.decode import sha256

LARGEST_PART = 512 * 1024
MOST_UNFINISHED = 64 * 1024 * 1024
PART_LIFE_MS = 7 * 24 * 60 * 60 * 1000


@dataclass(frozen=True, slots=True)
class Arrived:
    """How far a file has come: all bytes before `held`.

    is_whole  the file is kept, and its bytes have the hash it is named by
    is_safe   it is in a copy of the log that was read back, too
    """

    file: str
    held: int
    is_whole: bool = False
    is_safe: bool = False


def how_far(connection: Connection, device: str, file: str) -> Arrived:
    """Return how far a file has come from a device; raises FileNotNamed where no stored record names it."""
    return _how_far(connection, device, file, _sizes(connection, file))


def _how_far(connection: Connection, device: str, file: str, sizes: set[int]) -> Arrived:
    content = read_file(connection, file)
    if content is not None:
        return Arrived(file, len(content), True, is_safe(connection, file))
    # Behind what the records say there is nothing to wait for.
    return Arrived(file, min(_held(connection, device, file), max(sizes)))


def take_part(engine: Engine, clock: Clock, device: str, file: str, offset: int, content: bytes) -> Arrived:
    """Take the bytes of a file from an offset on, and the whole when these were the last.

    A part that does not begin where the held bytes end changes nothing: the answer says where to go on. The file of
    a definition comes in one part.

    raises  FileNotNamed, TooMuch, TooMuchUnfinished; FileBroken when the whole has another hash, FileRefused when
            it is nothing that is kept. Behind the last two nothing of it is held.
    """
    if len(content) > LARGEST_PART:
        raise TooMuch(f"The part has {len(content)} bytes; {LARGEST_PART} is the most.", most=LARGEST_PART)
    is_all = sha256(content) == file
    with writing(engine) as connection:
        try:
            sizes = _sizes(connection, file)
        except FileNotNamed:
            if not (is_all and is_definition(connection, file)):
                raise
            # A server that was put back to an older copy gets the files of its definitions from whoever kept them.
            take_file(connection, content)
            return Arrived(file, len(content), True, is_safe(connection, file))
        before = _how_far(connection, device, file, sizes)
        if before.is_whole:
            return before
        held = before.held
        if offset == held and content:
            _keep(connection, clock, device, file, held, content)
            held += len(content)
    return Arrived(file, held) if held < min(sizes) else _join(engine, device, file, sizes)


def _sizes(connection: Connection, file: str) -> set[int]:
    """The sizes stored records give the file: one, unless a record is wrong about it."""
    sizes = set(connection.scalars(select(attachments.c.size).where(attachments.c.file == file)))
    if not sizes:
        raise FileNotNamed("No record that this server holds names this file. Send the records first.")
    return sizes


def _held(connection: Connection, device: str, file: str) -> int:
    size = select(func.sum(func.length(file_parts.c.bytes)))
    return connection.scalar(size.where(file_parts.c.file == file, file_parts.c.device == device)) or 0


def _keep(connection: Connection, clock: Clock, device: str, file: str, held: int, content: bytes) -> None:
    now = clock.now_ms()
    connection.execute(delete(file_parts).where(file_parts.c.ends_at <= now, file_parts.c.file != file))
    unfinished = select(func.sum(func.length(file_parts.c.bytes))).where(file_parts.c.device == device)
    if (connection.scalar(unfinished) or 0) + len(content) > MOST_UNFINISHED:
        raise TooMuchUnfinished("Too many files of this tablet are unfinished. Finish those that were begun.")
    row = {"file": file, "device": device, "first": held, "bytes": content, "ends_at": now + PART_LIFE_MS}
    connection.execute(insert(file_parts).values(row))


def _join(engine: Engine, device: str, file: str, sizes: set[int]) -> Arrived:
    parts = (file_parts.c.file == file) & (file_parts.c.device == device)
    with reading(engine) as connection:
        ordered = select(file_parts.c.bytes).where(parts).order_by(file_parts.c.first)
        content = b"".join(connection.scalars(ordered))
    if sha256(content) != file:
        if len(content) < max(sizes):
            return Arrived(file, len(content))
        with writing(engine) as connection:
            connection.execute(delete(file_parts).where(parts))
        raise FileBroken("The bytes that came are not those of this file. They were thrown away; send it anew.")
    try:
        check(content)
    except FileRefused:
        with writing(engine) as connection:
            connection.execute(delete(file_parts).where(parts))
        raise
    with writing(engine) as connection:
        put_file(connection, content)
        connection.execute(delete(file_parts).where(file_parts.c.file == file))
        return Arrived(file, len(content), True, is_safe(connection, file))
