# SPDX-License-Identifier: Apache-2.0
"""Read a batch's page back from its rows: the JSON in them becomes again the types of the folds that wrote it."""

from __future__ import annotations

import msgspec
from sqlalchemy import Connection, select

from tallywright.folds.coverage import Coverage
from tallywright.folds.ledger import Difference, Key, LookCount
from tallywright.folds.look import Look
from tallywright.folds.verdicts import PieceVerdict
from tallywright.folds.whole_ledger import WholeLedger
from tallywright.projections.tables import batch_pages, ledgers, looks


class BatchPage(msgspec.Struct, frozen=True):
    """What is written of a batch beside the columns of its rows.

    same_eyes   persons who were in an earlier look as well, with what was accepted of it: no line of the ledger
    verdicts    pieces that wait, are away or are locked, and those people do not agree on
    late        records that count and that the release in force had not seen
    """

    opened: int
    taken: int
    left: int
    same_eyes: tuple[Difference, ...]
    coverage: tuple[Coverage, ...]
    verdicts: tuple[PieceVerdict, ...]
    late: tuple[str, ...]
    not_understood: tuple[str, ...]


class LookPage(msgspec.Struct, frozen=True):
    """What is written of a look: its counts, if there are any, and how far it is from being complete."""

    count: LookCount | None
    look: Look


_read_batch = msgspec.json.Decoder(BatchPage).decode
_read_ledger = msgspec.json.Decoder(WholeLedger).decode
_read_look = msgspec.json.Decoder(LookPage).decode


def batch_page(connection: Connection, batch: str) -> BatchPage | None:
    """Return the page of a batch; None where the log holds nothing of it."""
    text = connection.scalar(select(batch_pages.c.page).where(batch_pages.c.batch == batch))
    return None if text is None else _read_batch(text)


def look_pages(connection: Connection, batch: str) -> list[LookPage]:
    """Return the pages of a batch's looks, in the order of its route."""
    texts = select(looks.c.page).where(looks.c.batch == batch).order_by(looks.c.place)
    return [_read_look(text) for text in connection.scalars(texts)]


def whole_ledger(connection: Connection, batch: str) -> WholeLedger | None:
    """Return the whole ledger of a batch; None where the log holds nothing of it."""
    text = connection.scalar(select(ledgers.c.page).where(ledgers.c.batch == batch))
    return None if text is None else _read_ledger(text)


def every_difference(ledger: WholeLedger | None) -> list[Difference]:
    """Return the lines of a batch's looks and of its route, by where they stand."""
    lines = () if ledger is None else ledger.lines
    return [Difference(line.look, line.kind, line.subject, line.amount, line.accepted_by) for line in lines]


def differences(connection: Connection, batch: str) -> dict[Key, str]:
    """Return what can be accepted of a batch, line by line, with the request that accepted it; '' while open."""
    page = batch_page(connection, batch)
    lines = [*every_difference(whole_ledger(connection, batch)), *(() if page is None else page.same_eyes)]
    return {(line.look, line.kind, line.subject, line.amount): line.accepted_by for line in lines}
