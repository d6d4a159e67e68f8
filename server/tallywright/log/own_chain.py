# SPDX-License-Identifier: Apache-2.0
"""The server's own chain. The server is a device like any other: it has a key, and its records are signed."""

from __future__ import annotations

import os
from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    load_pem_private_key,
)
from msgspec import UNSET, UnsetType
from sqlalchemy import Connection, and_, bindparam, select

from tallywright.clock import Clock, new_chain_name
from tallywright.errors import NotReady, WrongSetting
from tallywright.log.append import append
from tallywright.log.chains import Head, read_heads, write_head
from tallywright.log.read import Line
from tallywright.log.tables import chains, records
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import Record, read, sha256
from tallywright.records.envelope import Body
from tallywright.records.kinds import (
    ChainOpenedV1,
    DeviceEnrolledV1,
    RestoredV1,
    WorksOpenedV1,
    chain_of,
    number_of,
)
from tallywright.records.signature import public_text, run_text, sign

WORKS_NUMBER, DEVICE_NUMBER = 2, 3  # chain_opened, works_opened, device_enrolled: in this order, always
EPOCH_NUMBER = 2  # works_opened in the first chain, `restored` in each that follows
SERVER_LETTERS = "ZZ"

# Asked at every request: built once.
_FIRST = select(records.c.chain).order_by(records.c.number).limit(1)
_OPENED = and_(records.c.chain == chains.c.chain, records.c.n == 1)
_SERVER = _FIRST.scalar_subquery() + f":{DEVICE_NUMBER}"
# No tablet is given the first record of a chain: one that came back from tablets has none, and was lost before.
_MINE = (
    select(chains.c.chain)
    .outerjoin(records, _OPENED)
    .where(chains.c.device == _SERVER)
    .order_by(records.c.number.nulls_first())
)
_RESTORED = select(records.c.line).where(
    and_(records.c.chain.in_(bindparam("names", expanding=True)), records.c.n == EPOCH_NUMBER)
)


def load_key(path: Path) -> ec.EllipticCurvePrivateKey:
    """Return the server's private key, made at the first call in a file only its user can read."""
    if path.exists():
        key = load_pem_private_key(path.read_bytes(), password=None)
        if not isinstance(key, ec.EllipticCurvePrivateKey):
            raise WrongSetting(f"The file {path} does not hold an elliptic-curve key.")
        return key
    key = ec.generate_private_key(ec.SECP256R1())
    text = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
    descriptor = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    try:
        with os.fdopen(descriptor, "wb") as file:
            file.write(text)
    except OSError:
        path.unlink()  # half a key would stand in the way of every later start
        raise
    return key


@dataclass(frozen=True, slots=True)
class Witness:
    """A signed head of the server's chain, as a tablet keeps it."""

    chain: str
    n: int
    hash: str
    signature: str


@dataclass(frozen=True, slots=True)
class Signature:
    """The server's signature of one record of its own, by the record's id."""

    record: str
    signature: str


