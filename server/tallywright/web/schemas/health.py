# SPDX-License-Identifier: Apache-2.0
"""How the server is, and how it is reached, on the wire."""

from __future__ import annotations

from marshmallow import fields

from tallywright.web.schemas.answer import Answer


class HealthSchema(Answer):
    """What a monitor reads. No secret, and nothing about what is made."""

    live = fields.Boolean(required=True)
    database = fields.Boolean(required=True)
    newest = fields.Integer(required=True, allow_none=True)
    disk_free_mb = fields.Integer(required=True)
    certificate_last_day = fields.String(required=True, allow_none=True)


class ReachSchema(Answer):
    """Addresses, each empty where there is none, with the rows of their QR codes."""

    secure = fields.String(required=True)
    secure_here = fields.String(required=True)
    trust_page = fields.String(required=True)
    fingerprint = fields.String(required=True)
    secure_qr = fields.List(fields.String(), required=True)
    trust_page_qr = fields.List(fields.String(), required=True)
