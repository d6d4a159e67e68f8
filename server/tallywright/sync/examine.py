# SPDX-License-Identifier: Apache-2.0
"""Look at the lines of a push outside any transaction: read, check, hash, and find out what is vouched for."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

import msgspec

from tallywright.errors import BodyCut, Misplaced, NotYours, RefusedRecord, UnknownDevice, Unvouched
from tallywright.records.decode import Record, decode, sha256
from tallywright.records.kinds import SERVER_KINDS
from tallywright.records.signature import is_signed, run_text


@dataclass(frozen=True, slots=True)
class Run:
    """An unbroken stretch of one chain in a push, and the device's signature at its end."""

    chain: str
    first: int
    last: int
    signature: str


@dataclass(slots=True)
class Candidate:
    """One line of a push: the place it was sent for, its bytes, and its record or why it is none.

    previous  the hash it names for the record before it, readable even in some lines that are no record
    vouched   a valid signature leads to these bytes
    signed    and it is of the device that the record names, whatever else keeps the line from its place
    """

    n: int
    line: bytes
    hash: str
    record: Record | None
    refused: RefusedRecord | None
    previous: str | None
    vouched: bool = False
    signed: bool = False


def split(runs: Sequence[Run], lines: Sequence[bytes]) -> list[tuple[Run, list[Candidate]]]:
    """Hand each line to the place it was sent for; raises BodyCut when lines and runs do not add up."""
    expected = sum(run.last - run.first + 1 for run in runs)
    if expected != len(lines):
        raise BodyCut(f"The push announces {expected} records and carries {len(lines)}.", expected=expected)
    parts, start = [], 0
    for run in runs:
        length = run.last - run.first + 1
        parts.append((run, [_look_at(run, run.first + i, lines[start + i]) for i in range(length)]))
        start += length
    return parts


def _look_at(run: Run, n: int, line: bytes) -> Candidate:
    try:
        record = decode(line)
    except RefusedRecord as reason:
        return Candidate(n, line, sha256(line), None, reason, _loose_previous(line))
    previous = record.envelope.previous
    named = "" if previous is msgspec.UNSET else previous
    if (record.envelope.chain, record.envelope.n) != (run.chain, n):
        elsewhere = Misplaced(f"The record says it is {record.id}, but it was sent as {run.chain}:{n}.")
        return Candidate(n, line, record.hash, None, elsewhere, named)
    return Candidate(n, line, record.hash, record, None, named)


def _loose_previous(line: bytes) -> str | None:
    """The `previous` of a line that is no record: enough to vouch for the bytes before it."""
    try:
        content = msgspec.json.decode(line)
    except (msgspec.DecodeError, UnicodeDecodeError, RecursionError):
        return None
    previous = content.get("previous") if isinstance(content, dict) else None
    return previous if isinstance(previous, str) else None


def device_of(candidates: Sequence[Candidate]) -> str | None:
    """The device a chain claims that the log does not know yet: the one its first readable record names."""
    return next((c.record.envelope.device for c in candidates if c.record is not None), None)


def vouch(
    run: Run, candidates: Sequence[Candidate], device: str | None, keys: Mapping[str, str], server_device: str
) -> None:
    """Follow the links from the signed end towards the first; mark what they reach, refuse the rest.

    A line is vouched for by the signature, or by a vouched line behind it that names its hash. So one changed
    byte takes away every line before it in the run, and none behind it. A chain's device must be enrolled, must
    be the one its records name, and may write the server's kinds only if it is the server.
    """
    key = None if device is None else keys.get(device)
    if device is None or key is None:
        for candidate in candidates:
            candidate.refused = UnknownDevice("No enrolment of this device is known here.")
        return
    expected = None
    last = candidates[-1]
    if is_signed(key, run_text(run.chain, run.last, last.hash), run.signature):
        expected = last.hash
    for candidate in reversed(candidates):
        candidate.vouched = expected == candidate.hash
        expected = candidate.previous if candidate.vouched else None
        if not candidate.vouched:
            # Whatever else is wrong with it: who sent it must not take other bytes than its own for arrived.
            candidate.refused = Unvouched("Nothing signed leads to these bytes.")
        elif candidate.record is not None:
            envelope = candidate.record.envelope
            candidate.signed = envelope.device == device
            if not candidate.signed:
                candidate.refused = NotYours("The record names another device than its chain.", member="device")
            elif envelope.kind in SERVER_KINDS and device != server_device:
                candidate.refused = NotYours(f"Only the server writes {envelope.kind}.", member="kind")


def disown(candidates: Sequence[Candidate], reason: RefusedRecord) -> None:
    """Set aside all of a run, whoever signed it. Of a revoked device: a thief's taps carry its signature too."""
    for candidate in candidates:
        candidate.vouched = False
        candidate.refused = reason
