# SPDX-License-Identifier: Apache-2.0
"""The batches as a lead sees them: how far each look is, what is open, and whether a batch can be released."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict, dataclass
from typing import Any

import msgspec
from sqlalchemy import Connection, Row, and_, false, func, or_, select

from tallywright.errors import BatchUnknown
from tallywright.folds.limits import LimitLine, numbers_behind
from tallywright.folds.verdicts import PieceVerdict
from tallywright.log.read import by_id
from tallywright.projections.pages import (
    BatchPage,
    LookPage,
    batch_page,
    every_difference,
    look_pages,
    whole_ledger,
)
from tallywright.projections.release import against_release, is_in_doubt
from tallywright.projections.tables import (
    batch_pages,
    batches,
    holds,
    limit_lines,
    looks,
    requests,
    sign_ons,
)
from tallywright.reports.called import Called
from tallywright.reports.goods import casts_of
from tallywright.reports.open_holds import seen_of

MOST_PAGES = 200
MILD_FIRST = ("", "met", "within", "uncounted", "watch", "broken", "over")
ASKED = ("difference_acceptance_requested", "release_requested")
PERSONS = ("same_eyes", "counted_by_looker")  # points whose subject is a person
PIECES = ("query_open", "rework_open")
# Nothing came behind the release. Of a batch whose page cannot be folded nobody knows that it left.
IS_RELEASED = func.coalesce(
    and_(batch_pages.c.released_by != "", batch_pages.c.late == 0, batches.c.not_understood == 0), false()
)
NEWEST_FIRST = (batches.c.opened_at.desc(), batches.c.batch)


@dataclass(frozen=True, slots=True)
class BatchList:
    """Some batches, and whether there are more behind them."""

    pages: list[dict[str, Any]]
    more: bool


def batch_list(connection: Connection, after: str = "") -> BatchList:
    """Return the batches, the newest first: those that are not released, and behind them all others.

    after   the batch behind which the list goes on; '' for its beginning
    raises  BatchUnknown for one that is not there
    """
    columns = (*batches.c, batch_pages.c.released_by, batch_pages.c.late)
    wanted = select(*columns).join(batch_pages, batch_pages.c.batch == batches.c.batch)
    if after:
        last = opened(connection, after)
        of_last = select(IS_RELEASED).join_from(batches, batch_pages, batch_pages.c.batch == batches.c.batch)
        older = or_(
            batches.c.opened_at < last.opened_at,
            and_(batches.c.opened_at == last.opened_at, batches.c.batch > after),
        )
        is_behind = (
            and_(IS_RELEASED, older)
            if connection.scalar(of_last.where(batches.c.batch == after))
            else or_(IS_RELEASED, older)
        )
        wanted = wanted.where(is_behind)
    wanted = wanted.order_by(IS_RELEASED, *NEWEST_FIRST).limit(MOST_PAGES + 1)
    found = connection.execute(wanted).all()
    rows = found[:MOST_PAGES]
    names = [row.batch for row in rows]
    standing = select(holds.c.batch, func.count().label("standing")).where(
        holds.c.batch.in_(names), holds.c.lifted_by == ""
    )
    held = {row.batch: row.standing for row in connection.execute(standing.group_by(holds.c.batch))}
    worst: dict[tuple[str, str], str] = {}
    states = select(limit_lines.c.batch, limit_lines.c.look, limit_lines.c.state)
    for batch, look, state in connection.execute(states.where(limit_lines.c.batch.in_(names))):
        worst[batch, look] = max(state, worst.get((batch, look), ""), key=MILD_FIRST.index)
    of_batch: dict[str, list[dict[str, Any]]] = {}
    for row in connection.execute(select(looks).where(looks.c.batch.in_(names)).order_by(looks.c.place)):
        line = row._asdict() | {"worst": worst.get((row.batch, row.look), "")}
        of_batch.setdefault(row.batch, []).append(line)
    pages = [
        row._asdict() | {"holds": held.get(row.batch, 0), "looks": of_batch.get(row.batch, [])} for row in rows
    ]
    return BatchList(pages, len(found) > MOST_PAGES)


def every_batch(connection: Connection) -> list[dict[str, Any]]:
    """Return all batches as a list to work from, the newest first, each with whether it is released."""
    listed = select(*batches.c, IS_RELEASED.label("released")).outerjoin(
        batch_pages, batch_pages.c.batch == batches.c.batch
    )
    return [row._asdict() for row in connection.execute(listed.order_by(*NEWEST_FIRST))]


def one_batch(connection: Connection, batch: str) -> dict[str, Any]:
    """Return all that is shown of one batch; raises BatchUnknown."""
    row, page = opened(connection, batch), batch_page(connection, batch)
    assert page is not None  # noqa: S101 - written with the batch's row
    its_looks = look_pages(connection, batch)
    released_by = connection.scalar(select(batch_pages.c.released_by).where(batch_pages.c.batch == batch))
    called, asked = Called(connection), _requests(connection, batch)
    points = [point for one in its_looks for point in one.look.points]
    persons = {point.subject for point in points if point.kind in PERSONS} | {one["person"] for one in asked}
    persons |= {name for one in asked for name in one["seconded_by"]}
    names = {person: called.person(person) for person in sorted(persons)}
    names |= {one.look.signed_by: _signer(connection, called, one.look.signed_by) for one in its_looks}
    pieces = [one.piece for one in page.verdicts] + [point.subject for point in points if point.kind in PIECES]
    return {
        "batch": batch,
        "number": row.number,
        "part": row.part,
        "definition": row.definition,
        "opened_at": row.opened_at,
        "pieces": row.pieces,
        "released_by": released_by,
        "late": page.late,
        "not_understood": page.not_understood,
        "can_be_released": not against_release(connection, batch) and not is_in_doubt(connection, batch),
        "casts": casts_of(connection, batch),
        "ledger": _ledger(connection, batch, page, its_looks),
        "looks": [one.look for one in its_looks],
        "limits": _limits(connection, batch),
        "coverage": page.coverage,
        "verdicts": page.verdicts,
        "requests": asked,
        "seen": seen_of(connection, batch),
        "names": {one: name for one, name in names.items() if name},
        "tags": called.tags(pieces),
        "trays": {name: asdict(tray) for name, tray in called.trays(_trays(its_looks, page.verdicts)).items()},
    }


def opened(connection: Connection, batch: str) -> Row[Any]:
    """Return a batch's own row; raises BatchUnknown."""
    row = connection.execute(select(batches).where(batches.c.batch == batch)).first()
    if row is None:
        raise BatchUnknown(
            "The server knows no such batch. Go back to the list and choose again.", batch=batch[:80]
        )
    return row


