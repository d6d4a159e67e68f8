# SPDX-License-Identifier: Apache-2.0
"""Read a JSON file in the shape of a part definition, and say of every member that cannot be taken why not.

A place in such a file is a member; its row counts the entries of the list the member is in, from 1.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any, get_args

import msgspec
from msgspec import structs

from tallywright.definitions.csv_file import LARGEST_FILE, shown
from tallywright.definitions.demo import DEMO_REFUSED
from tallywright.definitions.names import is_plain
from tallywright.definitions.report import WHOLE_FILE, WHOLE_ROW, Place, Report
from tallywright.definitions.rules import breaches
from tallywright.records.definition import PartDefinition

# Broken UTF-8 and deep nesting leave msgspec as errors of Python's own.
NO_JSON = (msgspec.DecodeError, UnicodeDecodeError, RecursionError)


def read_part_file(
    path: Path, part: str | None, revision: str | None, live: bool, report: Report
) -> list[PartDefinition]:
    """Return the part definition of a file; nothing of it may be used where the report has a finding.

    part, revision  replace what the file says
    live            the works is no demo: a file marked as demo is refused
    """
    content = _decoded(path, report)
    if content is None:
        return []
    given = {"part": part, "revision": revision}
    content |= {member: text for member, text in given.items() if text is not None}
    content.setdefault("subject", "part")
    if live and content.get("demo") is True:
        report.refuse(Place(path.name, 1, "demo"), DEMO_REFUSED)
    before = len(report.findings)
    for place, reason in _wrong_forms(path.name, content):
        report.refuse(place, reason)
    if len(report.findings) > before:
        return []
    found = msgspec.convert(content, PartDefinition)
    for word_place, word in enumerate(found.defects):
        if word.defect_class is msgspec.UNSET and word.by_zone is msgspec.UNSET:
            place = Place(path.name, word_place + 1, "defects.class")
            report.note(place, f"'{shown(word.defect)}' has no class, so it is critical.")
    for breach in breaches(found):
        report.refuse(_place(path.name, breach.path), breach.reason)
    return [found]


def _decoded(path: Path, report: Report) -> dict[str, Any] | None:
    whole = Place(path.name, 1, WHOLE_FILE)
    try:
        text = path.read_bytes()
    except OSError as problem:
        report.refuse(whole, f"The file cannot be read: {problem.strerror}.")
        return None
    if len(text) > LARGEST_FILE:
        report.refuse(whole, f"The file is larger than {LARGEST_FILE} bytes.")
        return None
    text = text.removeprefix(b"\xef\xbb\xbf")
    try:
        content = msgspec.json.decode(text)
    except NO_JSON as problem:
        byte = re.search(r"byte (\d+)", str(problem))
        row = text[: int(byte[1]) if byte else 0].count(b"\n") + 1
        report.refuse(Place(path.name, row, WHOLE_ROW), f"The file is no JSON: {str(problem)[:200]}.")
        return None
    if not isinstance(content, dict):
        report.refuse(whole, "The file holds no object. It has the shape of one part definition.")
        return None
    return content


def _wrong_forms(file: str, content: dict[str, Any]) -> Iterator[tuple[Place, str]]:
    """Every member that has not its form; a list is judged entry by entry, so that each is named."""
    members = {member.encode_name: member for member in structs.fields(PartDefinition)}
    for name in content.keys() - members.keys() - {"subject"}:
        known = ", ".join(members)
        yield Place(file, 1, shown(name)), f"A part definition has no such member. Its members are: {known}."
    if content["subject"] != "part":
        yield Place(file, 1, "subject"), "The subject of a part definition is 'part'."
    for name, member in members.items():
        if name not in content:
            if member.required:
                yield Place(file, 1, name), f"The member '{name}' is missing."
            continue
        entry = _entry_type(member.type)
        value = content[name]
        if entry is not None and isinstance(value, list):
            for place, one in enumerate(value):
                yield from _wrong_form(file, (name, place), one, entry)
        else:
            yield from _wrong_form(file, (name,), value, member.type)


def _entry_type(kind: Any) -> type[msgspec.Struct] | None:
    """The type of a list's entries, where they are objects."""
    for inner in (kind, *get_args(kind)):
        for entry in get_args(inner):
            if isinstance(entry, type) and issubclass(entry, msgspec.Struct):
                return entry
    return None


def _wrong_form(file: str, path: tuple[str | int, ...], value: Any, kind: Any) -> Iterator[tuple[Place, str]]:
    try:
        msgspec.convert(value, kind)
    except (msgspec.ValidationError, RecursionError) as problem:
        what, _, where = str(problem).partition(" - at ")
        below = tuple(int(part) if part.isdigit() else part for part in re.findall(r"\w+", where))
        yield _place(file, (*path, *below)), f"The value has not its form: {what.replace('`', chr(39))}."
        return
    for below, text in _texts(value):
        if not is_plain(text):
            yield _place(file, (*path, *below)), "The text holds a letter that cannot be shown."


def _texts(value: Any) -> Iterator[tuple[tuple[str | int, ...], str]]:
    if isinstance(value, str):
        yield (), value
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    for name, one in inner:
        for below, text in _texts(one):
            yield (name, *below), text


def _place(file: str, path: tuple[str | int, ...]) -> Place:
    row = next((part + 1 for part in path if isinstance(part, int)), 1)
    return Place(file, row, ".".join(part for part in path if isinstance(part, str)))
