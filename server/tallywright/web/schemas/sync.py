# SPDX-License-Identifier: Apache-2.0
"""Push and pull on the wire; docs/sync.md says what the fields mean."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields, validate, validates_schema

from tallywright.records.envelope import LARGEST_INTEGER
from tallywright.web.schemas.answer import CHAIN, HASH, RECORD_ID, Answer, Question

MOST_LINES = 500
CHAIN_OR_NONE = validate.Regexp(r"^([a-z2-7]{26})?(?![\s\S])")
A_NUMBER = validate.Range(1, LARGEST_INTEGER)


class RunSchema(Question):
    """An unbroken stretch of one chain and the signature at its end."""

    chain = fields.String(required=True, validate=CHAIN)
    first = fields.Integer(required=True, strict=True, validate=A_NUMBER)
    last = fields.Integer(required=True, strict=True, validate=A_NUMBER)
    signature = fields.String(required=True, validate=validate.Length(max=200))

    @validates_schema
    def rises(self, data: dict[str, Any], **_: Any) -> None:
        """A stretch ends at or behind its first record, and is no longer than a push."""
        if not 0 <= data["last"] - data["first"] < MOST_LINES:
            raise ValidationError(f"A run holds 1 to {MOST_LINES} records.", "last")


class EnclosureSchema(Question):
    """A sealed PIN beside the sign-on it was sealed for; 3072 bits are 512 letters of base64."""

    record = fields.String(required=True, validate=RECORD_ID)
    sealed = fields.String(required=True, validate=validate.Regexp(r"^[A-Za-z0-9+/]{512}$"))


class AnsweredSchema(Question):
    """The last record of a chain its tablet left behind that the server has answered for."""

    chain = fields.String(required=True, validate=CHAIN)
    n = fields.Integer(required=True, strict=True, validate=A_NUMBER)
    hash = fields.String(required=True, validate=HASH)


class PushHeadSchema(Question):
    """The head line of a push."""

    protocol = fields.Integer(required=True, strict=True, validate=validate.Equal(1))
    count = fields.Integer(required=True, strict=True, validate=validate.Range(0, MOST_LINES))
    runs = fields.List(fields.Nested(RunSchema), required=True, validate=validate.Length(max=MOST_LINES))
    marks = fields.List(fields.String(validate=CHAIN), load_default=list, validate=validate.Length(max=100))
    enclosures = fields.List(fields.Nested(EnclosureSchema), load_default=list, validate=validate.Length(max=100))
    answered = fields.List(fields.Nested(AnsweredSchema), load_default=list, validate=validate.Length(max=100))


class HeldSchema(Schema):
    """A stretch held behind a gap."""

    first = fields.Integer(required=True)
    last = fields.Integer(required=True)


class MarkSchema(Schema):
    """How far a chain is held."""

    chain = fields.String(required=True)
    n = fields.Integer(required=True)
    hash = fields.String(required=True)
    safe = fields.Integer(required=True)
    held = fields.List(fields.Nested(HeldSchema), required=True)


class ExceptionSchema(Schema):
    """One line that was not stored."""

    chain = fields.String(required=True)
    n = fields.Integer(required=True)
    code = fields.String(required=True)
    details = fields.Dict(required=True)


class PushAnswerSchema(Answer):
    """What a push did."""

    epoch = fields.String(required=True)
    server_time = fields.Integer(required=True)
    newest = fields.Integer(required=True)
    marks = fields.List(fields.Nested(MarkSchema), required=True)
    exceptions = fields.List(fields.Nested(ExceptionSchema), required=True)
    lost = fields.List(fields.String(), required=True)


class PullQuerySchema(Schema):
    """What a tablet asks for: see docs/sync.md for the form of cursors and pairs."""

    after = fields.String(validate=validate.Length(max=100))
    carry = fields.List(
        fields.String(validate=validate.Length(max=300)), load_default=list, validate=validate.Length(max=50)
    )
    chain = fields.List(fields.String(validate=CHAIN_OR_NONE), load_default=list, validate=validate.Length(max=20))
    kept = fields.Integer(load_default=1, validate=validate.Range(min=1, max=LARGEST_INTEGER))
    head = fields.String(validate=validate.Length(max=400))


class HeadSchema(Schema):
    """The server's own chain, signed: a witness each tablet keeps."""

    chain = fields.String(required=True)
    n = fields.Integer(required=True, attribute="mark_n")
    hash = fields.String(required=True, attribute="mark_hash")
    signature = fields.String(required=True)


class SealingSchema(Schema):
    """The key to seal PINs with."""

    name = fields.String(required=True)
    public_key = fields.String(required=True)


class SignatureSchema(Schema):
    """The server's signature of one of the lines that is its own."""

    record = fields.String(required=True)
    signature = fields.String(required=True)


class SignOnSchema(Schema):
    """Whose sign-on stands behind records of the pairs, and whether that is proven: a copy of the server's rows."""

    sign_on = fields.String(required=True)
    person = fields.String(required=True)
    proven = fields.Boolean(required=True)


class PullHeadSchema(Answer):
    """The head line of a pull."""

    epoch = fields.String(required=True)
    server_time = fields.Integer(required=True)
    cursor = fields.String(required=True)
    count = fields.Integer(required=True)
    more = fields.Boolean(required=True)
    head = fields.Nested(HeadSchema, required=True)
    sealing = fields.Nested(SealingSchema, required=True)
    signatures = fields.List(fields.Nested(SignatureSchema), required=True)
    sign_ons = fields.List(fields.Nested(SignOnSchema), required=True)
    chain_newest = fields.Integer(required=True)
    certificate_ends_at = fields.Integer(required=True)
