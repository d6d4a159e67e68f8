# SPDX-License-Identifier: Apache-2.0
"""Rows of the values that were taken with a gauge, and the gauges a batch was measured with."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import UNSET
from sqlalchemy import Connection

from tallywright.definitions.people import lead_sign_ons
from tallywright.folds.check_outcome import characteristics_of
from tallywright.folds.gathered import Gathered, found_at
from tallywright.folds.gauges import NO_GAUGES, Gauges
from tallywright.log.read import of_subject
from tallywright.projections.asked import admission_rows, proven_among
from tallywright.records.checks import CheckTakenV1, GaugeCheckedV1
from tallywright.records.decode import GAUGES, Record, gauge_subject
from tallywright.records.definition import PartDefinition


def is_gauge(records: list[Record]) -> bool:
    """True for what is said of a gauge."""
    return all(record.look == GAUGES for record in records)


def gauge_rows(connection: Connection, subject: str, records: list[Record]) -> None:
    """A gauge has no rows of its own: whoever asks folds what was said of it."""
    admission_rows(connection, subject, records)


def gauges_of(connection: Connection, batch: Gathered) -> Gauges:
    """Return the gauges a batch was measured with, by what was said of them: read from the log, in any order."""
    named = {
        gauge_subject(body.gauge)
        for record in batch.known.values()
        if isinstance(body := record.body, CheckTakenV1) and body.gauge is not UNSET
    }
    records = [record for subject in sorted(named) for record in of_subject(connection, subject)]
    return fold_gauges(connection, records) if records else NO_GAUGES


def fold_gauges(connection: Connection, records: list[Record]) -> Gauges:
    """Fold what was said of gauges; that one is fit only somebody says who signed on as a lead."""
    names = {str(one.envelope.sign_on) for one in records if one.envelope.sign_on is not UNSET}
    proven = proven_among(connection, names)
    good = {
        str(one.envelope.sign_on)
        for one in records
        if isinstance(one.body, GaugeCheckedV1) and one.body.result == "fit"
    }
    vouching = {name: person for name, person in proven.items() if name in good}
    return Gauges(records, proven, lead_sign_ons(connection, vouching))


def gauge_value_rows(
    batch: str, gathered: Gathered, definitions: Mapping[str, PartDefinition]
) -> list[tuple[object, ...]]:
    """Return a row for each check of a batch that names a gauge, in the order of the table's columns."""
    plans = {name: characteristics_of(part) for name, part in definitions.items()}
    rows: list[tuple[object, ...]] = []
    for record in gathered.known.values():
        body = record.body
        if not isinstance(body, CheckTakenV1) or body.gauge is UNSET:
            continue
        line = plans.get(str(record.envelope.definition), {}).get((body.operation, body.characteristic))
        measured = "" if line is None or line.gauge is UNSET else line.gauge
        said = (gauge_subject(body.gauge), body.gauge, measured, body.operation)
        rows.append((record.id, batch, *said, found_at(record)[0], record.id in gathered.dead))
    return rows
