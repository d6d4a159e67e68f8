# SPDX-License-Identifier: Apache-2.0
"""Understand when a check is due, as a team writes it into a cell: '3', '1 each 25', 'bar change', 'all', '-'."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import cast

from msgspec import UNSET

from tallywright.records.definition import CheckRule, Event

LARGEST = 999_999
# What a cell may call an event, in the singular; a plural ends in s or es.
EVENTS: dict[str, Event] = {
    "bag": "bag",
    "bar": "bar",
    "batch": "batch",
    "box": "box",
    "break": "break",
    "bundle": "bundle",
    "cast": "cast",
    "cavity": "cavity",
    "despatch": "despatch",
    "die": "die",
    "load": "load",
    "lot": "lot",
    "piece alarm": "alarm",
    "alarm": "alarm",
    "re-heat": "reheat",
    "remnant": "remnant",
    "shift": "shift",
    "stop": "stop",
    "tool": "tool",
    "tray": "tray",
}
# What happens where the column says it already: at the start, at the end, at the one thing that is there.
HERE = ("start", "last", "end of batch", "each", "each start")


def rule_of(cell: str) -> CheckRule | None:
    """Return the rule a cell says; None where it says none that is known. '-' and '' are no cells of a rule."""
    text = cell.lower().strip()
    for form, make in _FORMS:
        found = form.fullmatch(text)
        if found is not None:
            rule = make(found)
            return None if rule is None else _with_cell(rule, cell)
    return None


def _with_cell(rule: CheckRule, cell: str) -> CheckRule:
    return CheckRule(
        at=rule.at, cell=cell, pieces=rule.pieces, places=rule.places, every=rule.every, events=rule.events
    )


def _here(pieces: int, places: int = 1) -> CheckRule | None:
    if not 0 < pieces <= LARGEST or not 0 < places <= LARGEST:
        return None
    return CheckRule(
        at="events", cell="-", pieces=UNSET if pieces == 1 else pieces, places=UNSET if places == 1 else places
    )


def _at_event(words: str, pieces: int) -> CheckRule | None:
    events = [_event(word) for word in words.split("/")]
    if None in events or not 0 < pieces <= LARGEST:
        return None
    return CheckRule(
        at="events", cell="-", pieces=UNSET if pieces == 1 else pieces, events=cast(list[Event], events)
    )


def _event(word: str) -> Event | None:
    word = word.strip()
    return EVENTS.get(word) or EVENTS.get(word.removesuffix("es")) or EVENTS.get(word.removesuffix("s"))


def _every(pieces: int, every: int) -> CheckRule | None:
    if not 0 < pieces <= every <= LARGEST:
        return None
    return CheckRule(at="pieces", cell="-", pieces=UNSET if pieces == 1 else pieces, every=every)


def _minutes(every: int) -> CheckRule | None:
    return CheckRule(at="minutes", cell="-", every=every) if 0 < every <= LARGEST else None


N = r"([0-9]{1,6})"
# Behind a number of pieces may stand how they are looked at: '1 etched + 5 looked'. The words are for people.
DONE = r"(?: [a-z]+)?"
NOUN = r"([a-z/\- ]+?)"
AFTERWARDS = r"(?:[:,] .*)?"  # '5 per load: 4 corners + centre'
_Make = Callable[[re.Match[str]], CheckRule | None]
_FORMS: list[tuple[re.Pattern[str], _Make]] = [
    (re.compile(r"all|each piece"), lambda _: CheckRule(at="each_piece", cell="-")),
    (re.compile(r"continuous"), lambda _: CheckRule(at="logger", cell="-")),
    (re.compile("|".join(HERE)), lambda _: _here(1)),
    (re.compile(rf"each {N} min"), lambda found: _minutes(int(found[1]))),
    (re.compile(rf"{N} (?:each|per) {N}"), lambda found: _every(int(found[1]), int(found[2]))),
    (re.compile(rf"{N} (?:bars?|pieces?) x {N} (?:places?|points?)"), lambda f: _here(int(f[1]), int(f[2]))),
    (re.compile(rf"{N}(?: bars?| pieces?)?"), lambda found: _here(int(found[1]))),
    (re.compile(rf"{N}{DONE} \+ {N}{DONE}"), lambda found: _here(int(found[1]) + int(found[2]))),
    (
        re.compile(rf"{N} per {NOUN}(?: change)?{AFTERWARDS}"),
        lambda found: _at_event(found[2], int(found[1])),
    ),
    (re.compile(rf"{N} etched"), lambda found: _here(int(found[1]))),
    (re.compile(rf"(?:each|every|all|after) {NOUN}(?: change)?"), lambda found: _at_event(found[1], 1)),
    (re.compile(rf"{NOUN}(?: change)?"), lambda found: _at_event(found[1], 1)),
]