def _ledger(connection: Connection, batch: str, page: BatchPage, its_looks: list[LookPage]) -> dict[str, Any]:
    """The numbers of the batch and its looks, every difference, and what else is open of the route."""
    whole = whole_ledger(connection, batch)
    assert whole is not None  # noqa: S101 - written with the batch's row
    return {
        "opened": page.opened,
        "taken": page.taken,
        "left": page.left,
        "looks": [one.count for one in its_looks if one.count is not None],
        "differences": every_difference(whole),
        "whole": whole,
        "points": whole.points,
    }


def _signer(connection: Connection, called: Called, signature: str) -> str:
    record = by_id(connection, signature) if signature else None
    return "" if record is None else called.person(called.author(record))


def _limits(connection: Connection, batch: str) -> list[dict[str, Any]]:
    """The limit lines, with the numbers behind them: worked out here, since the counts say all of it."""
    found = []
    rows = select(limit_lines).where(limit_lines.c.batch == batch).order_by(limit_lines.c.place)
    names = LimitLine.__struct_fields__
    for row in connection.execute(rows):
        line = row._asdict()
        verdict = numbers_behind(LimitLine(**{name: line[name] for name in names}))
        numbers = {} if verdict is None else asdict(verdict)
        del line["batch"], line["place"], line["is_unsaid"]
        found.append({name: value for name, value in (numbers | line).items() if value is not None})
    return found


def _requests(connection: Connection, batch: str) -> list[dict[str, Any]]:
    wanted = select(requests, sign_ons.c.person, sign_ons.c.proven).outerjoin(
        sign_ons, sign_ons.c.sign_on == requests.c.sign_on
    )
    of_batch = wanted.where(requests.c.batch == batch, requests.c.kind.in_(ASKED))
    return [
        {
            "id": row.request,
            "kind": row.kind,
            "state": row.state,
            "reasons": msgspec.json.decode(row.reasons),
            "seconded_by": msgspec.json.decode(row.seconded_by),
            "asked_at": row.asked_at,
            "person": row.person if row.proven else "",
        }
        for row in connection.execute(of_batch.order_by(requests.c.asked_at, requests.c.request))
    ]


def _trays(its_looks: list[LookPage], verdicts: Iterable[PieceVerdict]) -> list[str]:
    counted = [tray for one in its_looks if one.count is not None for tray in one.count.trays]
    return [opening.tray for tray in counted for opening in tray.openings] + [one.tray for one in verdicts]
