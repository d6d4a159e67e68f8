# SPDX-License-Identifier: Apache-2.0
"""Bytes in, a record out: or the one reason why these bytes are none.

A record has one byte form only: RFC 8785 for objects, arrays, strings, booleans and integers within 2^53 - 1.
The form is checked by encoding the typed values again and comparing bytes: that also catches doubled
members, blanks, escapes that need not be, -0, floats, nulls and integers too large.
"""

from __future__ import annotations

import hashlib
import re
from typing import Any

import msgspec

from tallywright.errors import NotCanonical, TooLarge, Unreadable
from tallywright.records.bare_name import bare_name
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.envelope import (
    LARGEST_INTEGER,
    LONGEST_RECORD,
    Body,
    CheckedEnvelope,
    Envelope,
    NumberedEnvelope,
)
from tallywright.records.goods import BarEndsCollectedV1, ComponentsReceivedV1, MaterialReceivedV1
from tallywright.records.kinds import KINDS, Kind, SetAsideAdmittedV1, Sort, chain_of
from tallywright.records.people import SignOnJudgedV1
from tallywright.records.route import LoadOpenedV1, LotOpenedV1

DEEPEST = 32
# Broken UTF-8 and deep nesting leave msgspec as errors of Python's own.
UNREADABLE = (msgspec.DecodeError, UnicodeDecodeError, RecursionError)
# What these bring into being is a subject of its own.
RECEIPTS = (MaterialReceivedV1, ComponentsReceivedV1)
OPENING = (BatchOpenedV1, LoadOpenedV1, LotOpenedV1, BarEndsCollectedV1, *RECEIPTS)
# What every tablet gets of goods: a receipt is no batch's, and whoever saws has to know of its certificate. No look
# bears this name.
GOODS = "@goods"
# The same of gauges: whoever measures has to know which one is in doubt.
GAUGES = "@gauges"
FOR_EVERY_TABLET = (GOODS, GAUGES)
MEMBER_NAME = re.compile(r"^[a-z][a-z0-9_]*(?![\s\S])")


class Record(msgspec.Struct, frozen=True, gc=False):
    """A record as the rooms above use it. `body` is None for a kind or version not known here."""

    id: str
    line: bytes
    envelope: Envelope
    body: Body | None
    subject: str
    look: str

    @property
    def hash(self) -> str:
        """SHA-256 of the bytes; worked out at each call, since most readers never ask."""
        return sha256(self.line)


_envelope = msgspec.json.Decoder(Envelope)
_numbered_envelope = msgspec.json.Decoder(NumberedEnvelope)
_checked_envelope = msgspec.json.Decoder(CheckedEnvelope)
# What records of one tray have in common, as far as it was held to its forms: patterns cost most of a reading.
_passed: set[tuple[str | msgspec.UnsetType, ...]] = set()
MOST_PASSED = 4096
_bodies = {key: msgspec.json.Decoder(kind.body) for key, kind in KINDS.items()}
_encode = msgspec.json.Encoder(order="sorted").encode


def sha256(line: bytes) -> str:
    """Return the hash of a record's bytes as 64 hexadecimal digits."""
    return hashlib.sha256(line).hexdigest()


def decode(line: bytes) -> Record:
    """Check a line in full and return its record.

    raises  TooLarge, Unreadable, NotCanonical; each says what was found
    """
    if len(line) > LONGEST_RECORD:
        raise TooLarge(f"The record is {len(line)} bytes long; {LONGEST_RECORD} is the most.", bytes=len(line))
    record = _read_checked(line)
    envelope, body = record.envelope, record.body
    if (envelope.n == 1) == (envelope.previous is not msgspec.UNSET):
        raise Unreadable("Only the first record of a chain has no previous.", member="previous")
    if body is None:
        content = _plain(envelope.body)
        _check_values(content, 0)
        canonical_body = _encode(content)
    else:
        _check_needs(envelope, KINDS[envelope.kind, envelope.v])
        canonical_body = _encode(body)
    if canonical_body != bytes(envelope.body) or _encode(envelope) != line:
        raise NotCanonical("The record can be read, but its bytes are not the canonical form.")
    # msgspec reads U+0000 where the form forbids it; the escape is rare enough for a slow second look.
    if b"\\u0000" in line:
        _check_values(_plain(line), 0)
    return record


def read(line: bytes) -> Record:
    """Return the record of bytes that were checked before, such as those in the log.

    raises  Unreadable
    """
    return _read(line, _envelope)


def _read_checked(line: bytes) -> Record:
    record = _read(line, _numbered_envelope)
    e = record.envelope
    repeated = (e.chain, e.device, e.time_zone, e.kind, e.sign_on, e.site, e.batch, e.definition)
    if repeated not in _passed:
        record = _read(line, _checked_envelope)
        if len(_passed) == MOST_PASSED:
            _passed.clear()
        _passed.add(repeated)
    return record


