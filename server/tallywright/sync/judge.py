# SPDX-License-Identifier: Apache-2.0
"""Open the sealed PINs that came with sign-ons, and write down whether each was the person's.

Opening one takes tens of milliseconds, so it is done outside any transaction; the sealed bytes are destroyed in
the transaction that writes the judgement, and then in the database's files: what is left of the row says until then
that this is to be done, whoever was killed meanwhile. A judgement is a record: a rebuild judges nothing anew.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from msgspec import UNSET
from sqlalchemy import (
    ColumnElement,
    Connection,
    Engine,
    Select,
    Table,
    and_,
    delete,
    func,
    insert,
    or_,
    select,
    update,
)

from tallywright.access.pins import WRONG_PINS, is_right, note_try, verifier_of
from tallywright.access.sealing import SealingKeys
from tallywright.access.tables import sealed_pins, wrong_pins
from tallywright.db import forget_deleted, in_parts, reading, writing
from tallywright.definitions.people import Person, people
from tallywright.log.own_chain import OwnChain
from tallywright.log.read import by_ids
from tallywright.projections.asked import standing_on
from tallywright.projections.refold import refold
from tallywright.projections.tables import sign_ons
from tallywright.records.decode import sha256
from tallywright.records.people import SignedOnV1, SignOnJudgedV1
from tallywright.sync.crossing import say_crossed

SPENT = b""  # in the place of sealed bytes that are judged
MOST_AT_ONCE = 20  # a tablet that was away for long is judged over several pushes


@dataclass(frozen=True, slots=True)
class Enclosure:
    """A sealed PIN that travels beside the `signed_on` it was sealed for."""

    record: str
    sealed: bytes


@dataclass(frozen=True, slots=True)
class _Waiting:
    sign_on: str
    person: str
    device: str
    sealing_key: str
    sealed: bytes
    verifier: str | None


def keep_sealed(connection: Connection, enclosures: Sequence[Enclosure], now: int) -> bool:
    """Keep sealed PINs until they are judged: those whose record is in the log, names them, and was not judged.

    returns  whether any is to be judged now, whoever brought it: a server may have died over it
    """
    records = by_ids(connection, [enclosure.record for enclosure in enclosures])
    done: set[str] = set()
    for names in in_parts(records):
        judged = select(sign_ons.c.sign_on).where(sign_ons.c.judged, sign_ons.c.sign_on.in_(names))
        kept = select(sealed_pins.c.sign_on).where(sealed_pins.c.sign_on.in_(names))
        done.update(connection.scalars(judged), connection.scalars(kept))
    rows = []
    for enclosure in enclosures:
        record = records.get(enclosure.record)
        if record is None or not isinstance(record.body, SignedOnV1) or record.body.sealing_key is UNSET:
            continue
        if record.id in done or record.body.sealed != sha256(enclosure.sealed):
            continue
        done.add(record.id)
        whose = {"person": record.body.person, "device": record.envelope.device}
        sealed = {"sealing_key": record.body.sealing_key, "sealed": enclosure.sealed}
        rows.append({"sign_on": record.id, **whose, **sealed, "received_at": now})
    if rows:
        connection.execute(insert(sealed_pins), rows)
    return connection.scalar(_unfinished(sealed_pins.c.sign_on).limit(1)) is not None


def _unfinished(*columns: ColumnElement[Any] | Table) -> Select[Any]:
    """Select what is to be opened, or to be destroyed in the files; with `wrong`, of how many PINs in a row.

    The database leaves out pairs that wait for a new PIN: thousands of guesses hold no other tablet up.
    """
    same_pair = and_(sealed_pins.c.person == wrong_pins.c.person, sealed_pins.c.device == wrong_pins.c.device)
    wrong = func.coalesce(wrong_pins.c.tries, 0).label("wrong")
    return (
        select(*columns, wrong)
        .outerjoin_from(sealed_pins, wrong_pins, same_pair)
        .where(or_(wrong < WRONG_PINS, sealed_pins.c.sealed == SPENT))
    )


def judge(engine: Engine, own: OwnChain, keys: SealingKeys) -> int:
    """Judge what waits; returns how many judgements were written.

    After ten wrong PINs of one person from one tablet that pair waits until the person has a new one.
    """
    with reading(engine) as connection:
        waiting, spent = _waiting(connection)
    verdicts = []
    for one in waiting:
        pin = keys.open(one.sealing_key, one.sign_on, one.sealed)
        verdicts.append((one, pin is not None and is_right(one.verifier, pin)))
    written = 0
    for one, proven in verdicts:
        with writing(engine) as connection:
            unjudged = and_(sealed_pins.c.sign_on == one.sign_on, sealed_pins.c.sealed != SPENT)
            if connection.execute(update(sealed_pins).where(unjudged).values(sealed=SPENT)).rowcount != 1:
                continue  # another worker was faster
            note_try(connection, one.person, one.device, proven)
            [judged] = own.write(connection, [SignOnJudgedV1(sign_on=one.sign_on, proven=proven)])
            touched = {judged.subject, *standing_on(connection, one.sign_on)}
            refold(connection, touched, {judged.line: judged})
            say_crossed(connection, own)
            written += 1
            spent.append(one.sign_on)
    if spent and forget_deleted(engine):
        with writing(engine) as connection:
            for names in in_parts(spent):
                connection.execute(delete(sealed_pins).where(sealed_pins.c.sign_on.in_(names)))
    return written


def _waiting(connection: Connection) -> tuple[list[_Waiting], list[str]]:
    """Return what is to be judged next, and the sign-ons whose bytes may still stand in a file."""
    oldest_first = (sealed_pins.c.received_at, sealed_pins.c.sign_on)
    rows = connection.execute(_unfinished(sealed_pins).order_by(*oldest_first))
    found: list[_Waiting] = []
    spent: list[str] = []
    taken: Counter[tuple[str, str]] = Counter()
    everybody: dict[str, Person] = {}
    for row in rows:
        if row.sealed == SPENT:
            spent.append(row.sign_on)
            continue
        pair = (row.person, row.device)
        # Each that is taken up now may be wrong: no more are opened than may still be wrong.
        if row.wrong + taken[pair] >= WRONG_PINS:
            continue
        taken[pair] += 1
        everybody = everybody or people(connection)
        person = everybody.get(row.person)
        verifier = None if person is None else verifier_of(connection, person.id, person.roles_ever)
        found.append(_Waiting(row.sign_on, *pair, row.sealing_key, row.sealed, verifier))
        if len(found) == MOST_AT_ONCE:
            break
    return found, spent
