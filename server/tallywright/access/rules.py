# SPDX-License-Identifier: Apache-2.0
"""One rule for every route and for every request. What is not listed is refused, and a test fails on it."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from tallywright.errors import NotAllowed


class Rule(StrEnum):
    """Who may call a route.

    ANYBODY    no session: the app itself, and what a tablet needs before it has one
    SIGNED     no session: everything in the body is vouched for by signatures, and judged by them
    ENROLLED   a session of an enrolled device
    DEMO       anybody, in a demo works only
    """

    ANYBODY = "anybody"
    SIGNED = "signed"
    ENROLLED = "enrolled"
    DEMO = "demo"


RULES: dict[str, Rule] = {
    "app.start_page": Rule.ANYBODY,
    "app.app_file": Rule.ANYBODY,
    "api-docs.openapi_json": Rule.ANYBODY,
    "works.Works": Rule.ANYBODY,
    "health.Health": Rule.ANYBODY,
    "health.Reach": Rule.ANYBODY,
    "enrolment.Enrolments": Rule.ANYBODY,
    "enrolment.AskedEnrolments": Rule.ANYBODY,
    "enrolment.FirstEnrolments": Rule.ANYBODY,
    "enrolment.DemoEnrolments": Rule.DEMO,
    "enrolment.Challenges": Rule.ANYBODY,
    "enrolment.Sessions": Rule.ANYBODY,
    "sync.Push": Rule.SIGNED,
    "sync.Pull": Rule.ENROLLED,
    "works.Batches": Rule.ENROLLED,
    "holds.Holds": Rule.ENROLLED,
    "goods.Receipts": Rule.ENROLLED,
    "gauges.Gauges": Rule.ENROLLED,
    "batch_pages.BatchPages": Rule.ENROLLED,
    "batch_pages.BatchPage": Rule.ENROLLED,
    "batch_pages.Eyes": Rule.ENROLLED,
    "set_aside.SetAside": Rule.ENROLLED,
    "pareto.Pareto": Rule.ENROLLED,
    "shift.Shift": Rule.ENROLLED,
    "machine_checks.MachineChecks": Rule.ENROLLED,
    "files.Files": Rule.ENROLLED,
    "files.Copies": Rule.ENROLLED,
    "files.Parts": Rule.ENROLLED,
    "devices.Devices": Rule.ENROLLED,
    "devices.EnrolmentCodes": Rule.ENROLLED,
    "devices.TurnedAway": Rule.ENROLLED,
    "people.PinWords": Rule.ENROLLED,
    "people.Pins": Rule.ENROLLED,
}

INSPECTORS = frozenset({"inspector"})
LEADS, ADMINISTRATORS, READERS = frozenset({"lead"}), frozenset({"administrator"}), frozenset({"reader"})

# Routes that need, besides the device's session, somebody signed on there with one of these roles. Sync needs
# nobody: a record is never kept from the server, nor a copy from the bench, because a PIN is not judged yet.
ROLES: dict[str, frozenset[str]] = {
    "holds.Holds": INSPECTORS | LEADS | ADMINISTRATORS | READERS,
    "goods.Receipts": LEADS | ADMINISTRATORS | READERS,
    "gauges.Gauges": LEADS | ADMINISTRATORS | READERS,
    "batch_pages.BatchPages": LEADS | ADMINISTRATORS | READERS,
    "batch_pages.BatchPage": LEADS | ADMINISTRATORS | READERS,
    # Of an earlier look the bench is told who looked, and never what was found.
    "batch_pages.Eyes": INSPECTORS | LEADS | ADMINISTRATORS,
    "set_aside.SetAside": LEADS | ADMINISTRATORS,
    "devices.Devices": ADMINISTRATORS,
    "devices.EnrolmentCodes": ADMINISTRATORS,
    "devices.TurnedAway": ADMINISTRATORS,
    "people.PinWords": ADMINISTRATORS,
    "pareto.Pareto": LEADS | ADMINISTRATORS | READERS,
    "shift.Shift": LEADS | ADMINISTRATORS | READERS,
    "machine_checks.MachineChecks": LEADS | ADMINISTRATORS | READERS,
}


def rule_of(route: str, demo: bool) -> Rule:
    """Return the rule of a route; raises NotAllowed for one without a rule, or a demo route elsewhere."""
    rule = RULES.get(route)
    if rule is None or (rule is Rule.DEMO and not demo):
        raise NotAllowed("This address is not open on this server.")
    return rule


@dataclass(frozen=True, slots=True)
class Asking:
    """Who may ask for something, whether for it alone a PIN is due, and who may put the second name to it."""

    asks: frozenset[str]
    fresh_pin: bool = False
    seconds: frozenset[str] = frozenset()


REQUESTS: dict[str, Asking] = {
    "hold_lift_requested": Asking(LEADS, fresh_pin=True, seconds=LEADS | INSPECTORS),
    "disposition_requested": Asking(LEADS),
    "difference_acceptance_requested": Asking(LEADS, seconds=LEADS | INSPECTORS),
    "release_requested": Asking(LEADS, fresh_pin=True, seconds=LEADS | INSPECTORS),
    "admission_requested": Asking(LEADS),
    "person_requested": Asking(ADMINISTRATORS),
    "enrolment_requested": Asking(ADMINISTRATORS),
    "revocation_requested": Asking(ADMINISTRATORS),
}
