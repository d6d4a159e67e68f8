# SPDX-License-Identifier: Apache-2.0
"""A server put back to an older copy of its database, and the head that a tablet shows it."""

from __future__ import annotations

from typing import Any

import msgspec
from sqlalchemy import select

from tallywright.db import metadata, reading, writing
from tallywright.projections.rebuild import rebuild
from tallywright.records.decode import read
from tallywright.records.kinds import chain_of, number_of
from tests.actors import Tablet, Works


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


class Memory:
    """What a tablet keeps of the server's own words: each line of the server it was given, with its signature."""

    def __init__(self) -> None:
        """Remember nothing yet."""
        self.kept: dict[str, tuple[bytes, str]] = {}

    def pull(self, tablet: Tablet, **query: Any) -> dict[str, Any]:
        """Pull all there is, and keep what the server wrote; returns the last head."""
        head: dict[str, Any] = {"more": True}
        while head["more"]:
            head, lines = tablet.pull(**query)
            query["after"] = head["cursor"]
            by_id = {read(line).id: line for line in lines}
            signed = {one["record"]: one["signature"] for one in head["signatures"]}
            self.kept |= {name: (by_id[name], signature) for name, signature in signed.items()}
        return head

    def give_back(self, tablet: Tablet, *names: str) -> dict[str, Any]:
        """Push lines of the server as they were signed, all that are kept unless some are named."""
        offered = [(name, *self.kept[name]) for name in names or self.kept]
        runs = [
            {"chain": chain_of(name), "first": number_of(name), "last": number_of(name), "signature": signature}
            for name, _, signature in offered
        ]
        head = {"protocol": 1, "count": len(runs), "runs": runs, "marks": [], "enclosures": []}
        lines = [msgspec.json.encode(head), *(line for _, line, _ in offered)]
        answer = tablet.send(b"".join(line + b"\n" for line in lines))
        assert answer.status_code == 200, answer.text
        return dict(answer.json or {})