@dataclass(frozen=True)
class OwnChain:
    """The act of writing to the server's chain, with what it needs handed in once.

    The works is named by its first chain for ever. After a roll-back the server goes on in a new one: what the old
    one held beyond the copy may come back with other numbers on it, and no chain has two records of one number.
    """

    clock: Clock
    key: ec.EllipticCurvePrivateKey

    def open_works(self, connection: Connection, works: WorksOpenedV1) -> list[Record]:
        """Write the first three records of an empty log: the chain, the works, the server as a device."""
        name = new_chain_name(self.clock)
        writer = ChainWriter(name, f"{name}:{DEVICE_NUMBER}", time_zone=works.time_zone)
        enrolled = DeviceEnrolledV1(name="server", letters=SERVER_LETTERS, public_key=public_text(self.key))
        return self._write(connection, writer, [ChainOpenedV1(why="first"), works, enrolled])

    def write(self, connection: Connection, bodies: Sequence[Body], batch: str | UnsetType = UNSET) -> list[Record]:
        """Add records to the server's chain.

        batch   what they are about, where that is a batch
        raises  NotReady before the works were opened
        """
        name = self.name(connection)
        head = read_heads(connection, [name])[name]
        writer = ChainWriter(name, head.device, time_zone="UTC", n=head.mark_n, head=head.mark_hash)
        writer.site = self.site(connection)
        return self._write(connection, writer, bodies, batch)

    def go_on_anew(self, connection: Connection, witness: Witness) -> list[Record]:
        """Open a new chain behind one that was rolled back; its second record is the new epoch."""
        name = new_chain_name(self.clock)
        writer = ChainWriter(name, self.device(connection), time_zone="UTC", site=self.site(connection))
        restored = RestoredV1(noticed_by="head", lost=f"{witness.chain}:{witness.n}")
        return self._write(connection, writer, [ChainOpenedV1(why="behind", before=witness.hash), restored])

    def name(self, connection: Connection) -> str:
        """Return the name of the chain that is written to: the server's newest, of those that were not lost."""
        names = self._names(connection)
        if len(names) == 1:
            return names[0]
        lost = self._lost(connection, names)
        return [name for name in names if name not in lost][-1]

    def site(self, connection: Connection) -> str:
        """Return the id of the works: the log begins with it."""
        return f"{self._first(connection)}:{WORKS_NUMBER}"

    def device(self, connection: Connection) -> str:
        """Return the server's id as a device, the same in each of its chains."""
        return f"{self._first(connection)}:{DEVICE_NUMBER}"

    def epoch(self, connection: Connection) -> str:
        """Return the id of the newest `restored`, before any that of the works."""
        return f"{self.name(connection)}:{EPOCH_NUMBER}"

    def lost(self, connection: Connection) -> dict[str, int]:
        """Return the chains of the server whose roll-back was noticed, and how far each had gone."""
        return self._lost(connection, self._names(connection))

    def _lost(self, connection: Connection, names: Sequence[str]) -> dict[str, int]:
        found: dict[str, int] = {}
        for line in connection.scalars(_RESTORED, {"names": names}):
            body = read(line).body
            if isinstance(body, RestoredV1) and body.lost is not UNSET:
                chain, n = chain_of(body.lost), number_of(body.lost)
                found[chain] = max(n, found.get(chain, 0))
        return found

    def takes_back(self, connection: Connection, chain: str) -> bool:
        """True for a chain of the server that was lost, or is no longer written to: what was said in it may return.

        One that is written to never: what came back would hold the numbers of what is written next.
        """
        names = self._names(connection)
        return chain != self.name(connection) and chain in {*names, *self._lost(connection, names)}

    def vouched(self, connection: Connection, lines: Sequence[Line]) -> list[Signature]:
        """Return the server's signature of each line that is its own.

        Whoever holds the record and this can give it back to a server that lost it, as a run of one line.
        """
        mine = set(self._names(connection))
        return [
            Signature(f"{one.chain}:{one.n}", sign(self.key, run_text(one.chain, one.n, sha256(one.line))))
            for one in lines
            if one.chain in mine
        ]

    def _first(self, connection: Connection) -> str:
        name: str | None = connection.scalar(_FIRST)
        if name is None:
            raise NotReady("No works was opened on this server yet. Run `tallywright init`.")
        return name

    def _names(self, connection: Connection) -> list[str]:
        """The server's chains; those it opened in this log in that order, last."""
        return list(connection.scalars(_MINE)) or [self._first(connection)]

    def signed_head(self, connection: Connection) -> Head:
        """Return the head with the signature over it; each tablet keeps one as an outside witness."""
        name = self.name(connection)
        return read_heads(connection, [name])[name]

    def _write(
        self,
        connection: Connection,
        writer: ChainWriter,
        bodies: Sequence[Body],
        batch: str | UnsetType = UNSET,
    ) -> list[Record]:
        now = self.clock.now_ms()
        written = [writer.add(body, now, skew_ms=0, batch=batch) for body in bodies]
        refused = append(connection, written, now)
        for reason in refused.values():
            raise reason
        last = written[-1]
        before = read_heads(connection, [writer.chain]).get(writer.chain, Head(writer.chain, writer.device))
        head = replace(before, mark_n=writer.n, mark_hash=last.hash, newest_n=writer.n, signed_n=writer.n)
        signature = sign(self.key, run_text(writer.chain, writer.n, last.hash))
        write_head(connection, replace(head, signature=signature))
        return written
