# SPDX-License-Identifier: Apache-2.0
"""The Pareto on the wire."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate, validates_schema

from tallywright.records.envelope import LARGEST_INTEGER
from tallywright.web.schemas.answer import RECORD_ID, WORD, Answer

A_TIME = validate.Range(0, LARGEST_INTEGER)


class ParetoQuerySchema(Schema):
    """A span, or nothing for the shift of now; and what to look at."""

    start = fields.Integer(data_key="from", validate=A_TIME)
    end = fields.Integer(data_key="to", validate=A_TIME)
    look = fields.String(load_default="", validate=WORD)
    batch = fields.String(load_default="", validate=RECORD_ID)

    @validates_schema
    def is_span(self, data: dict[str, Any], **_: Any) -> None:
        """Both ends or neither, in order."""
        if ("start" in data) != ("end" in data):
            raise ValidationError("Give both 'from' and 'to', or neither.", "from")
        if "start" in data and data["start"] >= data["end"]:
            raise ValidationError("'to' lies behind 'from'.", "to")


class BarSchema(Schema):
    """One bar."""

    name = fields.String(required=True)
    count = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    share = fields.Float(required=True)
    cumulative = fields.Float(required=True)


class ParetoSchema(Answer):
    """Bars, the largest first, with the span and the counts they stand for."""

    start = fields.Integer(required=True, data_key="from")
    end = fields.Integer(required=True, data_key="to")
    shift = fields.String(required=True)
    day = fields.String(required=True)
    marks = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    bars = fields.List(fields.Nested(BarSchema), required=True)
