# SPDX-License-Identifier: Apache-2.0
"""What a part definition must keep to besides its form, whichever way it came; each breach names its member."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from msgspec import UNSET, UnsetType

from tallywright.definitions.names import id_of, why_no_key
from tallywright.definitions.report import Lists
from tallywright.records.decimal import billionths
from tallywright.records.definition import NOT_SURE, CheckRule, DefectWord, PartDefinition

FEWEST_LOOKS_LOAD_BEARING = 2
Path = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class Breach:
    """A rule that a definition breaks.

    path      members and places in lists that lead to it
    names     the list it names an entry of that is not there, if that is the breach
    """

    path: Path
    reason: str
    names: Lists | None = None


def breaches(part: PartDefinition) -> list[Breach]:
    """Return every breach; a definition without one may be published."""
    return [*_looks(part), *_operations(part), *_zones(part), *_defects(part), *_limits(part), *_checks(part)]


def _looks(part: PartDefinition) -> Iterator[Breach]:
    yield from _twice(("looks",), part.looks, "look")
    # A part of which nobody says that it bears no load is treated as one that does.
    if part.load_bearing is not False and len(set(part.looks)) < FEWEST_LOOKS_LOAD_BEARING:
        yield Breach(
            ("looks",),
            f"A load-bearing part is looked at {FEWEST_LOOKS_LOAD_BEARING} times in full, or more; "
            f"{len(set(part.looks))} is too few. Name the looks, or say that the part bears no load.",
        )
    if not part.name:
        yield Breach(("name",), "The part has no name in any language.")
    if part.cavities is not UNSET:
        yield from _twice(("cavities",), part.cavities, "cavity")


def _operations(part: PartDefinition) -> Iterator[Breach]:
    operations = [] if part.operations is UNSET else part.operations
    yield from _twice(("operations",), [entry.operation for entry in operations], "operation", "operation")
    for place, entry in enumerate(operations):
        if not entry.words:
            yield Breach(("operations", place, "words"), f"Operation {entry.operation} has no name.")


def _zones(part: PartDefinition) -> Iterator[Breach]:
    zones = [] if part.zones is UNSET else part.zones
    yield from _twice(("zones",), [entry.zone for entry in zones], "zone", "zone")
    for place, entry in enumerate(zones):
        if not entry.words:
            yield Breach(("zones", place, "words"), f"The zone '{entry.zone}' has no name.")
        yield from _known_operations(part, ("zones", place, "covered_after"), entry.covered_after)


def _defects(part: PartDefinition) -> Iterator[Breach]:
    if not part.defects:
        yield Breach(("defects",), "The list has no defect word.")
    yield from _twice(("defects",), [word.defect for word in part.defects], "defect word", "defect")
    zones = set() if part.zones is UNSET else {entry.zone for entry in part.zones}
    known = {word.defect for word in part.defects} | {NOT_SURE}
    for place, word in enumerate(part.defects):
        here: Path = ("defects", place)
        if word.defect == NOT_SURE:
            yield Breach((*here, "defect"), f"'{NOT_SURE}' is always there by itself; leave it out of the list.")
        if not word.words:
            yield Breach((*here, "words"), f"'{word.defect}' is said in no language.")
        yield from _keys(here, word)
        for member in ("born_at", "first_seen_at"):
            yield from _known_operations(part, (*here, member), getattr(word, member))
        for member in ("also_born_at", "also_seen_at"):
            several = getattr(word, member)
            for number in [] if several is UNSET else several:
                yield from _known_operations(part, (*here, member), number)
        yield from _look_alikes(here, word, known)
        by_zone = [] if word.by_zone is UNSET else word.by_zone
        yield from _twice((*here, "by_zone"), [entry.zone for entry in by_zone], "zone", "zone")
        for row, entry in enumerate(by_zone):
            if entry.zone not in zones:
                reason = f"'{entry.zone}' is no zone of this part."
                yield Breach((*here, "by_zone", row, "zone"), reason, "zones")
    yield from _keys_alike(part.defects)


def _keys(here: Path, word: DefectWord) -> Iterator[Breach]:
    if word.seen_by_eye == "no":
        reason = f"No eye can find '{word.defect}' (seen_by_eye is 'no'), so it gets no key. Leave its 'key' empty."
        for language in word.key:
            yield Breach((*here, "key", language), reason)
        return
    if not word.key:
        yield Breach((*here, "key"), f"'{word.defect}' has no key word.")
    for language, text in word.key.items():
        why = why_no_key(text)
        if why is not None:
            yield Breach((*here, "key", language), f"The key word '{text}' {why}. Give a shorter one as its 'key'.")


def _keys_alike(words: list[DefectWord]) -> Iterator[Breach]:
    """Two keys with one word on them are a mistake waiting for a glove."""
    on_keys: dict[tuple[str, str], list[str]] = {}
    for word in words:
        for language, text in word.key.items():
            on_keys.setdefault((language, text.casefold()), []).append(word.defect)
    for place, word in enumerate(words):
        for language, text in word.key.items():
            others = [one for one in on_keys[language, text.casefold()] if one != word.defect]
            if others:
                reason = f"The key word '{text}' stands on the key of '{others[0]}' too. Give another."
                yield Breach(("defects", place, "key", language), reason)


def _look_alikes(here: Path, word: DefectWord, known: set[str]) -> Iterator[Breach]:
    named = [] if word.look_alike is UNSET else [("look_alike", word.look_alike)]
    if word.also_look_alikes is not UNSET:
        named += [("also_look_alikes", text) for text in word.also_look_alikes]
    for member, text in named:
        if ":" not in text and text not in known:
            reason = f"'{text}' is no word of this list. What is no defect is written as 'harmless: ...'."
            yield Breach((*here, member), reason, "defects")
        elif id_of(text) == word.defect:
            yield Breach((*here, member), f"'{text}' cannot be its own look-alike.")


def _limits(part: PartDefinition) -> Iterator[Breach]:
    limits = [] if part.limits is UNSET else part.limits
    given = [(limit.look, limit.defect_class) for limit in limits]
    for place, limit in enumerate(limits):
        if limit.look not in part.looks:
            known = ", ".join(part.looks)
            yield Breach(("limits", place, "look"), f"'{limit.look}' is no look of this part, which has: {known}.")
        if given.count((limit.look, limit.defect_class)) > 1:
            reason = f"The limit of {limit.defect_class} at the look '{limit.look}' is given more than once."
            yield Breach(("limits", place, "look"), reason)
            yield Breach(("limits", place, "class"), reason)


def _checks(part: PartDefinition) -> Iterator[Breach]:
    checks = [] if part.characteristics is UNSET else part.characteristics
    given = [(check.operation, check.characteristic) for check in checks]
    for place, check in enumerate(checks):
        here: Path = ("characteristics", place)
        yield from _known_operations(part, (*here, "operation"), check.operation)
        if given.count((check.operation, check.characteristic)) > 1:
            reason = f"Operation {check.operation} has the characteristic {check.characteristic} more than once."
            yield Breach((*here, "operation"), reason)
            yield Breach((*here, "characteristic"), reason)
        if not check.words:
            yield Breach((*here, "words"), f"Characteristic {check.characteristic} has no name.")
        for member in ("first_off", "in_process", "last_off"):
            why = _why_no_rule(member, getattr(check, member))
            if why is not None:
                yield Breach((*here, member), why)
        lower, upper = check.lower, check.upper
        if check.kind == "value" and lower is UNSET and upper is UNSET:
            for member in ("kind", "lower", "upper"):
                reason = "A value from a gauge has a lower limit, an upper limit or both."
                yield Breach((*here, member), reason)
        if lower is not UNSET and upper is not UNSET and billionths(lower) > billionths(upper):
            for member in ("lower", "upper"):
                yield Breach((*here, member), f"The lower limit {lower} is above the upper limit {upper}.")


def _why_no_rule(member: str, rule: CheckRule | UnsetType) -> str | None:
    if rule is UNSET:
        return None
    if rule.at in ("pieces", "minutes") and rule.every is UNSET:
        return "The rule does not say after how many pieces or minutes the check is due."
    # A first-off is due at the start and a last-off at the end; in between somebody has to say when.
    if member == "in_process" and rule.at == "events" and (rule.events is UNSET or not rule.events):
        return f"'{rule.cell}' does not say when the check is due. Write for example 1 each 25, or each tray."
    return None


def _known_operations(part: PartDefinition, path: Path, number: int | UnsetType) -> Iterator[Breach]:
    if number is UNSET:
        return
    operations = [] if part.operations is UNSET else part.operations
    # A list made before its route was written down names operations that nothing here can judge.
    if operations and number not in {entry.operation for entry in operations}:
        yield Breach(path, f"Operation {number} is not in the route of this part.", "operations")


def _twice(path: Path, values: Iterable[object], what: str, member: str | None = None) -> Iterator[Breach]:
    entries = list(values)
    for place, value in enumerate(entries):
        if entries.count(value) > 1:
            # Each of them is named: nobody but the team knows which one is wrong.
            where = path if member is None else (*path, place, member)
            yield Breach(where, f"The {what} '{value}' is in the list more than once.")
