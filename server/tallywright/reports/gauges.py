# SPDX-License-Identifier: Apache-2.0
"""The works' gauges for the lead: how each stands, what was said of it, and the batches it was used on in doubt."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field
from typing import Any

from msgspec import UNSET
from sqlalchemy import Connection, select

from tallywright.definitions.published import newest_gauges, works
from tallywright.folds.gathered import found_at, order_of
from tallywright.folds.gauges import LATEST, Gauge, Standing, day_of, number_said
from tallywright.log.read import WORKS_WIDE, of_look, of_subject
from tallywright.projections.gauge_rows import fold_gauges
from tallywright.projections.tables import batch_pages, batches, gauge_values
from tallywright.records.bare_name import bare_name
from tallywright.records.checks import GaugeCheckedV1
from tallywright.records.decode import GAUGES, Record, gauge_subject
from tallywright.reports.called import Called

MOST_VALUES = 5_000  # of one gauge, the newest
MOST_SAID = 10  # of one gauge, the newest
WORST_FIRST: tuple[Standing, ...] = ("found_wrong", "doubtful", "not_known", "wrong_kind", "overdue", "in_order")


@dataclass(slots=True)
class _Used:
    """The values of one batch that were taken with a gauge while it stood in one way."""

    batch: str
    number: str
    standing: Standing
    is_released: bool
    times: list[int] = field(default_factory=list)


def gauges(connection: Connection, now: int) -> list[dict[str, Any]]:
    """Return every gauge that is defined, spoken of or named by a value; what needs something stands first."""
    defined = [one for one in of_subject(connection, WORKS_WIDE) if number_said(one) is not None]
    said = of_look(connection, GAUGES)
    folded = fold_gauges(connection, [*defined, *said])
    known = newest_gauges(connection)
    zone = works(connection)[1].time_zone
    every = {bare_name(gauge.number): gauge for gauge in folded.all()}
    for number in connection.scalars(select(gauge_values.c.number).distinct()):
        every.setdefault(bare_name(number), folded.of(number))
    called = Called(connection)
    by_gauge: dict[str, list[Record]] = {}
    for record in said:
        if isinstance(record.body, GaugeCheckedV1):
            by_gauge.setdefault(bare_name(record.body.gauge), []).append(record)
    found = []
    for name, gauge in every.items():
        standing = gauge.standing_at(LATEST, day_of(now, zone))
        used = _used(connection, gauge, standing, zone)
        definition = known[name][1] if name in known else None
        found.append(
            {
                "number": gauge.number,
                "kinds": list(gauge.kinds),
                "range": "" if definition is None or definition.range is UNSET else definition.range,
                "resolution": "" if definition is None or definition.resolution is UNSET else definition.resolution,
                "place": "" if definition is None or definition.place is UNSET else definition.place,
                "standing": min([standing, *(one.standing for one in used)], key=WORST_FIRST.index),
                "stands_now": standing,
                "due": gauge.due_at(LATEST),
                "said": [_said(called, gauge, one) for one in _newest(by_gauge.get(name, ()))],
                "batches": [_batch(one) for one in used],
            }
        )
    return sorted(found, key=lambda one: (WORST_FIRST.index(one["standing"]), one["number"]))


def _used(connection: Connection, gauge: Gauge, standing: Standing, zone: str) -> list[_Used]:
    """The batches with values a lead has to look at, the newest value first.

    Of a gauge that is in order again only those that are not released: what reached the others is a hold there.
    """
    of_gauge = (
        select(
            gauge_values.c.check_id,
            gauge_values.c.batch,
            gauge_values.c.measured,
            gauge_values.c.taken_at,
            batches.c.number,
            batch_pages.c.released_by,
            batch_pages.c.late,
        )
        .outerjoin(batches, batches.c.batch == gauge_values.c.batch)
        .outerjoin(batch_pages, batch_pages.c.batch == gauge_values.c.batch)
        .where(gauge_values.c.gauge == gauge_subject(gauge.number), gauge_values.c.withdrawn.is_(False))
        .order_by(gauge_values.c.taken_at.desc(), gauge_values.c.check_id)
        .limit(MOST_VALUES)
    )
    found: dict[tuple[str, Standing], _Used] = {}
    for row in connection.execute(of_gauge):
        is_released = bool(row.released_by) and not row.late
        then = gauge.standing_at((row.taken_at, order_of(row.check_id)), day_of(row.taken_at, zone), row.measured)
        if then == "in_order" or (is_released and standing == "in_order"):
            continue
        one = found.setdefault((row.batch, then), _Used(row.batch, row.number or "", then, is_released))
        one.times.append(row.taken_at)
    return list(found.values())


def _batch(one: _Used) -> dict[str, Any]:
    return {
        "batch": one.batch,
        "number": one.number,
        "standing": one.standing,
        "released": one.is_released,
        "values": len(one.times),
        "first_at": min(one.times),
        "last_at": max(one.times),
    }


def _newest(records: Iterable[Record]) -> list[Record]:
    return sorted(records, key=lambda one: (found_at(one)[0], order_of(one.id)), reverse=True)[:MOST_SAID]


def _said(called: Called, gauge: Gauge, record: Record) -> dict[str, Any]:
    """One thing somebody said of a gauge; a good word that does not count, and what was taken back, say so."""
    body = record.body
    assert isinstance(body, GaugeCheckedV1)  # noqa: S101 - the caller chose them
    counted = {one.id: one.taken_back for one in gauge.checks}
    words = {name: getattr(body, name) for name in ("against", "certificate", "next_due", "note")}
    return {
        "id": record.id,
        "result": body.result,
        **{name: "" if word is UNSET else word for name, word in words.items()},
        "at": found_at(record)[0],
        "by": called.person(called.author(record)),
        "counts": counted.get(record.id) is False,
    }
