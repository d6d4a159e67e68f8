# SPDX-License-Identifier: Apache-2.0
"""Who looked at how many pieces in the looks before one: enough to hand out trays to other eyes, no more."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import Connection

from tallywright.projections.pages import look_pages
from tallywright.reports.batch_pages import opened
from tallywright.reports.called import Called


@dataclass(frozen=True, slots=True)
class EyesThere:
    """A person in an earlier look, and how many of the pieces looked at there that person may have had in hand."""

    look: str
    person: str
    name: str
    pieces: int


@dataclass(frozen=True, slots=True)
class EarlierEyes:
    """All of them; `looked` is how many pieces were looked at in the earlier look that has the most."""

    looked: int
    eyes: list[EyesThere]


def earlier_eyes(connection: Connection, batch: str, look: str) -> EarlierEyes:
    """Return who looked in the looks that the route has before one. A look it does not name stands behind them all.

    What was found there is no part of the answer: the second look is blind.

    raises  BatchUnknown
    """
    opened(connection, batch)
    pages = look_pages(connection, batch)
    names = [page.look.look for page in pages]
    before = pages[: names.index(look)] if look in names else pages
    called = Called(connection)
    eyes = [
        EyesThere(page.look.look, one.person, called.person(one.person), one.pieces)
        for page in before
        for one in page.look.eyes
    ]
    return EarlierEyes(max((page.count.looked for page in before if page.count is not None), default=0), eyes)
