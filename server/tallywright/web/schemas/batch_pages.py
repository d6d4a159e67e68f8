# SPDX-License-Identifier: Apache-2.0
"""Batches and their looks on the wire; docs/sync.md says what the fields mean."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, fields

from tallywright.web.schemas.answer import RECORD_ID, WORD, Answer
from tallywright.web.schemas.holds import SeenSchema

BATCH: dict[str, Any] = {
    "name": "batch",
    "in": "path",
    "required": True,
    "description": "id of the batch's batch_opened",
    "schema": {"type": "string", "pattern": "^[a-z2-7]{26}:[1-9][0-9]{0,15}$"},
}


class BatchPagesQuerySchema(Schema):
    """Where the list goes on."""

    after = fields.String(load_default="", validate=RECORD_ID)


class LookLineSchema(Schema):
    """One look of a batch in the list."""

    look = fields.String(required=True)
    due = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    accepted = fields.Integer(required=True)
    rejected = fields.Integer(required=True)
    rework = fields.Integer(required=True)
    query = fields.Integer(required=True)
    points = fields.Integer(required=True)
    signed_by = fields.String(required=True)
    worst = fields.String(required=True)


class BatchLineSchema(Schema):
    """One batch in the list."""

    batch = fields.String(required=True)
    number = fields.String(required=True)
    part = fields.String(required=True)
    opened_at = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    released_by = fields.String(required=True)
    late = fields.Integer(required=True)
    not_understood = fields.Integer(required=True)
    holds = fields.Integer(required=True)
    looks = fields.List(fields.Nested(LookLineSchema), required=True)


class BatchPagesSchema(Answer):
    """The list, dated."""

    as_of = fields.Integer(required=True)
    pages = fields.List(fields.Nested(BatchLineSchema), required=True)
    more = fields.Boolean(required=True)


class OpeningSchema(Schema):
    """A tray as one tablet opened it."""

    tray = fields.String(required=True)
    chain = fields.String(required=True)
    opened_at = fields.Integer(required=True)
    is_closed = fields.Boolean(required=True)
    looked = fields.Integer(required=True)


class TrayCountSchema(Schema):
    """All that was opened under one tray number."""

    number = fields.Integer(required=True)
    due = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    openings = fields.List(fields.Nested(OpeningSchema), required=True)


class LookCountSchema(Schema):
    """One look in numbers of pieces."""

    look = fields.String(required=True)
    counted_by = fields.String(required=True)
    operation = fields.Integer(required=True)
    counted = fields.Integer(required=True)
    taken = fields.Integer(required=True)
    due = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    accepted = fields.Integer(required=True)
    rejected = fields.Integer(required=True)
    rework = fields.Integer(required=True)
    query = fields.Integer(required=True)
    sent = fields.Integer(required=True)
    returned = fields.Integer(required=True)
    trays = fields.List(fields.Nested(TrayCountSchema), required=True)


class DifferenceSchema(Schema):
    """A named difference with its sign."""

    look = fields.String(required=True)
    kind = fields.String(required=True)
    subject = fields.String(required=True)
    amount = fields.Integer(required=True)
    accepted_by = fields.String(required=True)


class PointSchema(Schema):
    """One thing that keeps a look from being complete."""

    kind = fields.String(required=True)
    subject = fields.String(required=True)
    amount = fields.Integer(required=True)


class StepSchema(Schema):
    """One step of the whole ledger in numbers of pieces."""

    operation = fields.Integer(required=True)
    look = fields.String(required=True)
    is_look = fields.Boolean(required=True)
    pieces_in = fields.Integer(required=True, data_key="in")
    pieces_out = fields.Integer(required=True, data_key="out")
    scrap = fields.Integer(required=True)
    set_up = fields.Integer(required=True)
    samples = fields.Integer(required=True)
    missing = fields.Integer(required=True)


class WholeLedgerSchema(Schema):
    """in = good + scrap + samples and set-up + missing + taken, and the steps it comes of."""

    pieces_in = fields.Integer(required=True, data_key="in")
    good = fields.Integer(required=True)
    scrap = fields.Integer(required=True)
    samples_and_set_up = fields.Integer(required=True)
    missing = fields.Integer(required=True)
    taken = fields.Integer(required=True)
    closes = fields.Boolean(required=True)
    steps = fields.List(fields.Nested(StepSchema), required=True)


class LedgerSchema(Schema):
    """The piece ledger of a batch."""

    opened = fields.Integer(required=True)
    taken = fields.Integer(required=True)
    left = fields.Integer(required=True)
    looks = fields.List(fields.Nested(LookCountSchema), required=True)
    differences = fields.List(fields.Nested(DifferenceSchema), required=True)
    whole = fields.Nested(WholeLedgerSchema, required=True)
    points = fields.List(fields.Nested(PointSchema), required=True)


class IndependenceSchema(Schema):
    """Of the pieces looked at, those that other eyes saw before: surely, perhaps, surely not."""

    other = fields.String(required=True)
    pieces = fields.Integer(required=True)
    certain = fields.Integer(required=True)
    possible = fields.Integer(required=True)
    never = fields.Integer(required=True)


class LookStateSchema(Schema):
    """How far a look is from being complete."""

    look = fields.String(required=True)
    points = fields.List(fields.Nested(PointSchema), required=True)
    signed_by = fields.String(required=True)
    independence = fields.List(fields.Nested(IndependenceSchema), required=True)


class LimitLineSchema(Schema):
    """The limit of one class at one look. The numbers behind the state are left out while nobody counted in."""

    look = fields.String(required=True)
    defect_class = fields.String(required=True, data_key="class")
    allowed_per_thousand = fields.Integer(required=True)
    defective = fields.Integer(required=True)
    with_queries = fields.Integer(required=True)
    marked = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    due = fields.Integer(required=True)
    trays_closed = fields.Integer(required=True)
    state = fields.String(required=True)
    state_with_queries = fields.String(required=True)
    allowed = fields.Integer()
    chance_over = fields.Float()
    rate = fields.Float()
    lower = fields.Float()
    upper = fields.Float()


class CoverageSchema(Schema):
    """Which looks could see a family of defects in a zone."""

    family = fields.String(required=True)
    zone = fields.String(required=True)
    looks = fields.List(fields.String(), required=True)
    # A schema has an `unknown` of its own.
    unsaid = fields.List(fields.String(), required=True, data_key="unknown", attribute="unknown")


class PieceVerdictSchema(Schema):
    """One piece at one look."""

    look = fields.String(required=True)
    piece = fields.String(required=True)
    tray = fields.String(required=True)
    round = fields.Integer(required=True)
    verdict = fields.String(required=True)
    main_defect = fields.String(required=True)
    worst = fields.String(required=True)
    open_queries = fields.List(fields.String(), required=True)
    differ = fields.List(fields.String(), required=True)
    locked_by = fields.List(fields.String(), required=True)


class BatchRequestSchema(Schema):
    """One request for a difference to be accepted or for the batch to be released."""

    id = fields.String(required=True)
    kind = fields.String(required=True)
    state = fields.String(required=True)
    reasons = fields.List(fields.String(), required=True)
    seconded_by = fields.List(fields.String(), required=True)
    asked_at = fields.Integer(required=True)
    person = fields.String(required=True)


class TrayNameSchema(Schema):
    """A tray by the number on its card and the tablet it was opened on."""

    number = fields.Integer(required=True)
    tablet = fields.String(required=True)
    opened_at = fields.Integer(required=True)


class CastSchema(Schema):
    """A receipt the batch is made of; `cast` is empty where it is not here."""

    receipt = fields.String(required=True)
    cast = fields.String(required=True)
    name = fields.String(required=True)
    state = fields.String(required=True)
    bars = fields.Integer(required=True)


class BatchPageSchema(Answer):
    """All that is shown of one batch, dated."""

    as_of = fields.Integer(required=True)
    batch = fields.String(required=True)
    number = fields.String(required=True)
    part = fields.String(required=True)
    definition = fields.String(required=True)
    opened_at = fields.Integer(required=True)
    pieces = fields.Integer(required=True)
    released_by = fields.String(required=True)
    late = fields.List(fields.String(), required=True)
    not_understood = fields.List(fields.String(), required=True)
    can_be_released = fields.Boolean(required=True)
    casts = fields.List(fields.Nested(CastSchema), required=True)
    ledger = fields.Nested(LedgerSchema, required=True)
    looks = fields.List(fields.Nested(LookStateSchema), required=True)
    limits = fields.List(fields.Nested(LimitLineSchema), required=True)
    coverage = fields.List(fields.Nested(CoverageSchema), required=True)
    verdicts = fields.List(fields.Nested(PieceVerdictSchema), required=True)
    requests = fields.List(fields.Nested(BatchRequestSchema), required=True)
    seen = fields.List(fields.Nested(SeenSchema), required=True)
    names = fields.Dict(keys=fields.String(), values=fields.String(), required=True)
    tags = fields.Dict(keys=fields.String(), values=fields.String(), required=True)
    trays = fields.Dict(keys=fields.String(), values=fields.Nested(TrayNameSchema), required=True)


class EyesQuerySchema(Schema):
    """Before which look of which batch."""

    batch = fields.String(required=True, validate=RECORD_ID)
    look = fields.String(required=True, validate=WORD)


class EyesThereSchema(Schema):
    """A person in an earlier look."""

    look = fields.String(required=True)
    person = fields.String(required=True)
    name = fields.String(required=True)
    pieces = fields.Integer(required=True)


class EyesSchema(Answer):
    """Who looked before, dated."""

    as_of = fields.Integer(required=True)
    looked = fields.Integer(required=True)
    eyes = fields.List(fields.Nested(EyesThereSchema), required=True)
