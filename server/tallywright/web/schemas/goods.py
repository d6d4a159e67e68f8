# SPDX-License-Identifier: Apache-2.0
"""Receipts on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import Answer
from tallywright.web.schemas.holds import PictureSchema


class ElementSchema(Schema):
    """One element of a certificate: as printed, what is allowed, and how the two stand."""

    element = fields.String(required=True)
    value = fields.String(required=True)
    limit = fields.String(required=True)
    verdict = fields.String(required=True)


class CertificateSchema(Schema):
    """A certificate as somebody typed it; `by` is empty where nobody is proven."""

    id = fields.String(required=True)
    verdict = fields.String(required=True)
    names_cast = fields.Boolean(required=True)
    findings = fields.List(fields.Nested(ElementSchema), required=True)
    by = fields.String(required=True)
    at = fields.Integer(required=True)


class CastMarkSchema(Schema):
    """Bar ends that somebody read."""

    id = fields.String(required=True)
    bars = fields.Integer(required=True)
    agrees = fields.Boolean(required=True)
    by = fields.String(required=True)
    at = fields.Integer(required=True)


class MadeSchema(Schema):
    """A batch bars of the receipt went to."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    bars = fields.Integer(required=True)


class ReceiptSchema(Schema):
    """One receipt; `state` is empty for components."""

    receipt = fields.String(required=True)
    what = fields.String(required=True)
    name = fields.String(required=True)
    cast = fields.String(required=True)
    counted = fields.Integer(required=True)
    difference = fields.Integer(required=True)
    state = fields.String(required=True)
    received_at = fields.Integer(required=True)
    by = fields.String(required=True)
    certificates = fields.List(fields.Nested(CertificateSchema), required=True)
    marks = fields.List(fields.Nested(CastMarkSchema), required=True)
    files = fields.List(fields.Nested(PictureSchema), required=True)
    batches = fields.List(fields.Nested(MadeSchema), required=True)


class BarEndsSchema(Schema):
    """What lies in one container."""

    alloy = fields.String(required=True)
    container = fields.String(required=True)
    pieces = fields.Integer(required=True)
    mass_g = fields.Integer(required=True)


class GoodsSchema(Answer):
    """The list, dated."""

    as_of = fields.Integer(required=True)
    receipts = fields.List(fields.Nested(ReceiptSchema), required=True)
    bar_ends = fields.List(fields.Nested(BarEndsSchema), required=True)
