# SPDX-License-Identifier: Apache-2.0
"""The command `batch`: the whole ledger of one batch, for people or for a program."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click
import msgspec

from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in
from tallywright.cli.works import prepare_data
from tallywright.db import reading
from tallywright.reports.batch_ledger import batch_called, batch_ledger

COLUMNS = ("in", "out", "scrap", "set_up", "samples", "missing")
STATES = {
    "agrees": "certificate and cast mark agree",
    "waits": "certificate or cast mark is missing",
    "differs": "certificate or cast mark is out",
}
NUMBERS = ("due", "looked_at", "accepted", "rework", "rejected", "query")


@click.command(name="batch")
@click.argument("number")
@DATA
@click.option("--json", "as_json", is_flag=True, help="Print it for a program.")
def print_batch(number: str, data: Path | None, as_json: bool) -> None:
    """Print the whole ledger of the batch with this NUMBER, from the first operation to the last."""
    engine = prepare_data(config_in(data))
    with reading(engine) as connection:
        found = [batch_ledger(connection, name) for name in batch_called(connection, number)]
    engine.dispose()
    if not found:
        click.echo(f"There is no batch {number}.", err=True)
        sys.exit(WRONG_DATA)
    for one in found:
        click.echo(msgspec.json.encode(one) if as_json else "\n".join(_for_people(one)))
    if len(found) > 1:
        click.echo(f"{len(found)} batches bear the number {number}; the oldest comes first.", err=True)
    if not all(one["closes"] for one in found):
        click.echo(f"The ledger of {number} does not close.", err=True)
        sys.exit(WRONG_DATA)


def _for_people(one: dict[str, Any]) -> Iterator[str]:
    yield f"{one['batch']}  {one['part']}"
    terms = f"{one['good']} good + {one['scrap']} scrap + {one['samples_and_set_up']} samples and set-up"
    split = f" + {one['split_off']} split off" if "split_off" in one else ""
    yield f"{one['in']} in = {terms} + {one['missing_or_late_found']} missing or late-found{split}"
    yield f"The ledger {'closes' if one['closes'] else 'does NOT close'}."
    yield ""
    yield "   op  " + "".join(f"{name.replace('_', '-'):>9}" for name in COLUMNS) + "  operation"
    for row in one["operations"]:
        yield f"{row['operation']:>5}  " + "".join(f"{row[name]:>9}" for name in COLUMNS) + f"  {row['name']}"
    yield ""
    for line in one["differences"]:
        yield f"difference at {line['at'] or '-'}: {line['pieces']:+d}  {line['what']}"
    for look in one["looks"]:
        numbers = ", ".join(f"{name.replace('_', ' ')} {look[name]}" for name in NUMBERS)
        signed = f", signed by {look['signed_by']}" if look["signed_by"] else ""
        yield f"{look['look']} look: {numbers}; {'complete' if look['complete'] else 'NOT complete'}{signed}"
    for limit in one["limits"]:
        yield (
            f"limit {limit['look']} {limit['class']}: {limit['defective']} of {limit['looked']} looked at, "
            f"{limit['limit']} allowed of {limit['due']}: {limit['state']}"
        )
    for cast in one.get("casts", []):
        name = f"{cast['cast'] or '-'} ({cast['name'] or 'not here'})"
        yield f"cast {name}: {cast['bars']} bars, {STATES[cast['state']]}"
    for hold in one["holds"]:
        yield f"hold {hold['hold']}: {hold['cause']}"
    for thing in one["open"]:
        where = thing.get("look") or thing.get("at") or ""
        yield f"open {where}: {thing['what']} {thing.get('of', '')} {thing['pieces'] or ''}".rstrip()
