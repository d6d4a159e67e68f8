# SPDX-License-Identifier: Apache-2.0
"""How many finds of a span stand in each bar: find by find, or from the sums of whole batches and what is left.

Pieces belong to a batch, so that what is counted of one batch and of another adds up.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Any

from sqlalchemy import ColumnElement, Connection, FromClause, Select, and_, false, func, select

from tallywright.db import in_parts
from tallywright.projections.sum_rows import ONE_BAR
from tallywright.projections.tables import batches, finds, spans, sums
from tallywright.reports.axes import Placed
from tallywright.reports.strata import STRATA, Only, Sort, is_in, sort_of, with_strata

OF_BATCHES = ("part", "batch")  # strata in which all finds of a batch stand in the same bar

Counted = dict[tuple[Sort, str], tuple[int, int]]  # marks and different pieces of each bar


@dataclass(frozen=True, slots=True)
class Counting:
    """Finds that are to be counted.

    only    what they are narrowed to
    summed  the batches whose sums count, as a condition on their row of spans; None where none do
    read    conditions on finds that are read one by one; of each find one at most holds, and none of batches summed
    """

    connection: Connection
    placed: Placed
    only: Sequence[Only]
    summed: ColumnElement[bool] | None
    read: Sequence[ColumnElement[bool]]

    def bars(self, by: str) -> Counted:
        """Return marks and different pieces of each bar of a stratum."""
        statements = [self._each(by, condition) for condition in self.read]
        if self.summed is not None:
            bar = sums.c.name, sums.c.several
            statements.append(self._sums(by, *bar, func.sum(sums.c.marks), func.sum(sums.c.pieces)).group_by(*bar))
        found: Counted = {}
        for statement in statements:
            for name, several, marks, pieces in self.connection.execute(statement):
                bar_of = (sort_of(name, several), name)
                before = found.get(bar_of, (0, 0))
                found[bar_of] = (before[0] + int(marks), before[1] + int(pieces))
        return found

    def pieces(self) -> int:
        """Return all different pieces."""
        one = finds.c.piece, finds.c.batch
        each = (select(*one).select_from(self._source()).where(which).group_by(*one) for which in self.read)
        counts: list[Select[Any]] = [select(func.count()).select_from(pieces.subquery()) for pieces in each]
        if self.summed is not None:
            counts.append(self._sums(ONE_BAR, func.sum(sums.c.pieces)))
        return self._total(counts)

    def beside(self) -> int:
        """Return marks that stand in no bar; of a batch that is summed those without a time of making."""
        source = self._source()
        counts: list[Select[Any]] = [select(func.count()).select_from(source).where(which) for which in self.read]
        if self.summed is not None:
            counts.append(select(func.sum(spans.c.unplaced)).where(self.summed))
        return self._total(counts)

    def _total(self, counts: Iterable[Select[Any]]) -> int:
        return sum(int(self.connection.scalar(count) or 0) for count in counts)

    def _each(self, by: str, condition: ColumnElement[bool]) -> Select[Any]:
        stratum = STRATA[by]
        bar = stratum.value.label("name"), stratum.several.label("several")
        of = select(*bar, finds.c.piece, finds.c.batch).select_from(self._source(by)).where(condition).subquery()
        # The piece first: nearly all differ in it, and the database compares no further.
        one = of.c.piece, of.c.batch, of.c.name, of.c.several
        each = select(of.c.name, of.c.several, func.count().label("marks")).group_by(*one).subquery()
        counts = func.sum(each.c.marks), func.count()
        return select(each.c.name, each.c.several, *counts).group_by(each.c.name, each.c.several)

    def _source(self, *strata: str) -> FromClause:
        return with_strata(self.placed.source, [*strata, *(one.stratum for one in self.only)])

    def _sums(self, by: str, *columns: ColumnElement[Any]) -> Select[Any]:
        # Outer in form only, for each of these batches has sums: so SQLite goes from the batches to their sums, and
        # never through all sums of the stratum.
        of_batch = and_(sums.c.batch == spans.c.batch, sums.c.stratum == by, self.placed.sums)
        joined = select(*columns).select_from(spans.outerjoin(sums, of_batch))
        return joined if self.summed is None else joined.where(self.summed)


def one_by_one(connection: Connection, placed: Placed, only: Sequence[Only]) -> Counting:
    """Count every find of the span by itself."""
    return Counting(connection, placed, only, None, [and_(placed.where, *map(is_in, only))])


def by_batch(connection: Connection, placed: Placed, only: Sequence[Only]) -> Counting:
    """Count from the sums of batches, and find by find where one lies across an end of the span.

    only  bars of OF_BATCHES alone
    """
    chosen = [_is_of(one) for one in only]
    names = connection.scalars(select(spans.c.batch).where(placed.partly, *chosen)).all()
    # By name, so that no database reads the finds by their time.
    read = [and_(placed.where, finds.c.batch.in_(few)) for few in in_parts(names)]
    return Counting(connection, placed, only, and_(placed.wholly, *chosen), read)


def _is_of(only: Only) -> ColumnElement[bool]:
    """Return the condition that a batch stands in a bar of OF_BATCHES."""
    if only.sort == "either":
        return false()
    if only.stratum == "batch":
        return spans.c.batch == only.name
    if only.name:
        return spans.c.batch.in_(select(batches.c.batch).where(batches.c.part == only.name))
    return spans.c.batch.not_in(select(batches.c.batch).where(batches.c.part != ""))
