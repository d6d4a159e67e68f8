# SPDX-License-Identifier: Apache-2.0
"""What came after a batch was released: whatever the granted request had not seen opens the batch again.

static/src/folds/release.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

import msgspec

from tallywright.folds.requests import Request
from tallywright.folds.seen import Seen, counts
from tallywright.folds.tally import order_of
from tallywright.records.asked import ReleaseRequestedV1
from tallywright.records.decode import Record


class Release(msgspec.Struct, frozen=True):
    """A granted release, and the records that count and were not seen by it; none: the batch is released."""

    request: str
    late: tuple[str, ...]


def fold_releases(known: Mapping[str, Record], requests: Iterable[Request]) -> tuple[Release, ...]:
    """Fold all records of one batch, given by id; in the order of the requests."""
    came = sorted((record.id for record in known.values() if counts(record)), key=order_of)
    releases = []
    for request in requests:
        body = known[request.id].body
        if request.state == "granted" and isinstance(body, ReleaseRequestedV1):
            seen = Seen(body.seen)
            releases.append(Release(request.id, tuple(name for name in came if not seen.covers(name))))
    return tuple(releases)
