# SPDX-License-Identifier: Apache-2.0
"""Files on the wire: bytes have no schema, their name has one."""

from __future__ import annotations

from typing import Any

FILE_NAME: dict[str, Any] = {
    "name": "file",
    "in": "path",
    "required": True,
    "description": "SHA-256 of the bytes, in lower-case hexadecimal digits",
    "schema": {"type": "string", "pattern": "^[0-9a-f]{64}$"},
}
