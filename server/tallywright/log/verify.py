# SPDX-License-Identifier: Apache-2.0
"""Check the whole log: bytes, links, places, files, marks, signatures. Names each broken row, the first first."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from sqlalchemy import Connection, func, select

from tallywright.errors import RefusedRecord
from tallywright.log.append import newest_number
from tallywright.log.chains import Head, advance, all_heads, held_lines, held_numbers, read_heads, stretches
from tallywright.log.files import read_file
from tallywright.log.own_chain import OwnChain
from tallywright.log.tables import records, set_aside
from tallywright.records.decode import Record, decode, sha256
from tallywright.records.definition import FileDefinition
from tallywright.records.kinds import DefinitionPublishedV1
from tallywright.records.signature import is_signed, run_text

PAGE = 5_000


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is not as it should be: where, and what."""

    record: str
    what: str


def verify(connection: Connection, public_keys: Mapping[str, str]) -> Iterator[Finding]:
    """Yield what is wrong with the log; nothing for a whole one.

    public_keys  by device id, as enrolled
    """
    for head in all_heads(connection):
        yield from _verify_rows(connection, head)
        yield from _verify_head(connection, head, public_keys)
    yield from _verify_numbers(connection)
    yield from _verify_set_aside(connection)
    known = {head.chain for head in all_heads(connection)}
    for chain in connection.scalars(select(records.c.chain).distinct()):
        if chain not in known:
            yield Finding(chain, "the chain has records but no head")


def _verify_rows(connection: Connection, head: Head) -> Iterator[Finding]:
    after = 0
    while True:
        rows = connection.execute(
            select(records)
            .where(records.c.chain == head.chain, records.c.n > after)
            .order_by(records.c.n)
            .limit(PAGE)
        ).all()
        if not rows:
            return
        # Lines set aside at their place are links too: what follows them names their bytes.
        held = held_lines(connection, head.chain, after, rows[-1].n)
        for row in rows:
            name = f"{row.chain}:{row.n}"
            try:
                record = decode(row.line)
            except RefusedRecord as problem:
                yield Finding(name, f"the bytes are no record: {problem.sentence}")
                continue
            if record.id != name or (record.subject, record.look) != (row.subject, row.look):
                yield Finding(name, "the row stands at another place than its record says")
            yield from _verify_file(connection, record)
            before = held.get(row.n - 1)
            if before is None and 1 < row.n <= head.mark_n:
                yield Finding(name, "the record before it is missing")
            if before is not None and record.envelope.previous != sha256(before):
                yield Finding(name, "the record before it has other bytes than it names")
        after = rows[-1].n


def _verify_numbers(connection: Connection) -> Iterator[Finding]:
    """Numbers are given without a hole, so the log has as many rows as its newest number says."""
    count = connection.scalar(select(func.count()).select_from(records)) or 0
    if count != newest_number(connection):
        before = records.alias()
        has_one_before = select(before.c.number).where(before.c.number == records.c.number - 1).exists()
        behind_holes = select(records.c.number).where(records.c.number > 1, ~has_one_before)
        for number in connection.scalars(behind_holes.order_by(records.c.number)):
            yield Finding(f"number {number - 1}", "no row of the log has this number")


def _verify_set_aside(connection: Connection) -> Iterator[Finding]:
    rows = connection.execute(select(set_aside.c.chain, set_aside.c.n, set_aside.c.hash, set_aside.c.line))
    for row in rows:
        if sha256(row.line) != row.hash:
            yield Finding(f"{row.chain}:{row.n}", "the bytes that were set aside are others than came")


def _verify_file(connection: Connection, record: Record) -> Iterator[Finding]:
    if not isinstance(record.body, DefinitionPublishedV1) or not isinstance(record.body.content, FileDefinition):
        return
    named = record.body.content
    if read_file(connection, named.file) is None:
        what = f"the file of {named.part} {named.revision} is missing or was changed; import the definition again"
        yield Finding(record.id, what)


def _verify_head(connection: Connection, head: Head, public_keys: Mapping[str, str]) -> Iterator[Finding]:
    mark = advance(connection, head.chain, 0, "")
    if mark != (head.mark_n, head.mark_hash):
        yield Finding(f"{head.chain}:{head.mark_n}", f"the mark should stand at {mark[0]}")
    newest = max([mark[0], *held_numbers(connection, head.chain, mark[0])])
    if newest != head.newest_n:
        yield Finding(f"{head.chain}:{head.newest_n}", f"the newest that is held should be {newest}")
    if head.safe_n > mark[0]:
        yield Finding(f"{head.chain}:{head.safe_n}", "more is said to be in a copy than is held")
    key = public_keys.get(head.device)
    if key is None:
        yield Finding(f"{head.chain}:{head.newest_n}", "the chain's device was never enrolled")
        return
    signed = held_lines(connection, head.chain, head.signed_n, head.signed_n).get(head.signed_n)
    text = run_text(head.chain, head.signed_n, sha256(signed or b""))
    if signed is None or not is_signed(key, text, head.signature):
        yield Finding(f"{head.chain}:{head.signed_n}", "the signature does not fit the record it stands at")


def missing(connection: Connection, own: OwnChain) -> list[tuple[str, int, int]]:
    """Return (chain, first, last) of what the server wrote, lost by a copy put back, and has not got back."""
    found: list[tuple[str, int, int]] = []
    for name, n in sorted(own.lost(connection).items()):
        head = read_heads(connection, [name]).get(name)
        first = 1 if head is None else head.mark_n + 1
        back = set(held_numbers(connection, name, first - 1))
        gaps = stretches([number for number in range(first, n + 1) if number not in back])
        found += [(name, *gap) for gap in gaps]
    return found
