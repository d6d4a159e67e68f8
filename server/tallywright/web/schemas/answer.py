# SPDX-License-Identifier: Apache-2.0
"""What every answer carries, so that nobody else's answer is taken for ours."""

from __future__ import annotations

from typing import ClassVar

from marshmallow import RAISE, Schema, fields, validate

from tallywright.web.door import MARKER, PROTOCOL

RECORD_ID = validate.Regexp(r"^[a-z2-7]{26}:[1-9][0-9]{0,15}$")
CHAIN = validate.Regexp(r"^[a-z2-7]{26}$")
HASH = validate.Regexp(r"^[0-9a-f]{64}(?![\s\S])")
WORD = validate.Regexp(r"^[a-z][a-z0-9_]{0,63}$")


class Question(Schema):
    """Base of request bodies: an unknown member is a mistake worth telling."""

    class Meta:
        """Refuse what is not described."""

        unknown: ClassVar[str] = RAISE


class Answer(Schema):
    """Base of answers: the marker and the protocol."""

    marker = fields.Constant(MARKER)
    protocol = fields.Constant(PROTOCOL)
