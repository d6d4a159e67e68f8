# SPDX-License-Identifier: Apache-2.0
"""The lines of a shift on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer


class OpenDifferenceSchema(Schema):
    """A count that differs."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    look = fields.String(required=True)
    kind = fields.String(required=True)
    subject = fields.String(required=True)
    amount = fields.Integer(required=True)
    tray = fields.Integer(required=True)


class NotHeardSchema(Schema):
    """A tablet whose newest record is old."""

    device = fields.String(required=True)
    letters = fields.String(required=True)
    name = fields.String(required=True)
    heard_at = fields.Integer(required=True)


class WrongPinsSchema(Schema):
    """Somebody whose PIN was wrong too often at a tablet."""

    person = fields.String(required=True)
    device = fields.String(required=True)
    letters = fields.String(required=True)
    name = fields.String(required=True)


class ShiftLinesSchema(Answer):
    """The shift of now, and what of it is neither a hold nor a batch."""

    as_of = fields.Integer(required=True)
    start = fields.Integer(required=True, data_key="from")
    end = fields.Integer(required=True, data_key="to")
    shift = fields.String(required=True)
    day = fields.String(required=True)
    differences = fields.List(fields.Nested(OpenDifferenceSchema), required=True)
    not_heard = fields.List(fields.Nested(NotHeardSchema), required=True)
    wrong_pins = fields.List(fields.Nested(WrongPinsSchema), required=True)
