# SPDX-License-Identifier: Apache-2.0
"""What things are called where people read them: pieces by tag, trays by number, people by name."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from sqlalchemy import Connection, select

from tallywright.db import in_parts
from tallywright.definitions.people import people
from tallywright.folds.gathered import found_at
from tallywright.log.chains import read_heads
from tallywright.log.own_chain import SERVER_LETTERS
from tallywright.log.read import by_id, by_ids
from tallywright.projections.tables import devices, finds, sign_ons
from tallywright.records.bench import TrayOpenedV1
from tallywright.records.decode import Record
from tallywright.records.kinds import chain_of, number_of


@dataclass(frozen=True, slots=True)
class TrayName:
    """A tray as one tablet opened it."""

    number: int
    tablet: str
    opened_at: int


class Called:
    """Names of things, looked up in one connection; what is unknown is called ''."""

    def __init__(self, connection: Connection) -> None:
        self._connection = connection
        self._devices = {row.device: row for row in connection.execute(select(devices))}
        self._people = {name: one.said.name for name, one in people(connection).items()}

    def person(self, person: str) -> str:
        """The name of a person as it was written down last."""
        return self._people.get(person, "")

    def tags(self, pieces: Iterable[str]) -> dict[str, str]:
        """The tag of each piece: the letters of the tablet that opened it, and the number of its record there."""
        names = sorted(set(pieces))
        heads = read_heads(self._connection, map(chain_of, names))
        found = {}
        for name in names:
            chain, n = chain_of(name), number_of(name)
            letters = self._letters(heads[chain].device) if chain in heads else ""
            if letters == SERVER_LETTERS:
                # The piece bears the tag that it was given at the bench, whatever its line was admitted as.
                record = by_id(self._connection, name)
                if record is not None:
                    letters, n = self._letters(record.envelope.device), record.envelope.n
            if letters:
                found[name] = f"{letters}{n}"
        return found

    def _letters(self, device: str) -> str:
        row = self._devices.get(device)
        return "" if row is None else str(row.letters)

    def trays(self, trays: Iterable[str]) -> dict[str, TrayName]:
        """What is known of each tray."""
        found = {}
        for name, record in by_ids(self._connection, set(trays) - {""}).items():
            if isinstance(record.body, TrayOpenedV1):
                row = self._devices.get(record.envelope.device)
                tablet = "" if row is None else str(row.name)
                found[name] = TrayName(record.body.number, tablet, found_at(record)[0])
        return found

    def author(self, record: Record) -> str:
        """The person a record is by, where that is proven; of a mark, where it was confirmed afterwards as well."""
        return self.authors([record])[record.id]

    def authors(self, made: Iterable[Record]) -> dict[str, str]:
        """The same of many, by their ids."""
        of = {record.id: (record.envelope.chain, str(record.envelope.sign_on)) for record in made}
        confirmed: dict[str, str] = {}
        for names in in_parts(of):
            rows = self._connection.execute(select(finds.c.id, finds.c.author).where(finds.c.id.in_(names)))
            confirmed |= {row.id: row.author for row in rows}
        proven: dict[tuple[str, str], str] = {}
        for names in in_parts(sign_on for _, sign_on in of.values()):
            wanted = select(sign_ons).where(sign_ons.c.sign_on.in_(names), sign_ons.c.proven)
            proven |= {(row.chain, row.sign_on): row.person for row in self._connection.execute(wanted)}
        return {name: confirmed.get(name) or proven.get(signed, "") for name, signed in of.items()}
