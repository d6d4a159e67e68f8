# SPDX-License-Identifier: Apache-2.0
"""Weigh what is asked about one batch, on what its asker had seen of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import UNSET
from sqlalchemy import Connection, and_, not_, or_, select

from tallywright.access.rules import REQUESTS
from tallywright.definitions.people import roles_of
from tallywright.definitions.published import parts
from tallywright.folds.check_outcome import Known, characteristics_of, outcome_of
from tallywright.folds.seen import SAY_NOTHING_NEW, Seen, counts, is_of_look
from tallywright.log.chains import read_heads
from tallywright.log.read import by_id
from tallywright.log.tables import records
from tallywright.projections.pages import differences
from tallywright.projections.release import against_release, is_in_doubt
from tallywright.projections.tables import finds, holds
from tallywright.records.admitted import unfold
from tallywright.records.asked import (
    DifferenceAcceptanceRequestedV1,
    DispositionRequestedV1,
    HoldLiftRequestedV1,
    ReleaseRequestedV1,
    RequestGrantedV1,
    RequestSecondedV1,
)
from tallywright.records.checks import CheckTakenV1
from tallywright.records.decode import Record, read
from tallywright.sync.weigh import Weighed, is_fresh, proven_person

# Observations of a batch that change nothing of what a request is judged by: which pieces are marked, with what,
# and what holds them. Any other kind counts as a change, so a new one does until it is named here.
SAY_NOTHING_OF_A_PIECE = SAY_NOTHING_NEW | frozenset(
    {
        "authorship_confirmed",
        "batch_opened",
        "check_missed",
        "components_counted",
        "load_filled",
        "lot_returned",
        "lot_sent",
        "operation_changed",
        "operation_finished",
        "operation_recounted",
        "operation_started",
        "pieces_counted",
        "pieces_made",
        "remnant_returned",
        "sample_taken",
        "tray_closed",
        "tray_opened",
    }
)
TWO_NAMES = ("critical", "early", "metal")  # causes of holds that one person alone does not lift
# What is told at a machine beside the counts of a stint: no difference of a look or of the route comes from it.
SAY_NOTHING_OF_A_COUNT = frozenset(
    {"check_missed", "check_taken", "operation_changed", "pieces_made", "reaction_taken"}
)
OF_A_BATCH = (HoldLiftRequestedV1, DispositionRequestedV1, DifferenceAcceptanceRequestedV1, ReleaseRequestedV1)


def seen_of(request: Record) -> dict[str, int]:
    """How far the asker had seen each chain; where a chain is named twice, the less counts."""
    return Seen(request.body.seen).upto if isinstance(request.body, OF_A_BATCH) else {}


def weigh_lift(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against a lift; a critical mark's hold, and one of the metal, needs a second name."""
    body = request.body
    assert isinstance(body, HoldLiftRequestedV1)  # noqa: S101 - chosen by its kind
    if _changed_since(connection, request):
        weighed.against.append("changed")
    of_batch = select(holds).where(holds.c.batch == request.subject)
    known = {row.hold: row for row in connection.execute(of_batch)}
    named = [known.get(name) for name in dict.fromkeys(body.holds)]
    if None in named:
        weighed.against.append("no_such_hold")
    if any(row is not None and row.lifted_by for row in named):
        weighed.against.append("lifted_already")
    two_names = any(row is not None and row.cause in TWO_NAMES for row in named)
    weighed.second_is_due = two_names and not _is_seconded(connection, request, weighed)


