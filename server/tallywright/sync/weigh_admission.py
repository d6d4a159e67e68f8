# SPDX-License-Identifier: Apache-2.0
"""Weigh whether lines that were set aside may count, and work out what each is called from then on.

Two sides of a copied tablet write different records under the same numbers. What a line names is therefore looked
up along the hash links of its own side: behind the place where the sides part, an id means that side's record,
which has to be admitted as well, before it or with it.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from msgspec import UNSET, UnsetType
from sqlalchemy import Connection, select

from tallywright.log.aside import SetAsideLine, lines_aside
from tallywright.log.chains import held_lines, read_heads
from tallywright.projections.tables import admissions, stale
from tallywright.records.admitted import names_in
from tallywright.records.asked import AdmissionRequestedV1
from tallywright.records.compose import canonical
from tallywright.records.decode import FOR_EVERY_TABLET, Record, read, sha256
from tallywright.records.envelope import LONGEST_RECORD, Body
from tallywright.records.kinds import Renamed, SetAsideAdmittedV1, number_of
from tallywright.sync.weigh import Weighed

LONGEST_LINE = 12_000
ENVELOPE_ROOM = 1_024  # what the admission's own envelope takes at most of its line


@dataclass(frozen=True, slots=True)
class _Side:
    """One side of a chain: the number up to which it is the log's own, and its lines behind that, by number."""

    shared: int
    lines: Mapping[int, str]


def weigh_admission(connection: Connection, request: Record, weighed: Weighed) -> None:
    """Say what speaks against lines being admitted; what they become is brought about behind a grant."""
    body = request.body
    assert isinstance(body, AdmissionRequestedV1)  # noqa: S101 - chosen by its kind
    aside = {line.hash: line for line in lines_aside(connection, body.of_chain)}
    asked = [aside[name] for name in dict.fromkeys(body.lines) if name in aside]
    named = sorted((line for line in asked if line.is_admissible), key=lambda line: line.n)
    admitted = admitted_as(connection, aside)
    if len(asked) < len(set(body.lines)):
        weighed.against.append("no_such_line")
    if any(line.hash in admitted for line in asked):
        weighed.against.append("admitted_already")
    brought = _bring(connection, weighed.answers_in, named, aside, admitted)
    if len(named) < len(asked) or brought is None:
        weighed.against.append("not_admissible")
    if not weighed.against:
        subjects = [str(batch_of(one, request)) for one in brought or ()]
        unsure = select(stale.c.subject).where(stale.c.subject.in_([*subjects, f"@{body.of_chain}"]))
        # Rows that could not be folded do not tell what was admitted already.
        weighed.waits = connection.execute(unsure).first() is not None
        weighed.brings += brought or []


def admitted_as(connection: Connection, hashes: Iterable[str]) -> dict[str, str]:
    """Return the admissions of those lines that were admitted, by the hash of their bytes."""
    known = select(admissions.c.line_hash, admissions.c.admission)
    wanted = set(hashes)
    return {row.line_hash: row.admission for row in connection.execute(known) if row.line_hash in wanted}


def batch_of(body: Body, request: Record) -> str | UnsetType:
    """Return the batch under which the server writes something: an admission's is its line's."""
    if not isinstance(body, SetAsideAdmittedV1):
        return request.envelope.batch
    batch = read(body.line.encode()).envelope.batch
    return batch if batch is UNSET else next((one.now for one in body.names if one.was == batch), batch)


def _bring(
    connection: Connection,
    own: str,
    named: list[SetAsideLine],
    aside: Mapping[str, SetAsideLine],
    admitted: Mapping[str, str],
) -> list[Body] | None:
    """Return one admission a line; None where a line is too long, or names what is not admitted.

    own  the server's chain they are written to
    """
    # The grant comes first, then one admission a line.
    place = read_heads(connection, [own])[own].mark_n + 2
    now = {**admitted, **{line.hash: f"{own}:{place + at}" for at, line in enumerate(named)}}
    brought: list[Body] = []
    for line in named:
        record = line.record
        assert record is not None  # noqa: S101 - it is admissible
        names = _names(record, _side_of(connection, line, aside), now)
        text = record.line.decode()
        if names is None or len(text) > LONGEST_LINE:
            return None
        # What goes to every tablet is no look, and is known by the line itself.
        of_look = UNSET if record.look in ("", *FOR_EVERY_TABLET) else record.look
        body = SetAsideAdmittedV1(line=text, names=names, look=of_look)
        if len(canonical(body)) > LONGEST_RECORD - ENVELOPE_ROOM:
            return None
        brought.append(body)
    return brought


def _side_of(connection: Connection, line: SetAsideLine, aside: Mapping[str, SetAsideLine]) -> _Side | None:
    """Follow the links back to a record of the log; None where what lies between never came."""
    lines = {line.n: line.hash}
    at = line
    while at.record is not None and at.n > 1:
        before = str(at.record.envelope.previous)
        held = held_lines(connection, line.chain, at.n - 1, at.n - 1).get(at.n - 1)
        if held is not None and sha256(held) == before:
            return _Side(at.n - 1, lines)
        if before not in aside:
            return None
        at = aside[before]
        lines[at.n] = at.hash
    return None if at.record is None else _Side(0, lines)


def _names(record: Record, side: _Side | None, now: Mapping[str, str]) -> list[Renamed] | None:
    """Say under which ids the records a line names were admitted; None where one of them was not."""
    names = []
    for was in sorted(names_in(record), key=number_of):
        if side is None:
            return None
        if number_of(was) <= side.shared:
            continue
        admitted = now.get(side.lines.get(number_of(was), ""))
        if admitted is None:
            return None
        names.append(Renamed(was=was, now=admitted))
    return names
