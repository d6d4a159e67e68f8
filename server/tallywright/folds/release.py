# SPDX-License-Identifier: Apache-2.0
"""What came after a batch was released: whatever the granted request had not seen opens the batch again.

static/src/folds/release.ts is the same function; tests/vectors/bench holds both to the same answers.
"""

from __future__ import annotations

from collections.abc import Iterable

import msgspec

from tallywright.folds.gathered import Gathered
from tallywright.folds.requests import Request
from tallywright.folds.seen import Seen
from tallywright.records.asked import ReleaseRequestedV1


class Release(msgspec.Struct, frozen=True):
    """A granted release, and the records that count and were not seen by it; none: the batch is released."""

    request: str
    late: tuple[str, ...]


def fold_releases(gathered: Gathered, requests: Iterable[Request]) -> tuple[Release, ...]:
    """Fold all records of one batch; in the order of the requests."""
    releases = []
    for request in requests:
        body = gathered.known[request.id].body
        if request.state == "granted" and isinstance(body, ReleaseRequestedV1):
            seen = Seen(body.seen)
            late = tuple(record.id for record in gathered.counting if not seen.covers(record.id))
            releases.append(Release(request.id, late))
    return tuple(releases)