def weigh_disposition(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against a verdict on one piece."""
    body = request.body
    assert isinstance(body, DispositionRequestedV1)  # noqa: S101 - chosen by its kind
    if _changed_since(connection, request):
        weighed.against.append("changed")
    marked = select(finds.c.id).where(
        finds.c.batch == request.subject, finds.c.piece == body.piece, finds.c.look == body.look
    )
    if connection.execute(marked).first() is None:
        weighed.against.append("no_such_mark")
    locked = select(holds.c.hold).where(
        holds.c.batch == request.subject, holds.c.piece == body.piece, holds.c.lifted_by == ""
    )
    if body.verdict != "reject" and connection.execute(locked).first() is not None:
        weighed.against.append("on_hold")


def weigh_difference_acceptance(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against accepting a difference at just this amount; it needs a second name."""
    body = request.body
    assert isinstance(body, DifferenceAcceptanceRequestedV1)  # noqa: S101 - chosen by its kind
    look = "" if body.look is UNSET else body.look
    unseen = [one for one in _unseen(connection, request) if one.envelope.kind not in SAY_NOTHING_OF_A_COUNT]
    if any(not look or is_of_look(record, look) for record in unseen if counts(record)):
        weighed.against.append("changed")
    line = (look, body.difference, body.subject, body.amount)
    accepted_by = differences(connection, request.subject).get(line)
    if accepted_by is None:
        weighed.against.append("no_such_difference")
    elif accepted_by:
        weighed.against.append("accepted_already")
    weighed.second_is_due = not _is_seconded(connection, request, weighed)


def weigh_release(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against the release of a batch; it needs a second name, and every chain without a gap."""
    if any(map(counts, _unseen(connection, request))):
        weighed.against.append("changed")
    weighed.against += against_release(connection, request.subject)
    weighed.waits = is_in_doubt(connection, request.subject)
    weighed.second_is_due = not _is_seconded(connection, request, weighed)


def _unseen(connection: Connection, request: Record) -> Iterator[Record]:
    """Yield the records of the batch that the asker had not seen."""
    seen = [and_(records.c.chain == chain, records.c.n <= n) for chain, n in seen_of(request).items()]
    unseen = select(records.c.line).where(records.c.subject == request.subject, not_(or_(False, *seen)))
    for line in connection.scalars(unseen):
        yield unfold(read(line))


def _changed_since(connection: Connection, request: Record) -> bool:
    """True when something that can change the judgement was not seen, or another verdict was granted meanwhile."""
    unseen = list(_unseen(connection, request))
    named = {str(record.envelope.definition) for record in unseen if isinstance(record.body, CheckTakenV1)}
    plans = {name: characteristics_of(part) for name, part in parts(connection, named).items()}
    return any(_changes(connection, record, request, plans) for record in unseen)


def _changes(connection: Connection, record: Record, request: Record, plans: Mapping[str, Known]) -> bool:
    if isinstance(record.body, RequestGrantedV1):
        asked, granted = request.body, by_id(connection, record.body.request)
        other = None if granted is None else granted.body
        return (
            isinstance(asked, DispositionRequestedV1)
            and isinstance(other, DispositionRequestedV1)
            and (other.piece, other.look) == (asked.piece, asked.look)
        )
    if isinstance(record.body, CheckTakenV1):
        return _speaks_against(record.body, plans.get(str(record.envelope.definition), {}))
    # A kind that is not understood may be an observation: it counts.
    return counts(record) and record.envelope.kind not in SAY_NOTHING_OF_A_PIECE


def _speaks_against(check: CheckTakenV1, known: Known) -> bool:
    """True for a check that is not plainly good: out, beside an earlier one, or such that nobody can say.

    A good one only says that what goes on is as it was; it comes every few pieces while the machine runs.
    """
    characteristic = known.get((check.operation, check.characteristic))
    is_plain = check.repeats is UNSET and characteristic is not None
    return not is_plain or outcome_of(check, characteristic) not in ("good", "no_limit")


def _is_seconded(connection: Connection, request: Record, weighed: Weighed) -> bool:
    """True when another proven person who may has put a name to the request."""
    rule = REQUESTS[request.envelope.kind]
    of_batch = select(records.c.line).where(records.c.subject == request.subject, records.c.look == "")
    for record in map(read, connection.scalars(of_batch)):
        if not isinstance(record.body, RequestSecondedV1) or record.body.request != request.id:
            continue
        chain, n = record.envelope.chain, record.envelope.n
        person = proven_person(connection, record, Weighed(weighed.now, weighed.day))
        whole = read_heads(connection, [chain])[chain].mark_n >= n
        is_given = is_fresh(record) or not rule.fresh_pin
        if person is None or person == weighed.asker or not whole or not is_given:
            continue
        if rule.seconds & roles_of(connection, person, weighed.day):
            return True
    return False
