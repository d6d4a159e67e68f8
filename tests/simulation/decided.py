# SPDX-License-Identifier: Apache-2.0
"""What must hold of a batch whatever was recorded: recording decides nothing, a grant does."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence

from tallywright.folds.bench import BenchState, fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.records.asked import (
    HoldLiftRequestedV1,
    ReleaseRequestedV1,
    RequestDeclinedV1,
    RequestGrantedV1,
    RequestSecondedV1,
)
from tallywright.records.bench import RecordWithdrawnV1
from tallywright.records.decode import Record
from tallywright.records.definition import PartDefinition

SEVERE = {"reject", "locked"}


def decided_wrongly(
    records: Sequence[Record], proven: Mapping[str, str], definitions: Mapping[str, PartDefinition]
) -> Iterator[str]:
    """Say what the fold of a batch takes for decided that nobody decided."""
    gathered = Gathered(records, proven)
    state = fold_bench(gathered, definitions)
    yield from _without_a_grant(records, proven, definitions)
    yield from _taken_back_by_another(gathered)
    yield from _lifted_by_nobody(gathered, state)
    yield from _release_covers_other_than_it_saw(gathered, state)
    yield from _declined_requests_change_something(records, proven, definitions, state)


def _without_a_grant(
    records: Sequence[Record], proven: Mapping[str, str], definitions: Mapping[str, PartDefinition]
) -> Iterator[str]:
    """Observations and requests alone lift no hold, release nothing, and make no severe mark mild."""
    gathered = Gathered([one for one in records if not isinstance(one.body, RequestGrantedV1)], proven)
    state = fold_bench(gathered, definitions)
    yield from (f"{hold.id} is lifted without a grant" for hold in state.holds.holds if hold.lifted_by)
    yield from (f"{one.request} releases without a grant" for one in state.releases)
    verdicts = {(one.look, one.piece): one for one in state.verdicts}
    for mark in state.tally.counted():
        if mark.weight not in ("critical", "major"):
            continue
        verdict = verdicts[mark.look, mark.piece]
        round_ = getattr(gathered.known[mark.id].body, "round", 1)
        if isinstance(round_, int) and round_ != verdict.round:
            continue  # looked at again behind a rework
        if verdict.verdict not in SEVERE:
            yield f"{mark.id} is {mark.weight} and its piece {verdict.verdict} without a grant"


def _taken_back_by_another(gathered: Gathered) -> Iterator[str]:
    """A record is dead by its own author's word only: the same sign-on, or one that is proven to be the same's."""
    for name in gathered.dead:
        target = str(gathered.known[name].envelope.sign_on)
        own = {target} | {one for one, person in gathered.proven.items() if person == gathered.proven.get(target)}
        if not any(
            isinstance(one.body, RecordWithdrawnV1) and one.body.record == name and str(one.envelope.sign_on) in own
            for one in gathered.known.values()
        ):
            yield f"{name} was taken back by another"


def _lifted_by_nobody(gathered: Gathered, state: BenchState) -> Iterator[str]:
    """A hold is lifted by a request that names it, and that the server granted."""
    granted = {one.body.request for one in gathered.known.values() if isinstance(one.body, RequestGrantedV1)}
    for hold in state.holds.holds:
        request = gathered.known.get(hold.lifted_by)
        if hold.lifted_by and (
            hold.lifted_by not in granted
            or request is None
            or not isinstance(request.body, HoldLiftRequestedV1)
            or hold.id not in request.body.holds
        ):
            yield f"{hold.id} is lifted by {hold.lifted_by}, which nobody granted for it"


def _release_covers_other_than_it_saw(gathered: Gathered, state: BenchState) -> Iterator[str]:
    """Every record that counts is covered by what a release had seen, or late; never both, never neither."""
    for release in state.releases:
        body = gathered.known[release.request].body
        assert isinstance(body, ReleaseRequestedV1)
        late = []
        for record in gathered.counting:
            chain, n = record.id.split(":")
            upto = [one.n for one in body.seen if one.chain == chain]
            if not upto or int(n) > min(upto):
                late.append(record.id)
        if sorted(late) != sorted(release.late):
            yield f"{release.request} calls {release.late} late, and {late} is"


def _declined_requests_change_something(
    records: Sequence[Record],
    proven: Mapping[str, str],
    definitions: Mapping[str, PartDefinition],
    state: BenchState,
) -> Iterator[str]:
    """Without the declined requests, their second names and their answers a batch is the same."""
    declined = {one.id for one in state.holds.requests if one.state == "declined"}
    if not declined:
        return
    left = [
        one
        for one in records
        if one.id not in declined
        and not (
            isinstance(one.body, RequestDeclinedV1 | RequestSecondedV1 | RequestGrantedV1)
            and one.body.request in declined
        )
    ]
    other = fold_bench(Gathered(left, proven), definitions)
    if state.holds.holds != other.holds.holds:
        yield "a declined request changes a hold"
    for name in ("tally", "verdicts", "ledger", "looks", "coverage", "limits", "releases"):
        if getattr(state, name) != getattr(other, name):
            yield f"a declined request changes the {name}"
