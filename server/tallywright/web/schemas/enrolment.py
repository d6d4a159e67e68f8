# SPDX-License-Identifier: Apache-2.0
"""Enrolment and sessions on the wire."""

from __future__ import annotations

from marshmallow import fields, validate

from tallywright.web.schemas.answer import RECORD_ID, Answer, Question


class DemoEnrolmentSchema(Question):
    """A browser that asks to be enrolled in a demo works."""

    public_key = fields.String(required=True, validate=validate.Length(min=80, max=400))
    name = fields.String(required=True, validate=validate.Length(min=1, max=60))


class EnrolmentSchema(DemoEnrolmentSchema):
    """A tablet that asks to be enrolled, with the code somebody read out to it."""

    code = fields.String(required=True, validate=validate.Length(min=1, max=40))


class EnrolledSchema(Answer):
    """The device as it was enrolled."""

    device = fields.String(required=True)
    letters = fields.String(required=True)
    site = fields.String(required=True)
    server_time = fields.Integer(required=True)


class ChallengeQuestionSchema(Question):
    """A device that wants a session."""

    device = fields.String(required=True, validate=RECORD_ID)


class ChallengeSchema(Answer):
    """The text to sign."""

    challenge = fields.String(required=True)


class SessionQuestionSchema(ChallengeQuestionSchema):
    """A signed challenge."""

    challenge = fields.String(required=True, validate=validate.Length(max=100))
    signature = fields.String(required=True, validate=validate.Length(max=200))


class SessionSchema(Answer):
    """Whose session it is."""

    device = fields.String(required=True)
