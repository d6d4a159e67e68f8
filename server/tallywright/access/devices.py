# SPDX-License-Identifier: Apache-2.0
"""Enrolled devices: their keys, and the letters that begin their piece tags."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from itertools import product

from sqlalchemy import Connection, and_, bindparam, func, select

from tallywright.errors import NotReady
from tallywright.log.own_chain import SERVER_LETTERS
from tallywright.log.tables import chains, records
from tallywright.projections.tables import devices

# Without I and O, which read as digits on metal; cavities have single letters, so a tag has two.
TAG_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"
# Asked at every push: built once.
_NAMED = devices.c.device.in_(bindparam("names", expanding=True))
_KEYS = select(devices.c.device, devices.c.public_key).where(_NAMED)
_REVOKED = select(devices.c.device).where(_NAMED & devices.c.revoked)


def public_keys(connection: Connection, ids: Iterable[str]) -> dict[str, str]:
    """Return the public keys of those devices that are enrolled."""
    rows = connection.execute(_KEYS, {"names": sorted(set(ids))})
    return {row.device: row.public_key for row in rows}


def revoked(connection: Connection, ids: Iterable[str]) -> set[str]:
    """Return those of the devices that were revoked."""
    return set(connection.scalars(_REVOKED, {"names": sorted(set(ids))}))


def every_device(connection: Connection) -> list[tuple[str, str, str, bool]]:
    """Return (id, letters, name, revoked) of every device that was ever enrolled, in the order of their letters."""
    rows = select(devices.c.device, devices.c.letters, devices.c.name, devices.c.revoked)
    return [tuple(row) for row in connection.execute(rows.order_by(devices.c.letters))]


@dataclass(frozen=True, slots=True)
class Heard:
    """A device, and when its newest record came [ms since 1970]; 0 before the first."""

    device: str
    letters: str
    name: str
    revoked: bool
    heard_at: int


def devices_heard(connection: Connection) -> list[Heard]:
    """Return every device that was ever enrolled but the server, by letters, with when it was last heard."""
    newest = and_(records.c.chain == chains.c.chain, records.c.n == chains.c.newest_n)
    came = select(chains.c.device, func.max(records.c.received_at).label("at")).join(records, newest)
    heard = {row.device: row.at for row in connection.execute(came.group_by(chains.c.device))}
    return [
        Heard(device, letters, name, is_revoked, heard.get(device, 0))
        for device, letters, name, is_revoked in every_device(connection)
        if letters != SERVER_LETTERS
    ]


def every_public_key(connection: Connection) -> dict[str, str]:
    """Return the public key of every device that was ever enrolled."""
    rows = connection.execute(select(devices.c.device, devices.c.public_key))
    return {row.device: row.public_key for row in rows}


def free_letters(connection: Connection) -> str:
    """Return tag letters that no device of this works has had."""
    taken = set(connection.scalars(select(devices.c.letters)))
    for length in (2, 3, 4):
        for letters in product(TAG_LETTERS, repeat=length):
            text = "".join(letters)
            if text not in taken:
                return text
    raise NotReady("All tag letters of this works are given out.")