def _read(
    line: bytes,
    envelopes: msgspec.json.Decoder[Envelope]
    | msgspec.json.Decoder[NumberedEnvelope]
    | msgspec.json.Decoder[CheckedEnvelope],
) -> Record:
    try:
        envelope = envelopes.decode(line)
        decoder = _bodies.get((envelope.kind, envelope.v))
        body = None if decoder is None else decoder.decode(envelope.body)
        subject, look = _subject(envelope, body)
    except UNREADABLE as problem:
        raise Unreadable(f"The line is not a record: {problem}", problem=str(problem)[:200]) from problem
    return Record(envelope.id, line, envelope, body, subject, look)


def _plain(text: msgspec.Raw | bytes) -> Any:
    """The plain values of some JSON; a number too large for any is found here only, not in the envelope."""
    try:
        return msgspec.json.decode(text)
    except UNREADABLE as problem:
        raise Unreadable(f"The line is not a record: {problem}", problem=str(problem)[:200]) from problem


def _subject(envelope: Envelope, body: Body | None) -> tuple[str, str]:
    """What a record is about, and the look it belongs to: a batch, load, receipt, gauge, chain ('@name'), or the
    works ('').

    A kind that is not understood without a batch goes to everybody: passed on, never lost.
    """
    if isinstance(body, OPENING):
        return envelope.id, _look_of_opening(body)
    if isinstance(body, SignOnJudgedV1):
        return f"@{chain_of(body.sign_on)}", ""
    if isinstance(body, SetAsideAdmittedV1) and (within := _subject_within(envelope, body)) is not None:
        return within
    if envelope.batch is not msgspec.UNSET:
        content = msgspec.json.decode(envelope.body) if body is None else body
        look = content.get("look") if isinstance(content, dict) else getattr(content, "look", "")
        return envelope.batch, look if isinstance(look, str) else ""
    receipt = getattr(body, "receipt", None)
    if isinstance(receipt, str):
        return receipt, GOODS
    gauge = getattr(body, "gauge", None)
    if isinstance(gauge, str):
        return gauge_subject(gauge), GAUGES
    if body is None or KINDS[envelope.kind, envelope.v].sort is not Sort.OBSERVATION:
        return "", ""
    return f"@{envelope.chain}", ""


def gauge_subject(number: str) -> str:
    """Return the subject of what is said of a gauge: its number is a label of any length, however it is written."""
    return f"{GAUGES}.{sha256(bare_name(number).encode())[:40]}"


def _subject_within(envelope: Envelope, admission: SetAsideAdmittedV1) -> tuple[str, str] | None:
    """The subject of an admission that its line decides, as the line is called from then on; None for others."""
    inner = _inner(admission)
    if inner is not None and isinstance(inner.body, OPENING):
        return envelope.id, _look_of_opening(inner.body)
    if inner is None or envelope.batch is not msgspec.UNSET:
        return None
    if inner.look == GOODS:
        return {one.was: one.now for one in admission.names}.get(inner.subject, inner.subject), GOODS
    if inner.look == GAUGES:
        return inner.subject, GAUGES
    return f"@{inner.envelope.chain}", ""


def _look_of_opening(body: Body) -> str:
    return GOODS if isinstance(body, RECEIPTS) else ""


def _inner(body: SetAsideAdmittedV1) -> Record | None:
    """The record in an admitted line. The form of the admission does not depend on it: whoever folds it looks."""
    try:
        return _read(body.line.encode(), _envelope)
    except Unreadable:
        return None


def _check_needs(envelope: Envelope, kind: Kind) -> None:
    for member in kind.needs:
        if getattr(envelope, member) is msgspec.UNSET:
            raise Unreadable(f"A record of kind {envelope.kind} needs the member '{member}'.", member=member)


def _check_values(value: Any, depth: int) -> None:
    """Refuse what the canonical form has no place for, in a body whose kind is not known."""
    if depth > DEEPEST:
        raise NotCanonical(f"The record is nested deeper than {DEEPEST}.")
    if value is None or isinstance(value, float):
        raise NotCanonical("A record has no null and no number with a point or an exponent.")
    if isinstance(value, int) and abs(value) > LARGEST_INTEGER:
        raise NotCanonical("A number is larger than 2^53 - 1.")
    if isinstance(value, str) and "\x00" in value:
        raise NotCanonical("A text holds U+0000.")
    if isinstance(value, list):
        for entry in value:
            _check_values(entry, depth + 1)
    if isinstance(value, dict):
        for name, entry in value.items():
            if not MEMBER_NAME.match(name):
                raise NotCanonical(f"The member name '{name[:40]}' is not lower-case ASCII.")
            _check_values(entry, depth + 1)
