# SPDX-License-Identifier: Apache-2.0
"""Holds and requests on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer


class PictureSchema(Schema):
    """A picture of a piece, by the SHA-256 of its bytes, and whether they are here yet."""

    file = fields.String(required=True)
    here = fields.Boolean(required=True)


class HoldSchema(Schema):
    """One hold that stands.

    said    the defect word, the reason given, where pieces turned up, or the class whose limit was crossed
    number  of its tray; 0 where it is of none
    finder  the name of whoever found it, where that is proven
    tag     of its piece; empty where it is of none
    """

    hold = fields.String(required=True)
    batch = fields.String(required=True)
    cause = fields.String(required=True)
    piece = fields.String(required=True)
    look = fields.String(required=True)
    cause_withdrawn = fields.Boolean(required=True)
    said = fields.String(required=True)
    at = fields.Integer(required=True)
    number = fields.Integer(required=True)
    finder = fields.String(required=True)
    tag = fields.String(required=True)
    pictures = fields.List(fields.Nested(PictureSchema), required=True)


class QuerySchema(Schema):
    """One piece that somebody was not sure of, and nobody has decided on."""

    batch = fields.String(required=True)
    look = fields.String(required=True)
    piece = fields.String(required=True)
    at = fields.Integer(required=True)
    number = fields.Integer(required=True)
    finder = fields.String(required=True)
    tag = fields.String(required=True)
    pictures = fields.List(fields.Nested(PictureSchema), required=True)


class RequestSchema(Schema):
    """One request, and what became of it."""

    request = fields.String(required=True)
    batch = fields.String(required=True)
    kind = fields.String(required=True)
    state = fields.String(required=True)
    sign_on = fields.String(required=True)
    reasons = fields.List(fields.String(), required=True)
    seconded_by = fields.List(fields.String(), required=True)
    asked_at = fields.Integer(required=True)


class SeenSchema(Schema):
    """How far one chain goes into this list."""

    chain = fields.String(required=True)
    n = fields.Integer(required=True)


class HeldBatchSchema(Schema):
    """A batch of the list, and what a request that rests on it has seen."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    seen = fields.List(fields.Nested(SeenSchema), required=True)


class HoldsSchema(Answer):
    """The list, dated."""

    as_of = fields.Integer(required=True)
    holds = fields.List(fields.Nested(HoldSchema), required=True)
    queries = fields.List(fields.Nested(QuerySchema), required=True)
    requests = fields.List(fields.Nested(RequestSchema), required=True)
    batches = fields.List(fields.Nested(HeldBatchSchema), required=True)
