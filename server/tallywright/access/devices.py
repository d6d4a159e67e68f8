# SPDX-License-Identifier: Apache-2.0
"""Enrolled devices: their keys, and the letters that begin their piece tags."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import product

from sqlalchemy import Connection, select

from tallywright.errors import NotReady
from tallywright.projections.tables import devices

# Without I and O, which read as digits on metal; cavities have single letters, so a tag has two.
TAG_LETTERS = "ABCDEFGHJKLMNPQRSTUVWXYZ"


def public_keys(connection: Connection, ids: Iterable[str]) -> dict[str, str]:
    """Return the public keys of those devices that are enrolled."""
    rows = connection.execute(
        select(devices.c.device, devices.c.public_key).where(devices.c.device.in_(sorted(set(ids))))
    )
    return {row.device: row.public_key for row in rows}


def revoked(connection: Connection, ids: Iterable[str]) -> set[str]:
    """Return those of the devices that were revoked."""
    those = devices.c.device.in_(sorted(set(ids))) & devices.c.revoked
    return set(connection.scalars(select(devices.c.device).where(those)))


def every_device(connection: Connection) -> list[tuple[str, str, str, bool]]:
    """Return (id, letters, name, revoked) of every device that was ever enrolled, in the order of their letters."""
    rows = select(devices.c.device, devices.c.letters, devices.c.name, devices.c.revoked)
    return [tuple(row) for row in connection.execute(rows.order_by(devices.c.letters))]


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
