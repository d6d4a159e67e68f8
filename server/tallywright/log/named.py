# SPDX-License-Identifier: Apache-2.0
"""What records name and the log lacks: the ends of chains that a log put back to an older copy had once."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass

from sqlalchemy import Connection

from tallywright.log.chains import all_heads
from tallywright.log.read import every_line

ID = re.compile(rb'"([a-z2-7]{26}):([1-9][0-9]{0,15})"')
SEEN = re.compile(rb'\{"chain":"([a-z2-7]{26})","n":([1-9][0-9]{0,15})\}')


@dataclass(frozen=True, slots=True)
class NotHere:
    """The end of a chain that somebody saw and the log lacks.

    device  whose chain it is
    by      number of the record that names the last of them
    """

    chain: str
    device: str
    first: int
    last: int
    by: int


def named_and_not_here(connection: Connection) -> Iterator[NotHere]:
    """Yield the end of each chain of which a record names more than is held, by chain.

    A tablet names only what it had from this log, so the log had it. A tablet that still holds it sends it again.
    """
    furthest: dict[bytes, tuple[int, int]] = {}
    for number, line in every_line(connection):
        for pattern in (ID, SEEN):
            for chain, n in pattern.findall(line):
                furthest[chain] = max((int(n), number), furthest.get(chain, (0, 0)))
    # A chain that is gone as a whole was enrolled in the lost part: what the server lost names that.
    for head in all_heads(connection):
        last, by = furthest.get(head.chain.encode(), (0, 0))
        if last > head.newest_n:
            yield NotHere(head.chain, head.device, head.newest_n + 1, last, by)
