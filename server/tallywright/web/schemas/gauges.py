# SPDX-License-Identifier: Apache-2.0
"""Gauges on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer


class GaugeSaidSchema(Schema):
    """What somebody said of a gauge; `by` is empty where nobody is proven, and what does not count says so."""

    id = fields.String(required=True)
    result = fields.String(required=True)
    against = fields.String(required=True)
    certificate = fields.String(required=True)
    next_due = fields.String(required=True)
    note = fields.String(required=True)
    at = fields.Integer(required=True)
    by = fields.String(required=True)
    counts = fields.Boolean(required=True)


class GaugeUsedSchema(Schema):
    """Values of a batch that were taken while the gauge stood so."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    standing = fields.String(required=True)
    released = fields.Boolean(required=True)
    values = fields.Integer(required=True)
    first_at = fields.Integer(required=True)
    last_at = fields.Integer(required=True)


class GaugeSchema(Schema):
    """One gauge; `standing` is the worst of how it stands now and of the values in doubt by it."""

    number = fields.String(required=True)
    kinds = fields.List(fields.String(), required=True)
    range = fields.String(required=True)
    resolution = fields.String(required=True)
    place = fields.String(required=True)
    standing = fields.String(required=True)
    stands_now = fields.String(required=True)
    due = fields.String(required=True)
    said = fields.List(fields.Nested(GaugeSaidSchema), required=True)
    batches = fields.List(fields.Nested(GaugeUsedSchema), required=True)


class GaugesSchema(Answer):
    """The list, dated."""

    as_of = fields.Integer(required=True)
    gauges = fields.List(fields.Nested(GaugeSchema), required=True)
