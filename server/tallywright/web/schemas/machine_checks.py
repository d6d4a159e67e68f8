# SPDX-License-Identifier: Apache-2.0
"""The checks at the machines on the wire."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate, validates_schema

from tallywright.records.envelope import LARGEST_INTEGER
from tallywright.reports.machine_checks import DAY_MS, LONGEST_SPAN_MS
from tallywright.web.schemas.answer import Answer

A_TIME = validate.Range(0, LARGEST_INTEGER)
GAPS = ("missed", "left_out", "delayed", "none")
PATTERNS = ("same_value", "same_gap", "close_together", "end_digit", "never_near")


class MachineChecksQuerySchema(Schema):
    """A span, or nothing for the shift of now."""

    start = fields.Integer(data_key="from", validate=A_TIME)
    end = fields.Integer(data_key="to", validate=A_TIME)

    @validates_schema
    def is_span(self, data: dict[str, Any], **_: Any) -> None:
        """Both ends or neither, in order, and not too far apart."""
        if ("start" in data) != ("end" in data):
            raise ValidationError("Give both 'from' and 'to', or neither.", "from")
        if "start" in data and data["start"] >= data["end"]:
            raise ValidationError("'to' lies behind 'from'.", "to")
        if "start" in data and data["end"] - data["start"] > LONGEST_SPAN_MS:
            raise ValidationError(f"A span is at most {LONGEST_SPAN_MS // DAY_MS} days long.", "to")


class OfCheckSchema(Schema):
    """What a line is about."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    operation = fields.Integer(required=True)
    operation_words = fields.Dict(keys=fields.String(), values=fields.String(), required=True)
    characteristic = fields.Integer(required=True)
    words = fields.Dict(keys=fields.String(), values=fields.String(), required=True)
    unit = fields.String(required=True)
    lower = fields.String(required=True)
    upper = fields.String(required=True)


class CheckGapSchema(OfCheckSchema):
    """A check that is not as the plan asks."""

    role = fields.String(required=True)
    kind = fields.String(required=True, validate=validate.OneOf(GAPS))
    record = fields.String(required=True)
    checks = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    ms = fields.Integer(required=True)
    why = fields.String(required=True)
    said = fields.String(required=True)
    at = fields.Integer(required=True)


class SaidSchema(Schema):
    """One check as it was said; `made` is -1 where nobody knew."""

    said = fields.String(required=True)
    outcome = fields.String(required=True)
    mistyped = fields.Boolean(required=True)
    made = fields.Integer(required=True)
    gauge = fields.String(required=True)
    cavity = fields.String(required=True)
    taken_at = fields.Integer(required=True)


class DoneSchema(Schema):
    """What was done about a check that was out."""

    done = fields.String(required=True)
    pieces_back = fields.Integer(required=True)
    at = fields.Integer(required=True)


class CheckSetSchema(OfCheckSchema):
    """A check with those that stand beside it."""

    check = fields.String(required=True)
    role = fields.String(required=True)
    first = fields.Nested(SaidSchema, required=True)
    beside = fields.List(fields.Nested(SaidSchema), required=True)
    done = fields.List(fields.Nested(DoneSchema), required=True)


class PatternSchema(OfCheckSchema):
    """Readings that are more regular than chance makes them as a rule."""

    kind = fields.String(required=True, validate=validate.OneOf(PATTERNS))
    part = fields.String(required=True)
    cavity = fields.String(required=True)
    gauges = fields.List(fields.String(), required=True)
    value = fields.String(required=True)
    count = fields.Integer(required=True)
    of = fields.Integer(required=True)
    chance = fields.Float(required=True)
    since = fields.Integer(required=True)
    until = fields.Integer(required=True)


class MachineChecksSchema(Answer):
    """The checks of a span."""

    as_of = fields.Integer(required=True)
    start = fields.Integer(required=True, data_key="from")
    end = fields.Integer(required=True, data_key="to")
    shift = fields.String(required=True)
    day = fields.String(required=True)
    taken = fields.Integer(required=True)
    gaps = fields.List(fields.Nested(CheckGapSchema), required=True)
    repeated = fields.List(fields.Nested(CheckSetSchema), required=True)
    out = fields.List(fields.Nested(CheckSetSchema), required=True)
    worth_a_look = fields.List(fields.Nested(PatternSchema), required=True)
    looked_at = fields.Integer(required=True)
    too_few = fields.Integer(required=True)
    more = fields.Integer(required=True)
