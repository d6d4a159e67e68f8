# SPDX-License-Identifier: Apache-2.0
"""Write tests/vectors/receipts; what is expected stands here by hand.

Run `python -m tests.server.folds.write_receipt_vectors` in the repository's root.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import msgspec

from tests.server.folds.gate import INSIDE, MATERIALS, Gate

FOLDER = Path(__file__).parents[2] / "vectors" / "receipts"


def hold(name: str, cause: str, lifted_by: str = "", taken_back: bool = False) -> dict[str, Any]:
    return {
        "id": name,
        "cause": cause,
        "piece": "",
        "look": "",
        "lifted_by": lifted_by,
        "cause_withdrawn": taken_back,
    }


def agreed_then_cut() -> tuple[Gate, Any]:
    """Certificate ok, cast mark read, then cut: no hold. The certificate writes the cast with a blank."""
    gate = Gate()
    receipt = gate.receive(stated=12)
    certificate = gate.certificate(receipt)
    mark = gate.mark(receipt)
    gate.issue(receipt)
    ok = [
        {"element": "Si", "value": "0.95", "limit": "0.70..1.20", "verdict": "ok"},
        {"element": "Fe", "value": "0.31", "limit": "..0.45", "verdict": "ok"},
        {"element": "Mg", "value": "0.8", "limit": "0.55..1.1", "verdict": "ok"},
    ]
    return gate, {
        "receipts": {
            receipt: {
                "cast": "C-4711",
                "alloy": "Skarv 60",
                "temper": "T6",
                "counted": 12,
                "difference": 0,
                "files": [],
                "certificates": [
                    {"id": certificate, "verdict": "ok", "names_cast": True, "findings": ok, "proven": True}
                ],
                "marks": [{"id": mark, "bars": 12, "agrees": True, "proven": True}],
                "state": "agrees",
            }
        },
        "holds": [],
    }


def counted_short() -> tuple[Gate, Any]:
    """Twelve were counted, fifteen stand on the note."""
    gate = Gate()
    receipt = gate.receive(stated=15)
    return gate, {"receipts": {receipt: {"counted": 12, "difference": -3, "state": "waits"}}, "holds": []}


def cut_before_anything() -> tuple[Gate, Any]:
    """Cut before anybody said anything; what agrees later lifts nothing."""
    gate = Gate()
    receipt = gate.receive()
    issue = gate.issue(receipt)
    gate.certificate(receipt)
    gate.mark(receipt)
    return gate, {"receipts": {receipt: {"state": "agrees"}}, "holds": [hold(issue, "early")]}


def cut_unseen() -> tuple[Gate, Any]:
    """All agreed at goods-in, but whoever cut had not heard of it: it was cut on nobody's word."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt)
    gate.mark(receipt)
    issue = gate.issue(receipt, seen="b")
    return gate, {"receipts": {receipt: {"state": "agrees"}}, "holds": [hold(issue, "early")]}


def one_out_one_missing() -> tuple[Gate, Any]:
    """Iron is above its limit and magnesium is not printed; cut all the same."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt, Si="0.95", Fe="0.46")
    gate.mark(receipt)
    issue = gate.issue(receipt)
    findings = [
        {"element": "Si", "value": "0.95", "limit": "0.70..1.20", "verdict": "ok"},
        {"element": "Fe", "value": "0.46", "limit": "..0.45", "verdict": "above"},
        {"element": "Mg", "value": "", "limit": "0.55..1.1", "verdict": "missing"},
    ]
    expect = {"certificates": [{"verdict": "out", "findings": findings}], "state": "differs"}
    return gate, {"receipts": {receipt: expect}, "holds": [hold(issue, "early")]}


def out_after_the_cut() -> tuple[Gate, Any]:
    """A second certificate is out behind the cut: a hold called by it, though the first was ok."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt)
    gate.mark(receipt)
    gate.issue(receipt)
    late = gate.certificate(receipt, **{**INSIDE, "Mg": "1.16"})
    return gate, {"receipts": {receipt: {"state": "differs"}}, "holds": [hold(late, "metal")]}


def rounded_to_the_limit() -> tuple[Gate, Any]:
    """1.15 is 1.2 at one decimal and above 1.1, half to even; 1.149 is 1.1 and inside."""
    gate = Gate()
    receipt, other = gate.receive(), gate.receive("C-4712")
    gate.certificate(receipt, **{**INSIDE, "Mg": "1.15"})
    gate.certificate(other, cast="c.4712", **{**INSIDE, "Mg": "1.149"})
    return gate, {
        "receipts": {
            receipt: {"certificates": [{"verdict": "out"}], "state": "differs"},
            other: {"certificates": [{"verdict": "ok"}], "state": "waits"},
        },
        "holds": [],
    }


def taken_back_after_the_cut() -> tuple[Gate, Any]:
    """The certificate the cut stood on is taken back: a hold called by the taking back."""
    gate = Gate()
    receipt = gate.receive()
    certificate = gate.certificate(receipt)
    gate.mark(receipt)
    gate.issue(receipt)
    back = gate.take_back(certificate, receipt)
    return gate, {"receipts": {receipt: {"certificates": [], "state": "waits"}}, "holds": [hold(back, "metal")]}


