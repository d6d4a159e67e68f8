# SPDX-License-Identifier: Apache-2.0
"""Answer a pull: what is works-wide and the (batch, look) pairs a tablet carries, in server order, bounded."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from sqlalchemy import Connection, Engine, Select, and_, bindparam, or_, select

from tallywright.db import reading
from tallywright.errors import CursorVoid
from tallywright.log.append import newest_number
from tallywright.log.chains import Head, read_heads
from tallywright.log.own_chain import OwnChain, Signature, Witness
from tallywright.log.read import WORKS_WIDE, Line, Stretch, id_at, lines_behind
from tallywright.projections.tables import authors, sign_ons
from tallywright.records.decode import FOR_EVERY_TABLET
from tallywright.sync.epoch import begin_epoch, is_rolled_back

MOST_LINES = 2_000
MOST_BYTES = 1024 * 1024


@dataclass(frozen=True, slots=True)
class Cursor:
    """A place in the log: a number, and the id of the record at it."""

    number: int
    record: str


@dataclass(frozen=True, slots=True)
class Carried:
    """A (batch, look) pair a tablet works on, and how far it has it; None for a pair just taken up."""

    batch: str
    look: str
    after: Cursor | None


@dataclass(frozen=True, slots=True)
class SignOn:
    """Whose a sign-on is, and whether that was proven."""

    sign_on: str
    person: str
    proven: bool


@dataclass(frozen=True, slots=True)
class PullAnswer:
    """One page: the cursor that holds for all that was asked, the lines, and who stands behind the pairs' records.

    `chain_newest` is the largest number held of the asker's own chain, 0 for none: a tablet that has fewer is not
    the only one that writes it.
    `signatures` are the server's of each line that is its own: a server that lost the line takes it back so.
    A sign-on lies under its own chain and may be years older than the pair, so the tablet gets a copy of the
    projected rows in place of the records.
    """

    epoch: str
    cursor: str
    more: bool
    head: Head
    lines: list[bytes]
    signatures: list[Signature]
    sign_ons: list[SignOn]
    chain_newest: int


def pull(
    engine: Engine,
    own: OwnChain,
    after: Cursor | None,
    carried: Sequence[Carried],
    chains: Sequence[str],
    kept: int = 1,
    witness: Witness | None = None,
) -> PullAnswer:
    """Return the next page.

    after    how far the asker has what is works-wide; None for a first pull
    chains   the asker's own chain, not sent back, then chains it left behind whose sign-ons are not judged yet
    kept     of the first of the chains the number from which on the asker holds it
    witness  the newest head of the server's chain the asker was given; where it proves that this log was rolled
             back, a new epoch begins before the answer
    raises   CursorVoid when the record a cursor names does not stand at its number
    """
    with reading(engine) as connection:
        if witness is None or not is_rolled_back(connection, own, witness):
            return _page(connection, own, after, carried, chains, kept)
    begin_epoch(engine, own, witness)
    with reading(engine) as connection:
        return _page(connection, own, after, carried, chains, kept)


def _page(
    connection: Connection,
    own: OwnChain,
    after: Cursor | None,
    carried: Sequence[Carried],
    chains: Sequence[str],
    kept: int,
) -> PullAnswer:
    # The number first, then the rows up to it, in one snapshot: nothing can slip in between.
    newest = newest_number(connection)
    for cursor in {after, *(pair.after for pair in carried)} - {None}:
        _check(connection, cursor)
    wanted = _stretches(after, carried, chains)
    found: list[Line] = []
    mine = chains[0] if chains else ""
    if any(stretch.after < newest for stretch in wanted):
        found = lines_behind(connection, wanted, (mine, kept), newest, MOST_LINES + 1)
    page = _bounded(found)
    more = len(page) < len(found)
    number = page[-1].number if more else newest
    held = read_heads(connection, [mine]).get(mine)
    return PullAnswer(
        epoch=own.epoch(connection),
        cursor=f"{number}.{id_at(connection, number)}",
        more=more,
        head=own.signed_head(connection),
        lines=[one.line for one in page],
        signatures=own.vouched(connection, page) if page else [],
        sign_ons=_sign_ons(connection, carried),
        chain_newest=0 if held is None else held.newest_n,
    )


def _sign_ons(connection: Connection, carried: Sequence[Carried]) -> list[SignOn]:
    if not carried:
        return []
    values = {f"batch{place}": pair.batch for place, pair in enumerate(carried)}
    values |= {f"look{place}": pair.look for place, pair in enumerate(carried)}
    return [SignOn(*row) for row in connection.execute(_behind(len(carried)), values)]


@lru_cache(maxsize=64)
def _behind(count: int) -> Select[Any]:
    """Build the question for the sign-ons behind so many pairs."""
    pairs = [
        and_(
            authors.c.batch == bindparam(f"batch{place}"),
            or_(authors.c.look == "", authors.c.look == bindparam(f"look{place}")),
        )
        for place in range(count)
    ]
    return (
        select(sign_ons.c.sign_on, sign_ons.c.person, sign_ons.c.proven)
        .distinct()
        .join(authors, authors.c.sign_on == sign_ons.c.sign_on)
        .where(or_(*pairs))
        .order_by(sign_ons.c.sign_on)
    )


def _check(connection: Connection, cursor: Cursor | None) -> None:
    if cursor is not None and id_at(connection, cursor.number) != cursor.record:
        raise CursorVoid("This server's log is not the one the cursor came from. Fetch everything again.")


def _stretches(after: Cursor | None, carried: Sequence[Carried], chains: Sequence[str]) -> list[Stretch]:
    start = 0 if after is None else after.number
    wanted = [Stretch(WORKS_WIDE, "", start), *(Stretch(None, look, start) for look in FOR_EVERY_TABLET)]
    # Judgements of the asker's own sign-ons lie under their chains.
    wanted += [Stretch(f"@{chain}", "", start) for chain in dict.fromkeys(chains)]
    for pair in carried:
        start = 0 if pair.after is None else pair.after.number
        # What belongs to the batch but to no look goes with every pair of it; another look's records never do.
        wanted += [Stretch(pair.batch, look, start) for look in sorted({"", pair.look})]
    return wanted


def _bounded(found: list[Line]) -> list[Line]:
    size = 0
    for place, one in enumerate(found):
        size += len(one.line) + 1
        if place > 0 and (size > MOST_BYTES or place >= MOST_LINES):
            return found[:place]
    return found
