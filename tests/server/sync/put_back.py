# SPDX-License-Identifier: Apache-2.0
"""A server put back to an older copy of its database, and the head that a tablet shows it."""

from __future__ import annotations

from typing import Any

from sqlalchemy import select

from tallywright.db import metadata, reading, writing
from tallywright.projections.rebuild import rebuild
from tests.actors import Works


class Copy:
    """The rows of every table, to be put back under a running server as a file copy or a machine's snapshot is."""

    def __init__(self, works: Works) -> None:
        """Take the copy."""
        self.works = works
        with reading(works.engine) as connection:
            self.rows = {table: connection.execute(select(table)).all() for table in metadata.sorted_tables}

    def put_back(self) -> None:
        """Replace all rows by those of the copy; projected rows are folded from them."""
        with writing(self.works.engine) as connection:
            for table in reversed(metadata.sorted_tables):
                connection.execute(table.delete())
            for table, rows in self.rows.items():
                if rows:
                    connection.execute(table.insert(), [row._asdict() for row in rows])
            rebuild(connection)


def shown(head: dict[str, Any]) -> str:
    """The head of a pull, as the next pull names it."""
    own = head["head"]
    return f"{own['chain']}:{own['n']}.{own['hash']}.{own['signature']}"