def mistyped_before_the_cut() -> tuple[Gate, Any]:
    """A certificate was mistyped, taken back and typed again before the cut: no hold."""
    gate = Gate()
    receipt = gate.receive()
    odd = gate.certificate(receipt, **{**INSIDE, "Fe": "3.1"})
    gate.take_back(odd, receipt)
    gate.certificate(receipt)
    gate.mark(receipt)
    gate.issue(receipt)
    return gate, {"receipts": {receipt: {"state": "agrees"}}, "holds": []}


def mistyped_after_the_cut() -> tuple[Gate, Any]:
    """A certificate that was out came behind the cut and was taken back: the hold stands, cause withdrawn."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt)
    gate.mark(receipt)
    gate.issue(receipt)
    odd = gate.certificate(receipt, **{**INSIDE, "Fe": "3.1"})
    gate.take_back(odd, receipt)
    return gate, {"receipts": {receipt: {"state": "agrees"}}, "holds": [hold(odd, "metal", taken_back=True)]}


def lifted_and_then_out() -> tuple[Gate, Any]:
    """A hold that was lifted stays lifted; what is learnt later is a new one."""
    gate = Gate()
    receipt = gate.receive()
    issue = gate.issue(receipt)
    request = gate.lift(issue)
    odd = gate.mark(receipt, agrees=False)
    return gate, {
        "receipts": {receipt: {"state": "differs"}},
        "holds": sorted([hold(issue, "early", request), hold(odd, "metal")], key=lambda one: one["id"]),
    }


def mark_names_another() -> tuple[Gate, Any]:
    """The certificate is ok and the bar ends name another cast."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt)
    gate.mark(receipt, agrees=False)
    issue = gate.issue(receipt)
    return gate, {"receipts": {receipt: {"state": "differs"}}, "holds": [hold(issue, "early")]}


def certificate_names_another() -> tuple[Gate, Any]:
    """Every element is inside, and the certificate is another cast's."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt, cast="C-4712")
    gate.mark(receipt)
    issue = gate.issue(receipt)
    out = {"certificates": [{"verdict": "out", "names_cast": False}], "state": "differs"}
    return gate, {"receipts": {receipt: out}, "holds": [hold(issue, "early")]}


def nobody_is_proven() -> tuple[Gate, Any]:
    """What speaks for a receipt counts only from somebody who is proven; what speaks against it from anybody."""
    gate = Gate()
    receipt, other = gate.receive(), gate.receive("C-4712")
    gate.certificate(receipt, by="c")
    gate.mark(receipt, by="c")
    issue = gate.issue(receipt)
    gate.mark(other, by="c", agrees=False)
    return gate, {
        "receipts": {receipt: {"state": "waits"}, other: {"state": "differs"}},
        "holds": [hold(issue, "early")],
    }


def no_limits() -> tuple[Gate, Any]:
    """Without limits nothing is judged, and so nothing agrees."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt, limits="")
    gate.mark(receipt)
    issue = gate.issue(receipt)
    unjudged = {"certificates": [{"verdict": "unjudged", "findings": []}], "state": "waits"}
    return gate, {"receipts": {receipt: unjudged}, "holds": [hold(issue, "early")]}


def less_than_decides_nothing() -> tuple[Gate, Any]:
    """'<0.9' may be above 0.55 or below it."""
    gate = Gate()
    receipt = gate.receive()
    gate.certificate(receipt, **{**INSIDE, "Mg": "<0.9"})
    finding = {"element": "Mg", "value": "<0.9", "limit": "0.55..1.1", "verdict": "undecided"}
    return gate, {
        "receipts": {receipt: {"certificates": [{"verdict": "out", "findings": [{}, {}, finding]}]}},
        "holds": [],
    }


def another_takes_back() -> tuple[Gate, Any]:
    """Nobody takes back what somebody else read."""
    gate = Gate()
    receipt = gate.receive()
    odd = gate.mark(receipt, agrees=False)
    gate.take_back(odd, receipt, by="b")
    return gate, {"receipts": {receipt: {"marks": [{"id": odd}], "state": "differs"}}, "holds": []}


def issue_taken_back() -> tuple[Gate, Any]:
    """The issue was taken back: its hold stands all the same."""
    gate = Gate()
    receipt = gate.receive()
    issue = gate.issue(receipt)
    gate.take_issue_back(issue)
    return gate, {"receipts": {receipt: {"state": "waits"}}, "holds": [hold(issue, "early", taken_back=True)]}


CASES: list[Callable[[], tuple[Gate, Any]]] = [
    agreed_then_cut,
    another_takes_back,
    certificate_names_another,
    counted_short,
    cut_before_anything,
    cut_unseen,
    issue_taken_back,
    less_than_decides_nothing,
    lifted_and_then_out,
    mark_names_another,
    mistyped_after_the_cut,
    mistyped_before_the_cut,
    no_limits,
    nobody_is_proven,
    one_out_one_missing,
    out_after_the_cut,
    rounded_to_the_limit,
    taken_back_after_the_cut,
]


def main() -> None:
    """Write one file a case."""
    FOLDER.mkdir(exist_ok=True)
    for make in CASES:
        gate, expect = make()
        case = {
            "says": make.__doc__,
            "materials": {name: msgspec.to_builtins(one) for name, one in MATERIALS.items()},
            "proven": gate.proven,
            "batch": gate.batch,
            "records": [record.line.decode() for record in gate.records],
            "expect": expect,
        }
        text = json.dumps(case, indent=1, ensure_ascii=False) + "\n"
        (FOLDER / f"{make.__name__}.json").write_text(text, encoding="utf-8")


if __name__ == "__main__":
    main()
