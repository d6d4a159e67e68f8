# SPDX-License-Identifier: Apache-2.0
"""Enrolment, devices and sessions on the wire."""

from __future__ import annotations

from marshmallow import Schema, fields, validate

from tallywright.web.schemas.answer import HASH, RECORD_ID, Answer, Question

# A NUL in a text is what PostgreSQL fails at: a key has none, and neither has a name.
PUBLIC_KEY = validate.Regexp(r"^[A-Za-z0-9+/]{80,400}={0,2}\Z")
NAME = validate.Regexp(r"^[^\x00]{1,60}\Z")
CODE = validate.Length(min=1, max=40)


class AskedSchema(Question):
    """A device that asks how its enrolment stands."""

    public_key = fields.String(required=True, validate=PUBLIC_KEY)


class DemoEnrolmentSchema(AskedSchema):
    """A browser that asks to be enrolled in a demo works."""

    name = fields.String(required=True, validate=NAME)


class EnrolmentSchema(DemoEnrolmentSchema):
    """A tablet that asks to be enrolled, with the code somebody read out to it."""

    code = fields.String(required=True, validate=CODE)


class FirstSchema(EnrolmentSchema):
    """The first administrator, and the browser that opened the link `init` printed. `name` is the browser's."""

    person = fields.String(required=True, validate=validate.Length(min=1, max=200))
    pin = fields.String(required=True, validate=validate.Length(max=200))


class EnrolledSchema(Answer):
    """How an enrolment stands. While it waits, device, letters and site are empty.

    number  six digits of the key, which the administrator sees too
    """

    state = fields.String(required=True, validate=validate.OneOf(["enrolled", "waiting"]))
    device = fields.String(required=True)
    letters = fields.String(required=True)
    site = fields.String(required=True)
    number = fields.String(required=True)
    server_time = fields.Integer(required=True)


class CodeSchema(Answer):
    """A one-time code, the address that fills it in, and that address as the rows of a QR code, 1 for dark."""

    code = fields.String(required=True)
    address = fields.String(required=True)
    qr = fields.List(fields.String(), required=True)
    ends_at = fields.Integer(required=True)
    trust_page = fields.String(required=True)


class DeviceSchema(Schema):
    """One device. `heard_at` is when its newest record came; 0 before the first."""

    device = fields.String(required=True)
    letters = fields.String(required=True)
    name = fields.String(required=True)
    revoked = fields.Boolean(required=True)
    heard_at = fields.Integer(required=True)


class WaitingDeviceSchema(Schema):
    """One device that waits for a yes. `key` names its public key."""

    key = fields.String(required=True)
    name = fields.String(required=True)
    number = fields.String(required=True)
    asked_at = fields.Integer(required=True)


class DevicesSchema(Answer):
    """Every device of the works, and those that wait."""

    as_of = fields.Integer(required=True)
    devices = fields.List(fields.Nested(DeviceSchema), required=True)
    waiting = fields.List(fields.Nested(WaitingDeviceSchema), required=True)


class TurningAwaySchema(Question):
    """A waiting device, named by its key, that is not to be let in."""

    key = fields.String(required=True, validate=HASH)


class TurnedAwaySchema(Answer):
    """Which device waits no more."""

    key = fields.String(required=True)


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
