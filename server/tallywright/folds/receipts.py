# SPDX-License-Identifier: Apache-2.0
"""A receipt of bars: what was counted and stated, what its certificate says, and whether the cast mark agrees.

static/src/folds/receipts.ts is the same function; tests/vectors/receipts holds both to the same answers. A receipt
is no batch's: its state is asked as a whole, and as somebody had seen it before the first cut.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Literal

import msgspec
from msgspec import UNSET, UnsetType

from tallywright.computation.errors import ComputationError
from tallywright.computation.material import judge_certificate
from tallywright.folds.gathered import Gathered, author_of
from tallywright.folds.seen import Seen
from tallywright.records.bare_name import bare_name
from tallywright.records.bench import RecordWithdrawnV1, SeenChain
from tallywright.records.decode import Record
from tallywright.records.definition import ElementLimit, MaterialDefinition
from tallywright.records.goods import (
    CastMarkReadV1,
    CertificateAttachedV1,
    CertificateJudgedV1,
    MaterialReceivedV1,
)

Verdict = Literal["ok", "above", "below", "missing", "undecided"]
State = Literal["agrees", "waits", "differs"]


class ElementFinding(msgspec.Struct, frozen=True, gc=False):
    """One element: its value as printed, '' where it is missing, against 'lowest..highest' of the limits."""

    element: str
    value: str
    limit: str
    verdict: Verdict


class Certificate(msgspec.Struct, frozen=True, gc=False):
    """A certificate as somebody typed it.

    verdict    ok: every element is, and the cast is the receipt's; out: one is not; unjudged: no limits are known
    names_cast  it names the cast the receipt was received under
    proven     whoever typed it is proven
    """

    id: str
    verdict: Literal["ok", "out", "unjudged"]
    names_cast: bool
    findings: tuple[ElementFinding, ...]
    proven: bool


class CastMark(msgspec.Struct, frozen=True, gc=False):
    """Bar ends somebody read."""

    id: str
    bars: int
    agrees: bool
    proven: bool


class Receipt(msgspec.Struct, frozen=True):
    """A receipt of bars. What its author took back is not in it.

    counted     bars; 0 where the receipt itself is not held here, or was taken back
    difference  counted less stated; 0 where the note states nothing
    state       agrees: a certificate is ok, the cast mark agrees, and nothing speaks against it; differs: something
                does; waits: neither
    """

    cast: str
    alloy: str
    temper: str
    counted: int
    difference: int
    files: tuple[str, ...]
    certificates: tuple[Certificate, ...]
    marks: tuple[CastMark, ...]
    state: State


def fold_receipt(gathered: Gathered, materials: Mapping[str, MaterialDefinition]) -> Receipt:
    """Fold all records of one receipt, or those somebody had seen of it.

    materials  limits by the id of their publication; a certificate is held to those it names
    """
    received = next((body for _, body in gathered.of(MaterialReceivedV1)), None)
    proven = gathered.proven
    certificates = tuple(
        _certificate(record, body, received, materials.get(str(record.envelope.definition)), proven)
        for record, body in gathered.of(CertificateJudgedV1)
    )
    marks = tuple(
        CastMark(record.id, body.bars, body.agrees, (author_of(record) or "") in proven)
        for record, body in gathered.of(CastMarkReadV1)
    )
    stated: int | UnsetType = UNSET if received is None else received.stated
    counted = 0 if received is None else received.bars
    return Receipt(
        cast="" if received is None else received.cast,
        alloy="" if received is None else received.alloy,
        temper="" if received is None else received.temper,
        counted=counted,
        difference=0 if stated is UNSET else counted - stated,
        files=tuple(body.file for _, body in gathered.of(CertificateAttachedV1)),
        certificates=certificates,
        marks=marks,
        state="waits" if received is None else _state(certificates, marks),
    )


class Receipts:
    """The receipts a batch is made of, as its folds ask for them.

    records    of each receipt, by its id
    materials  limits by the id of their publication
    """

    def __init__(
        self,
        records: Mapping[str, Iterable[Record]],
        materials: Mapping[str, MaterialDefinition],
        proven: Mapping[str, str],
    ) -> None:
        self._records = {name: Gathered(found, proven) for name, found in records.items()}
        self._materials = materials
        self._proven = proven

    def agreed(self, receipt: str, seen: Iterable[SeenChain]) -> bool:
        """True where certificate and cast mark agreed in what somebody had seen of a receipt."""
        covered = Seen(seen)
        before = [record for record in self._of(receipt) if covered.covers(record.id)]
        return fold_receipt(Gathered(before, self._proven), self._materials).state == "agrees"

    def against(self, receipt: str, seen: Iterable[SeenChain]) -> list[tuple[str, bool]]:
        """Return what speaks against a receipt and was not seen, and whether its author took it back.

        A certificate that is out, a cast mark that names another cast, and the taking back of either of those that
        were seen and agreed: whoever cut stood on them.
        """
        covered = Seen(seen)
        gathered = self._records.get(receipt)
        if gathered is None:
            return []
        # Taken back or not, it was said: only a grant lifts what it holds.
        whole = fold_receipt(_as_said(gathered), self._materials)
        bad = {one.id for one in whole.certificates if one.verdict == "out"}
        bad |= {one.id for one in whole.marks if not one.agrees}
        good = ({one.id for one in whole.certificates} | {one.id for one in whole.marks}) - bad
        for record in gathered.known.values():
            body = record.body
            if not isinstance(body, RecordWithdrawnV1) or record.id in gathered.useless:
                continue
            if body.record in good and covered.covers(body.record):
                bad.add(record.id)
        learnt = [name for name in gathered.known if name in bad and not covered.covers(name)]
        return [(name, name in gathered.dead) for name in learnt]

    def _of(self, receipt: str) -> Iterable[Record]:
        gathered = self._records.get(receipt)
        return () if gathered is None else gathered.known.values()


NO_RECEIPTS = Receipts({}, {}, {})


def _as_said(gathered: Gathered) -> Gathered:
    """The same records as if nothing of them had been taken back."""
    said = [record for record in gathered.known.values() if not isinstance(record.body, RecordWithdrawnV1)]
    return Gathered(said, gathered.proven)


def _certificate(
    record: Record,
    body: CertificateJudgedV1,
    received: MaterialReceivedV1 | None,
    material: MaterialDefinition | None,
    proven: Mapping[str, str],
) -> Certificate:
    names_cast = received is None or same_cast(body.cast, received.cast)
    findings = () if material is None else judge(material, {one.element: one.value for one in body.values})
    verdict: Literal["ok", "out", "unjudged"] = "unjudged" if material is None else "ok"
    if not names_cast or any(finding.verdict != "ok" for finding in findings):
        verdict = "out"
    return Certificate(record.id, verdict, names_cast, findings, (author_of(record) or "") in proven)


def _state(certificates: tuple[Certificate, ...], marks: tuple[CastMark, ...]) -> State:
    """What speaks against it counts whoever said it; what speaks for it only from somebody who is proven."""
    if any(one.verdict == "out" for one in certificates) or any(not one.agrees for one in marks):
        return "differs"
    is_ok = any(one.verdict == "ok" and one.proven for one in certificates)
    return "agrees" if is_ok and any(one.proven for one in marks) else "waits"


def judge(material: MaterialDefinition, values: Mapping[str, str]) -> tuple[ElementFinding, ...]:
    """Hold what a certificate prints to the limits, element by element; '<' that decides nothing is undecided."""
    rounding = "half_even" if material.rounding is UNSET else material.rounding
    return tuple(_finding(limit, values, rounding) for limit in material.limits)


def _finding(
    limit: ElementLimit, values: Mapping[str, str], rounding: Literal["half_even", "half_up"]
) -> ElementFinding:
    low = None if limit.low is UNSET else limit.low
    high = None if limit.high is UNSET else limit.high
    value = values.get(limit.element, "")
    try:
        (found,) = judge_certificate(
            {limit.element: (low, high)}, {} if value == "" else {limit.element: value}, rounding
        )
    except ComputationError:
        return ElementFinding(limit.element, value, f"{low or ''}..{high or ''}", "undecided")
    return ElementFinding(limit.element, value, found.limit, found.verdict)


def same_cast(one: str, other: str) -> bool:
    """True for two ways to write one cast's name: blanks, points and dashes aside, small letters as large ones."""
    return bare_name(one) == bare_name(other)
