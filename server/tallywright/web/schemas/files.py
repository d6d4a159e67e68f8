# SPDX-License-Identifier: Apache-2.0
"""Files on the wire: bytes have no schema, their name has one, and how far they came."""

from __future__ import annotations

from typing import Any

from marshmallow import fields, validate

from tallywright.records.bench import LARGEST_FILE
from tallywright.web.schemas.answer import Answer, Question

FILE_NAME: dict[str, Any] = {
    "name": "file",
    "in": "path",
    "required": True,
    "description": "SHA-256 of the bytes, in lower-case hexadecimal digits",
    "schema": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
}


class PartQuerySchema(Question):
    """Where the bytes of the body begin in the file."""

    offset = fields.Integer(required=True, validate=validate.Range(0, LARGEST_FILE))


class ArrivedSchema(Answer):
    """How far a file has come: the next part begins at `held`."""

    file = fields.String(required=True)
    held = fields.Integer(required=True)
    whole = fields.Boolean(required=True, attribute="is_whole")
    safe = fields.Boolean(required=True, attribute="is_safe")
