# SPDX-License-Identifier: Apache-2.0
"""PINs on the wire, on their way in only."""

from __future__ import annotations

from marshmallow import fields, validate

from tallywright.web.schemas.answer import RECORD_ID, Answer, Question


class PinWordQuestionSchema(Question):
    """Whose PIN is to be set."""

    person = fields.String(required=True, validate=RECORD_ID)


class PinWordSchema(Answer):
    """The word, shown once."""

    word = fields.String(required=True)
    ends_at = fields.Integer(required=True)


class PinSchema(PinWordQuestionSchema):
    """A person's new PIN, with the word that allows it."""

    word = fields.String(required=True, validate=validate.Length(min=1, max=40))
    pin = fields.String(required=True, validate=validate.Length(max=200))


class PinSetSchema(Answer):
    """Whose PIN was set."""

    person = fields.String(required=True)
