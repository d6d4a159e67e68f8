# SPDX-License-Identifier: Apache-2.0
"""The Pareto on the wire."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate, validates_schema

from tallywright.records.envelope import LARGEST_INTEGER
from tallywright.reports.strata import STRATA
from tallywright.web.schemas.answer import RECORD_ID, WORD, Answer

A_TIME = validate.Range(0, LARGEST_INTEGER)
MOST_ONLY = 20
SORTS = ("value", "either", "none")
UNITS = ("marks", "pieces")
AXES = ("found", "made")


class ParetoQuerySchema(Schema):
    """A span, or nothing for the shift of now; and what to look at."""

    start = fields.Integer(data_key="from", validate=A_TIME)
    end = fields.Integer(data_key="to", validate=A_TIME)
    by = fields.String(load_default="defect", validate=validate.OneOf(tuple(STRATA)))
    unit = fields.String(load_default="marks", validate=validate.OneOf(UNITS))
    axis = fields.String(load_default="found", validate=validate.OneOf(AXES))
    narrowed = fields.List(
        fields.String(), data_key="only", load_default=[], validate=validate.Length(max=MOST_ONLY)
    )
    look = fields.String(load_default="", validate=WORD)
    batch = fields.String(load_default="", validate=RECORD_ID)
    part = fields.String(load_default="", validate=validate.Length(max=401))

    @validates_schema
    def is_span(self, data: dict[str, Any], **_: Any) -> None:
        """Both ends or neither, in order."""
        if ("start" in data) != ("end" in data):
            raise ValidationError("Give both 'from' and 'to', or neither.", "from")
        if "start" in data and data["start"] >= data["end"]:
            raise ValidationError("'to' lies behind 'from'.", "to")


class OnlySchema(Schema):
    """A bar the answer is narrowed to."""

    stratum = fields.String(required=True)
    sort = fields.String(required=True, validate=validate.OneOf(SORTS))
    name = fields.String(required=True)


class BarSchema(Schema):
    """One bar."""

    name = fields.String(required=True)
    sort = fields.String(required=True, validate=validate.OneOf(SORTS))
    label = fields.String(required=True)
    count = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    share = fields.Float(required=True)
    cumulative = fields.Float(required=True)
    too_few_to_rank = fields.Boolean(required=True)


class ParetoSchema(Answer):
    """Bars, the longest first, with the span, the narrowing and the counts they stand for."""

    start = fields.Integer(required=True, data_key="from")
    end = fields.Integer(required=True, data_key="to")
    shift = fields.String(required=True)
    day = fields.String(required=True)
    by = fields.String(required=True)
    unit = fields.String(required=True, validate=validate.OneOf(UNITS))
    narrowed = fields.List(fields.Nested(OnlySchema), attribute="only", data_key="only", required=True)
    axis = fields.String(required=True, validate=validate.OneOf(AXES))
    marks = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    perhaps = fields.Integer(required=True)
    unplaced = fields.Integer(required=True)
    bars = fields.List(fields.Nested(BarSchema), required=True)
