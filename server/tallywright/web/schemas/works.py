# SPDX-License-Identifier: Apache-2.0
"""The works and its batches on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer


class WorksSchema(Answer):
    """What a browser may know before it is enrolled."""

    name = fields.String(required=True)
    time_zone = fields.String(required=True)
    demo = fields.Boolean(required=True)
    server_time = fields.Integer(required=True)


class BatchSchema(Schema):
    """One batch of the list."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    part = fields.String(required=True)
    definition = fields.String(required=True)
    pieces = fields.Integer(required=True)
    opened_at = fields.Integer(required=True)
    released = fields.Boolean(required=True)


class BatchesSchema(Answer):
    """The list, dated."""

    as_of = fields.Integer(required=True)
    batches = fields.List(fields.Nested(BatchSchema), required=True)
