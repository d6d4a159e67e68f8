# SPDX-License-Identifier: Apache-2.0
"""The pictures of pieces, with those that have not arrived: a missing file is shown, not left out."""

from __future__ import annotations

from collections.abc import Collection
from typing import Any

from sqlalchemy import Connection, select

from tallywright.db import in_parts
from tallywright.log.tables import files
from tallywright.projections.tables import attachments


def pictures(connection: Connection, pieces: Collection[str]) -> dict[str, list[dict[str, Any]]]:
    """Return by piece the files attached to it, oldest first, each once, and whether its bytes are here."""
    standing = (
        select(attachments.c.piece, attachments.c.file, files.c.hash)
        .join(files, files.c.hash == attachments.c.file, isouter=True)
        .where(attachments.c.withdrawn.is_(False))
        .order_by(attachments.c.added_at, attachments.c.record)
    )
    found: dict[str, list[dict[str, Any]]] = {}
    for names in in_parts(pieces):
        for piece, file, here in connection.execute(standing.where(attachments.c.piece.in_(names))):
            of_piece = found.setdefault(piece, [])
            if all(one["file"] != file for one in of_piece):
                of_piece.append({"file": file, "here": here is not None})
    return found
