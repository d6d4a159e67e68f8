# SPDX-License-Identifier: Apache-2.0
"""Read records out of the log: by subject for folds, by number for pulls, by id for single ones."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, NamedTuple

from sqlalchemy import Connection, Select, and_, bindparam, func, or_, select

from tallywright.db import in_parts
from tallywright.log.tables import chains, records
from tallywright.records.admitted import unfold
from tallywright.records.decode import Record, read
from tallywright.records.kinds import RestoredV1, chain_of, number_of

WORKS_WIDE = ""
# Asked at every push or pull: built once.
_OF_SUBJECT = select(records.c.line).where(records.c.subject == bindparam("subject"))
_AT = select(records.c.line).where(and_(records.c.chain == bindparam("chain"), records.c.n == bindparam("n")))
_AMONG = select(records.c.n, records.c.line).where(
    records.c.chain == bindparam("chain"), records.c.n.in_(bindparam("numbers", expanding=True))
)
_NUMBERED = select(records.c.chain, records.c.n).where(records.c.number == bindparam("number"))
# A batch is read as a whole at each push, and all but a few of its lines were read at the push before.
_read = lru_cache(maxsize=4096)(read)


class Line(NamedTuple):
    """A record's line, the number the log gave it, and its chain and place there."""

    number: int
    chain: str
    n: int
    line: bytes


@dataclass(frozen=True, slots=True)
class Stretch:
    """What a reader asks for: records of a subject and look behind a number. A batch's own records have look ''.

    subject  None is every subject: of what bears a look's name that is none, and goes to every tablet
    """

    subject: str | None
    look: str
    after: int


@dataclass(frozen=True, slots=True)
class HeldChain:
    """A chain that has records of a subject.

    seen      how far a reader has it who has all that is held without a gap, and up to its newest of the subject
    is_whole  nothing of the chain is held behind a gap
    """

    chain: str
    seen: int
    is_whole: bool


def chains_of_subject(connection: Connection, subject: str) -> list[HeldChain]:
    """Return every chain that has records of a subject, by name. What lies behind a gap nobody has seen."""
    of_subject = select(records.c.chain, func.max(records.c.n).label("n")).where(records.c.subject == subject)
    newest = of_subject.group_by(records.c.chain).subquery()
    held = select(chains.c.chain, newest.c.n, chains.c.mark_n, chains.c.newest_n)
    rows = connection.execute(held.join(newest, chains.c.chain == newest.c.chain).order_by(chains.c.chain))
    return [HeldChain(row.chain, min(row.n, row.mark_n), row.mark_n == row.newest_n) for row in rows]


def of_subject(connection: Connection, subject: str, fresh: Mapping[bytes, Record] | None = None) -> list[Record]:
    """Return all records of one subject; what was set aside and admitted is among them, under its admission's id.

    fresh  records by their bytes that were decoded a moment ago, and need not be decoded again
    """
    known = fresh or {}
    lines = connection.scalars(_OF_SUBJECT, {"subject": subject})
    return [unfold(known.get(line) or _read(line)) for line in lines]


def of_look(connection: Connection, look: str) -> list[Record]:
    """Return all records of every subject that bear the name of a look that is none, and go to every tablet."""
    lines = connection.scalars(select(records.c.line).where(records.c.look == look))
    return [unfold(read(line)) for line in lines]


def as_written(records: Iterable[Record]) -> Callable[[Record], tuple[int, int]]:
    """Return a sort key: the order in which the server wrote its own records.

    Its first chain comes first, then each that followed a roll-back, by the time of its `restored`; within a chain
    the number decides, because a clock may be set back.
    """
    begun = {one.envelope.chain: one.envelope.made_at for one in records if isinstance(one.body, RestoredV1)}
    return lambda record: (begun.get(record.envelope.chain, 0), record.envelope.n)


def by_id(connection: Connection, record_id: str) -> Record | None:
    """Return one record, or None if the log does not hold it."""
    line = connection.scalar(_AT, {"chain": chain_of(record_id), "n": number_of(record_id)})
    return None if line is None else unfold(_read(line))


def by_ids(connection: Connection, record_ids: Iterable[str]) -> dict[str, Record]:
    """Return those of some records that the log holds, by their ids."""
    numbers: dict[str, list[int]] = {}
    for record_id in record_ids:
        numbers.setdefault(chain_of(record_id), []).append(number_of(record_id))
    found = {}
    for chain, of_chain in numbers.items():
        for part in in_parts(of_chain):
            for n, line in connection.execute(_AMONG, {"chain": chain, "numbers": part}):
                found[f"{chain}:{n}"] = unfold(_read(line))
    return found


def subjects(connection: Connection) -> list[str]:
    """Return every subject the log has records of."""
    return list(connection.scalars(select(records.c.subject).distinct().order_by(records.c.subject)))


def subjects_behind(connection: Connection, record_id: str) -> list[str]:
    """Return every subject that the chain of a record wrote about behind it."""
    behind = and_(records.c.chain == chain_of(record_id), records.c.n > number_of(record_id))
    return list(connection.scalars(select(records.c.subject).distinct().where(behind)))


def id_at(connection: Connection, number: int) -> str | None:
    """Return the id of the record at a number, or None."""
    row = connection.execute(_NUMBERED, {"number": number}).first()
    return None if row is None else f"{row.chain}:{row.n}"


def lines_behind(
    connection: Connection, wanted: Sequence[Stretch], held: tuple[str, int], up_to: int, limit: int
) -> list[Line]:
    """Return what is wanted, in server order, at most `limit` of them.

    held  the asker's own chain, whose records are not sent back from this number on; ('', 1) for none
    """
    values: dict[str, object] = {"chain": held[0], "from": held[1], "up_to": up_to, "most": limit}
    for place, s in enumerate(wanted):
        values |= {f"subject{place}": s.subject, f"look{place}": s.look, f"after{place}": s.after}
    query = _behind(tuple(stretch.subject is not None for stretch in wanted))
    return [Line(*row) for row in connection.execute(query, values)]


@lru_cache(maxsize=256)  # one for each count of pairs that tablets carry
def _behind(of_subject: tuple[bool, ...]) -> Select[Any]:
    """Build the question for stretches, of which those marked True are of one subject each."""
    stretches = [
        and_(
            records.c.subject == bindparam(f"subject{place}") if is_of_one else True,
            records.c.look == bindparam(f"look{place}"),
            records.c.number > bindparam(f"after{place}"),
        )
        for place, is_of_one in enumerate(of_subject)
    ]
    return (
        select(records.c.number, records.c.chain, records.c.n, records.c.line)
        .where(
            or_(*stretches),
            records.c.number <= bindparam("up_to"),
            or_(records.c.chain != bindparam("chain"), records.c.n < bindparam("from")),
        )
        .order_by(records.c.number)
        .limit(bindparam("most"))
    )


def every_line(connection: Connection, page: int = 5_000) -> Iterator[tuple[int, bytes]]:
    """Yield (number, line) of the whole log in server order, a page at a time."""
    after = 0
    while True:
        rows = connection.execute(
            select(records.c.number, records.c.line)
            .where(records.c.number > after)
            .order_by(records.c.number)
            .limit(page)
        ).all()
        if not rows:
            return
        for row in rows:
            yield row.number, row.line
        after = rows[-1].number
