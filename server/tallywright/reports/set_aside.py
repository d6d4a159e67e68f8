# SPDX-License-Identifier: Apache-2.0
"""What was set aside and why: seen by the lead, so that nothing that arrived lies where nobody looks."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from itertools import groupby

from sqlalchemy import Connection, select

from tallywright.folds.gathered import found_at
from tallywright.log.aside import SetAsideLine, lines_aside
from tallywright.log.chains import all_heads
from tallywright.projections.tables import admissions, devices

MOST_LINES = 200  # what one request may name


@dataclass(frozen=True, slots=True)
class KindCount:
    """How many lines say the same sort of thing; the kind is '' for bytes that are no record."""

    kind: str
    count: int


@dataclass(frozen=True, slots=True)
class AsideOfChain:
    """What was set aside of one chain for one reason.

    first_at, last_at  when the first and the last of them were made, as far as they say so; else received   [ms]
    admissible, admitted  how many of them can still be admitted, and how many were
    lines                 the next that can be admitted, each by the hash of its bytes, in the order of the chain
    """

    chain: str
    letters: str
    name: str
    code: str
    count: int
    first_at: int
    last_at: int
    kinds: list[KindCount]
    admissible: int
    admitted: int
    lines: list[str]


def set_aside_list(connection: Connection) -> list[AsideOfChain]:
    """Return all that was set aside, by chain and reason."""
    admitted = set(connection.scalars(select(admissions.c.line_hash)))
    owners = {head.chain: head.device for head in all_heads(connection)}
    known = {row.device: (row.letters, row.name) for row in connection.execute(select(devices))}
    found = []
    lines = sorted(lines_aside(connection), key=lambda line: (line.chain, line.code, line.n))
    for (chain, code), group in groupby(lines, lambda line: (line.chain, line.code)):
        those = list(group)
        named = next((line.record.envelope.device for line in those if line.record is not None), "")
        letters, name = known.get(owners.get(chain, named), ("", ""))
        found.append(_of_chain(chain, code, letters, name, those, admitted))
    return found


def _of_chain(
    chain: str, code: str, letters: str, name: str, lines: list[SetAsideLine], admitted: set[str]
) -> AsideOfChain:
    times = [line.received_at if line.record is None else found_at(line.record)[0] for line in lines]
    kinds = Counter("" if line.record is None else line.record.envelope.kind for line in lines)
    open_lines = [line.hash for line in lines if line.is_admissible and line.hash not in admitted]
    return AsideOfChain(
        chain=chain,
        letters=letters,
        name=name,
        code=code,
        count=len(lines),
        first_at=min(times),
        last_at=max(times),
        kinds=[KindCount(kind, count) for kind, count in sorted(kinds.items())],
        admissible=len(open_lines),
        admitted=sum(line.hash in admitted for line in lines),
        lines=open_lines[:MOST_LINES],
    )
