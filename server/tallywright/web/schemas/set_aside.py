# SPDX-License-Identifier: Apache-2.0
"""What was set aside, on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer


class KindCountSchema(Schema):
    """How many lines of one kind; the kind is empty for bytes that are no record."""

    kind = fields.String(required=True)
    count = fields.Integer(required=True)


class AsideOfChainSchema(Schema):
    """What was set aside of one chain for one reason."""

    chain = fields.String(required=True)
    letters = fields.String(required=True)
    name = fields.String(required=True)
    code = fields.String(required=True)
    count = fields.Integer(required=True)
    first_at = fields.Integer(required=True)
    last_at = fields.Integer(required=True)
    kinds = fields.List(fields.Nested(KindCountSchema), required=True)
    admissible = fields.Integer(required=True)
    admitted = fields.Integer(required=True)
    lines = fields.List(fields.String(), required=True)


class SetAsideListSchema(Answer):
    """All of it, dated."""

    as_of = fields.Integer(required=True)
    chains = fields.List(fields.Nested(AsideOfChainSchema), required=True)
