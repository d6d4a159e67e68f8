# SPDX-License-Identifier: Apache-2.0
"""Chains and their heads: how far each is held without a gap, and what stands behind one."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, and_, bindparam, select, true

from tallywright.db import replace_rows
from tallywright.log.tables import chains, records, set_aside
from tallywright.records.decode import sha256

# Asked at every push: built once.
_HEADS = select(chains).where(chains.c.chain.in_(bindparam("names", expanding=True)))
_HELD = [
    select(table.c.n, table.c.line).where(
        and_(table.c.chain == bindparam("chain"), table.c.n.between(bindparam("first"), bindparam("last")), more)
    )
    for table, more in ((records, true()), (set_aside, set_aside.c.held))
]


@dataclass(frozen=True, slots=True)
class Head:
    """One chain as the log holds it.

    mark_n, mark_hash    all up to n is held, and the bytes at n have this hash; 0 and '' for none
    newest_n             the largest number held; larger than mark_n behind a gap
    safe_n               all up to n is in a verified copy of the log
    signed_n, signature  the newest signature that was verified, and the number it stands at
    """

    chain: str
    device: str
    mark_n: int = 0
    mark_hash: str = ""
    newest_n: int = 0
    signed_n: int = 0
    signature: str = ""
    safe_n: int = 0


def read_heads(connection: Connection, names: Iterable[str]) -> dict[str, Head]:
    """Return the heads of those chains that are known."""
    rows = connection.execute(_HEADS, {"names": sorted(set(names))})
    return {row.chain: Head(**row._asdict()) for row in rows}


def all_heads(connection: Connection) -> list[Head]:
    """Return every chain's head, by name."""
    return [Head(**row._asdict()) for row in connection.execute(select(chains).order_by(chains.c.chain))]


def write_head(connection: Connection, head: Head) -> None:
    """Keep a chain's new head in place of the old one."""
    row = tuple(getattr(head, name) for name in chains.columns.keys())  # noqa: SIM118
    replace_rows(connection, chains.c.chain, head.chain, [row])


def held_lines(connection: Connection, chain: str, first: int, last: int) -> dict[int, bytes]:
    """Return the bytes held at each number of a stretch: stored, or set aside and vouched for."""
    held: dict[int, bytes] = {}
    for question in _HELD:
        for row in connection.execute(question, {"chain": chain, "first": first, "last": last}):
            held[row.n] = row.line
    return held


def is_kept(connection: Connection, chain: str, n: int, line_hash: str) -> bool:
    """True where these bytes are stored under a number, or were set aside."""
    stored = connection.scalar(select(records.c.line).where(and_(records.c.chain == chain, records.c.n == n)))
    if stored is not None and sha256(stored) == line_hash:
        return True
    place = and_(set_aside.c.chain == chain, set_aside.c.n == n, set_aside.c.hash == line_hash)
    return connection.scalar(select(set_aside.c.entry).where(place)) is not None


def held_numbers(connection: Connection, chain: str, after: int) -> list[int]:
    """Return the numbers held behind `after`, rising."""
    numbers: set[int] = set()
    for table, more in ((records, true()), (set_aside, set_aside.c.held)):
        numbers.update(
            connection.scalars(select(table.c.n).where(and_(table.c.chain == chain, table.c.n > after, more)))
        )
    return sorted(numbers)


def advance(connection: Connection, chain: str, mark_n: int, mark_hash: str) -> tuple[int, str]:
    """Move a mark over everything that is now held without a gap behind it."""
    last = mark_n
    for number in held_numbers(connection, chain, mark_n):
        if number != last + 1:
            break
        last = number
    if last == mark_n:
        return mark_n, mark_hash
    return last, sha256(held_lines(connection, chain, last, last)[last])


def stretches(numbers: list[int]) -> list[tuple[int, int]]:
    """Return rising numbers as stretches (first, last) without a gap."""
    found: list[tuple[int, int]] = []
    for number in numbers:
        if found and number == found[-1][1] + 1:
            found[-1] = (found[-1][0], number)
        else:
            found.append((number, number))
    return found
