# SPDX-License-Identifier: Apache-2.0
"""How many pieces were looked at, beside what was found on them: in the trays that were closed in a span."""

from __future__ import annotations

from collections.abc import Iterable

from sqlalchemy import ColumnElement, Connection, and_, func, select

from tallywright.projections.tables import batches, trays
from tallywright.reports.strata import Only, in_digits

_PART = select(batches.c.part).where(batches.c.batch == trays.c.batch).scalar_subquery()

# What tells trays apart as it tells finds apart. What is said of a find alone tells nothing of where none was.
_OF_TRAYS: dict[str, ColumnElement[str]] = {
    "look": trays.c.look,
    "tray": in_digits(trays.c.number),
    "tray_from_last": in_digits(trays.c.from_last),
    "part": func.coalesce(_PART, ""),
    "batch": trays.c.batch,
}


def looked_at(
    connection: Connection, by: str, only: Iterable[Only], start: int, end: int
) -> tuple[int, dict[str, int]]:
    """Return the pieces looked at in a span, and those of each bar of a stratum of trays, by its name."""
    narrowed = [_OF_TRAYS[one.stratum] == one.name for one in only if one.stratum in _OF_TRAYS]
    where = and_(trays.c.closed_at >= start, trays.c.closed_at < end, *narrowed)
    pieces = func.sum(trays.c.looked)
    if by not in _OF_TRAYS:
        return connection.scalar(select(pieces).where(where)) or 0, {}
    of = select(_OF_TRAYS[by].label("name"), trays.c.looked).where(where).subquery()
    rows = connection.execute(select(of.c.name, func.sum(of.c.looked)).group_by(of.c.name))
    found = {name: int(looked) for name, looked in rows}
    return sum(found.values()), found
