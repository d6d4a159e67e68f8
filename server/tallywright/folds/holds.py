# SPDX-License-Identifier: Apache-2.0
"""The holds of one batch, and the requests about it: what stands in the way, and what was asked and answered.

static/src/folds/holds.ts is the same function; tests/vectors/holds holds both to the same answers. Nothing but a
grant lifts a hold: no observation, no withdrawal, and no request alone.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from tallywright.folds.check_outcome import Known, characteristics_of, holds
from tallywright.folds.gathered import Gathered, order_of
from tallywright.folds.gauges import NO_GAUGES, Gauges
from tallywright.folds.receipts import NO_RECEIPTS, Receipts
from tallywright.folds.requests import Request, fold_requests
from tallywright.folds.tally import Classes
from tallywright.records.asked import HoldLiftRequestedV1
from tallywright.records.bench import DefectTalliedV1, HoldPlacedV1, LimitCrossedV1, PieceFoundV1
from tallywright.records.checks import CheckTakenV1
from tallywright.records.decode import Record
from tallywright.records.definition import NOT_SURE, PartDefinition
from tallywright.records.goods import BarsIssuedV1

Cause = Literal["critical", "placed", "found", "limit", "check", "early", "metal", "gauge"]


class Hold(msgspec.Struct, frozen=True, gc=False):
    """One hold, called by the record that causes it.

    cause            a critical mark, somebody's word, a late-found piece, a limit the server saw crossed,
                     a check out of its limits whose plan holds the batch; early: bars were cut before certificate
                     and cast mark agreed; metal: what was learnt of the receipt after its bars were cut; gauge: a
                     gauge was found wrong that values of the batch were taken with
    lifted_by        id of the granted request that names it; '' while it stands
    cause_withdrawn  the author took the cause back; the hold stands all the same
    """

    id: str
    cause: Cause
    piece: str
    look: str
    lifted_by: str
    cause_withdrawn: bool


class Holds(msgspec.Struct, frozen=True):
    """What stands in a batch's way, and what was asked about it; each by id."""

    holds: tuple[Hold, ...]
    requests: tuple[Request, ...]


def fold_holds(
    gathered: Gathered,
    definitions: Mapping[str, PartDefinition],
    receipts: Receipts = NO_RECEIPTS,
    gauges: Gauges = NO_GAUGES,
) -> Holds:
    """Fold all records of one batch.

    definitions  part definitions by the id of their publication; a mark is judged by the one it names
    receipts     what the batch is made of
    gauges       what it was measured with
    """
    requests = fold_requests(gathered)
    lifted: dict[str, str] = {}
    for request in requests:
        body = gathered.known[request.id].body
        if request.state == "granted" and isinstance(body, HoldLiftRequestedV1):
            for name in body.holds:
                lifted.setdefault(name, request.id)
    classes = Classes(definitions)
    # Most batches have no check out of its limits, and a plan has more than a hundred lines.
    checks = [record for record in gathered.known.values() if isinstance(record.body, CheckTakenV1)]
    judged_by = {str(record.envelope.definition) for record in checks}
    characteristics = {name: characteristics_of(definitions.get(name)) for name in judged_by}
    found = [
        Hold(record.id, *cause, lifted.get(record.id, ""), record.id in gathered.dead)
        for record in gathered.known.values()
        if (cause := _cause(record, definitions, classes, characteristics)) is not None
    ]
    found += _of_metal(gathered, receipts, lifted)
    wrong = gauges.wrong_in(gathered)
    found += [Hold(name, "gauge", "", "", lifted.get(name, ""), gone) for name, gone in wrong.items()]
    return Holds(holds=tuple(sorted(found, key=lambda hold: order_of(hold.id))), requests=requests)


def _of_metal(gathered: Gathered, receipts: Receipts, lifted: Mapping[str, str]) -> list[Hold]:
    """The holds of what was cut: by the issue of bars, and by each record that speaks against their receipt."""
    found = []
    learnt: dict[str, bool] = {}
    for record in gathered.known.values():
        body = record.body
        if not isinstance(body, BarsIssuedV1):
            continue
        is_dead = record.id in gathered.dead
        if not receipts.agreed(body.receipt, body.seen):
            found.append(Hold(record.id, "early", "", "", lifted.get(record.id, ""), is_dead))
        for name, taken_back in receipts.against(body.receipt, body.seen):
            learnt[name] = learnt.get(name, True) and (taken_back or is_dead)
    found += [Hold(name, "metal", "", "", lifted.get(name, ""), gone) for name, gone in learnt.items()]
    return found


def _cause(
    record: Record,
    definitions: Mapping[str, PartDefinition],
    classes: Classes,
    characteristics: Mapping[str, Known],
) -> tuple[Cause, str, str] | None:
    """Why a record is a hold, of which piece, in which look; None where it is none.

    A quick repeat holds nothing: the tap before it does.
    """
    body = record.body
    if isinstance(body, DefectTalliedV1):
        definition = str(record.envelope.definition)
        if body.defect == NOT_SURE or body.quick_repeat or definition not in definitions:
            return None
        if classes.of(definition, body) != "critical":
            return None
        return "critical", record.id if body.piece is UNSET else body.piece, body.look
    if isinstance(body, HoldPlacedV1):
        return "placed", _given(body.piece), _given(body.look)
    if isinstance(body, PieceFoundV1):
        return "found", "", _given(body.look)
    if isinstance(body, LimitCrossedV1):
        return "limit", "", body.look
    if isinstance(body, CheckTakenV1):
        known = characteristics.get(str(record.envelope.definition), {})
        if holds(body, known.get((body.operation, body.characteristic))):
            return "check", "", ""
    return None


def _given(value: str | UnsetType) -> str:
    return "" if value is UNSET else value
