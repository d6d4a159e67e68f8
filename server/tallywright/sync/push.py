# SPDX-License-Identifier: Apache-2.0
"""Take a push: examine outside the transaction; inside, find each line's place, append, refold, answer."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field, replace

from msgspec import UNSET
from sqlalchemy import Connection, Engine

from tallywright.access.devices import public_keys, revoked
from tallywright.access.sealing import SealingKeys
from tallywright.db import reading, writing
from tallywright.errors import NotYours, NumberTaken, RefusedRecord, RevokedDevice, Unvouched
from tallywright.log.append import append, newest_number, put_aside
from tallywright.log.chains import (
    Head,
    advance,
    held_lines,
    held_numbers,
    is_kept,
    read_heads,
    stretches,
    write_head,
)
from tallywright.log.own_chain import OwnChain, Witness
from tallywright.projections.asked import standing_on
from tallywright.projections.publish import undefined_batches
from tallywright.projections.refold import refold
from tallywright.records.decode import Record, sha256
from tallywright.records.decode import read as read_record
from tallywright.records.kinds import DefinitionPublishedV1
from tallywright.records.people import SignOnJudgedV1
from tallywright.sync.crossing import say_crossed
from tallywright.sync.epoch import begin_epoch, is_rolled_back
from tallywright.sync.examine import Candidate, Run, device_of, disown, split, vouch
from tallywright.sync.judge import Enclosure, judge, keep_sealed
from tallywright.sync.judge_requests import judge_requests


@dataclass(frozen=True, slots=True)
class MarkedChain:
    """How far a chain is held: the mark, stretches behind a gap, and how far a verified copy holds it too."""

    chain: str
    n: int
    hash: str
    held: list[tuple[int, int]]
    safe: int


@dataclass(frozen=True, slots=True)
class Refused:
    """One line that was not stored."""

    chain: str
    n: int
    reason: RefusedRecord


@dataclass(frozen=True, slots=True)
class Answered:
    """A record that its tablet takes for kept here, stored or set aside."""

    chain: str
    n: int
    hash: str


@dataclass
class PushAnswer:
    """What a push did: newest number of the log, marks, the lines that were not stored, and what it has lost."""

    epoch: str = ""
    newest: int = 0
    marks: list[MarkedChain] = field(default_factory=list)
    exceptions: list[Refused] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)


def push(
    engine: Engine,
    own: OwnChain,
    keys: SealingKeys,
    runs: Sequence[Run],
    lines: Sequence[bytes],
    asked: Sequence[str],
    enclosures: Sequence[Enclosure] = (),
    answered: Sequence[Answered] = (),
) -> PushAnswer:
    """Store what can be stored, set aside the rest, and say how far each chain is held.

    runs    stretches of chains, in the order of the lines
    lines   the records' bytes
    asked   further chains whose marks are wanted
    enclosures  sealed PINs that travel beside their sign-ons; judged before the answer
    answered  what a tablet was answered for, one record a chain: a log that was put back has it no more
    raises  BodyCut, NotReady, StoreFull: nothing of the push was kept then
    """
    parts = split(runs, lines)
    with reading(engine) as connection:
        heads = read_heads(connection, [run.chain for run in runs])
        devices = {
            run.chain: heads[run.chain].device if run.chain in heads else device_of(candidates)
            for run, candidates in parts
        }
        named = [device for device in devices.values() if device]
        enrolled, lost = public_keys(connection, named), revoked(connection, named)
        server_device = own.device(connection)
        ours = {chain for chain, device in devices.items() if device == server_device}
        in_use = own.name(connection) if ours else ""
        witnesses = [
            Witness(run.chain, run.last, candidates[-1].hash, run.signature)
            for run, candidates in parts
            if run.chain == in_use
        ]
        # A line of the chain it writes to that its log has not proves what a head would: the log was put back.
        proofs = [one for one in witnesses if is_rolled_back(connection, own, one)]
    for proof in proofs:
        begin_epoch(engine, own, proof)
    for run, candidates in parts:
        vouch(run, candidates, devices[run.chain], enrolled, server_device)
        if devices[run.chain] in lost:
            disown(candidates, RevokedDevice("The device that made this was revoked."))
    answer = PushAnswer()
    if not parts and not enclosures:
        with reading(engine) as connection:
            _say_where_we_stand(connection, own, asked, answered, answer)
        judge_requests(engine, own)  # a worker may have ended between a push and its judgement
        return answer
    with writing(engine) as connection:
        now = own.clock.now_ms()
        added: list[Record] = []
        back = {chain for chain in ours if own.takes_back(connection, chain)}
        for run, candidates in parts:
            is_closed = run.chain in ours - back
            added += _take_run(connection, run, candidates, devices[run.chain], is_closed, now, answer)
        touched = {record.subject for record in added}
        if back:
            touched |= _read_by(connection, [record for record in added if record.envelope.chain in back])
        refold(connection, touched, {record.line: record for record in added})
        say_crossed(connection, own)
        is_unjudged = keep_sealed(connection, enclosures, now)
        _say_where_we_stand(connection, own, [*asked, *(run.chain for run in runs)], answered, answer)
    if is_unjudged:
        judge(engine, own, keys)
    judge_requests(engine, own)
    return answer


def _read_by(connection: Connection, returned: Sequence[Record]) -> set[str]:
    """Return what waited for records of the server that are back: whose sign-ons they prove, what they define."""
    judged = [one.body.sign_on for one in returned if isinstance(one.body, SignOnJudgedV1)]
    read = {subject for sign_on in judged for subject in standing_on(connection, sign_on)}
    if any(isinstance(one.body, DefinitionPublishedV1) for one in returned):
        read |= set(undefined_batches(connection))
    return read


def _take_run(
    connection: Connection,
    run: Run,
    candidates: Sequence[Candidate],
    device: str | None,
    is_closed: bool,
    now: int,
    answer: PushAnswer,
) -> list[Record]:
    """Store one run's records and move its chain's mark; returns those that are new.

    is_closed  the server writes this chain: nothing new is taken up from others, it would stand in the way
    """
    head = read_heads(connection, [run.chain]).get(run.chain)
    if head is not None and head.device != device:
        for candidate in candidates:
            candidate.vouched = candidate.signed = False
            candidate.refused = NotYours("Another device holds this chain.", member="device")
    head = head or Head(run.chain, device or "")
    new = _find_places(connection, run, candidates, head)
    if is_closed:
        disown(new, NotYours("The server writes this chain itself.", member="chain"))
        new = []
    records = [candidate.record for candidate in new if candidate.record is not None and not candidate.refused]
    not_storable = append(connection, records, now)
    for candidate in candidates:
        if candidate.record is not None and candidate.record.id in not_storable:
            candidate.refused = not_storable[candidate.record.id]
        if candidate.refused is not None:
            _set_aside(connection, run, candidate, now)
            answer.exceptions.append(Refused(run.chain, candidate.n, candidate.refused))
    held = [candidate for candidate in new if candidate.vouched]
    if held:
        write_head(connection, _moved(connection, head, run, candidates, held))
    return [record for record in records if record.id not in not_storable]


def _find_places(connection: Connection, run: Run, candidates: Sequence[Candidate], head: Head) -> list[Candidate]:
    """Return the candidates that fill a free place; those that cannot get their reason.

    A place is free when nothing is held at its number, what is held before it is what it names, and what is
    held behind it names these bytes; a line that hides what it names is taken at its signature's word. The same
    bytes again are known, and get the same answer as before.
    """
    held = {}
    if head.newest_n >= run.first - 1:
        held = held_lines(connection, run.chain, run.first - 1, run.last + 1)
    hashes = {n: sha256(line) for n, line in held.items()}
    new = []
    for candidate in candidates:
        n = candidate.n
        if hashes.get(n) == candidate.hash:
            if isinstance(candidate.refused, Unvouched | RevokedDevice):
                candidate.refused = None  # what is held needs nobody to vouch for it again
            continue
        if not candidate.vouched:
            continue
        before, behind = hashes.get(n - 1), _previous_of(held.get(n + 1))
        if n in hashes:
            candidate.refused = NumberTaken("Other bytes are held under this number.", number=n)
        elif before is not None and candidate.previous not in (before, None):
            candidate.refused = NumberTaken("The record continues other bytes than are held.", number=n - 1)
        elif behind is not None and behind != candidate.hash:
            candidate.refused = NumberTaken("The record held behind it names other bytes.", number=n + 1)
        else:
            hashes[n] = candidate.hash
            new.append(candidate)
            continue
        candidate.vouched = False
    return new


def _previous_of(line: bytes | None) -> str | None:
    if line is None:
        return None
    try:
        previous = read_record(line).envelope.previous
    except RefusedRecord:
        return None
    return None if previous is UNSET else previous


def _set_aside(connection: Connection, run: Run, candidate: Candidate, now: int) -> None:
    assert candidate.refused is not None  # noqa: S101 - the caller asked
    put_aside(
        connection,
        run.chain,
        candidate.n,
        candidate.line,
        candidate.hash,
        candidate.refused,
        candidate.vouched,
        candidate.signed,
        now,
    )


def _moved(
    connection: Connection, head: Head, run: Run, candidates: Sequence[Candidate], held: Sequence[Candidate]
) -> Head:
    """The head after a run: the mark goes over all that is held without a gap."""
    last = candidates[-1]
    gapless = held[0].n == head.mark_n + 1 and len(held) == held[-1].n - held[0].n + 1
    if gapless and head.newest_n == head.mark_n:
        mark = (held[-1].n, held[-1].hash)
    else:
        mark = advance(connection, head.chain, head.mark_n, head.mark_hash)
    head = replace(head, mark_n=mark[0], mark_hash=mark[1], newest_n=max(head.newest_n, held[-1].n))
    if last.vouched and run.last > head.signed_n:
        head = replace(head, signed_n=run.last, signature=run.signature)
    return head


def _say_where_we_stand(
    connection: Connection,
    own: OwnChain,
    names: Sequence[str],
    answered: Sequence[Answered],
    answer: PushAnswer,
) -> None:
    answer.epoch = own.epoch(connection)
    answer.newest = newest_number(connection)
    heads = read_heads(connection, names)
    for name in sorted(set(names)):
        head = heads.get(name, Head(name, ""))
        behind = [] if head.newest_n == head.mark_n else held_numbers(connection, name, head.mark_n)
        answer.marks.append(MarkedChain(name, head.mark_n, head.mark_hash, stretches(behind), head.safe_n))
    answer.lost = [one.chain for one in answered if not is_kept(connection, one.chain, one.n, one.hash)]
