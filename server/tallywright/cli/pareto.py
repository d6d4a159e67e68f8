# SPDX-License-Identifier: Apache-2.0
"""The command `pareto`: which defects, how often, over the shift of now or any days, grouped by what is asked."""

from __future__ import annotations

import sys
from dataclasses import asdict, replace
from datetime import UTC, date, datetime, time, timedelta
from pathlib import Path
from zoneinfo import ZoneInfo

import click
import msgspec
from sqlalchemy import Connection, func, select

from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in
from tallywright.cli.works import prepare_data
from tallywright.clock import SystemClock
from tallywright.db import reading
from tallywright.definitions.published import shift_calendar
from tallywright.errors import NotUnderstood, WrongUse
from tallywright.projections.tables import stale
from tallywright.reports.shift_pareto import Axis, Bar, Question, ShiftPareto, Unit, shift_pareto
from tallywright.reports.strata import STRATA, only_of

A_DAY = click.DateTime(formats=["%Y-%m-%d"])
SPECIAL = {"either": "either", "none": "not recorded"}


@click.command(name="pareto")
@DATA
@click.option("--from", "first", type=A_DAY, help="First day, as 2026-11-25; left out for the shift of now.")
@click.option("--to", "last", type=A_DAY, help="Last day, which is in it; left out for the first day alone.")
@click.option("--by", type=click.Choice(tuple(STRATA)), default="defect", show_default=True, help="What a bar is.")
@click.option(
    "--unit", type=click.Choice(("marks", "pieces")), default="marks", show_default=True, help="What is counted."
)
@click.option(
    "--axis", type=click.Choice(("found", "made")), default="found", show_default=True, help="Which time counts."
)
@click.option("--only", multiple=True, metavar="BAR", help="Count what stands in this bar alone: cavity:value:A.")
@click.option("--json", "as_json", is_flag=True, help="Print it for a program.")
def print_pareto(
    data: Path | None,
    first: datetime | None,
    last: datetime | None,
    by: str,
    unit: Unit,
    axis: Axis,
    only: tuple[str, ...],
    as_json: bool,
) -> None:
    """Print the Pareto of the shift of now, or of days of the works' calendar."""
    if last is not None and (first is None or last < first):
        raise WrongUse("--to needs a --from that is not behind it.")
    try:
        narrowed = tuple(map(only_of, only))
    except NotUnderstood as problem:
        raise WrongUse(problem.sentence) from problem
    engine = prepare_data(config_in(data))
    with reading(engine) as connection:
        zone = ZoneInfo(shift_calendar(connection).zone)
        question = Question(by=by, unit=unit, axis=axis, only=narrowed)
        if first is not None:
            start, end = _days(first.date(), (last or first).date(), zone)
            question = replace(question, start=start, end=end)
        found = shift_pareto(connection, SystemClock().now_ms(), question)
        not_folded = _stale(connection)
    click.echo(msgspec.json.encode(_for_programs(found)) if as_json else _for_people(found, zone))
    if not_folded:
        click.echo(f"{not_folded} could not be folded, so its finds may be missing: run verify.", err=True)
        sys.exit(WRONG_DATA)


def _days(first: date, last: date, zone: ZoneInfo) -> tuple[int, int]:
    """From the midnight of the site before the first day to that behind the last [ms]."""
    ends = (datetime.combine(day, time(), zone) for day in (first, last + timedelta(days=1)))
    start, end = (int(midnight.timestamp() * 1000) for midnight in ends)
    return start, end


def _stale(connection: Connection) -> str:
    """The subjects without rows: the first by name, and how many more; '' where there are none."""
    more = connection.scalar(select(func.count()).select_from(stale)) or 0
    named = connection.scalar(select(func.min(stale.c.subject)))
    return "" if not more else f"{named}" if more == 1 else f"{named} and {more - 1} more"


def _for_programs(found: ShiftPareto) -> dict[str, object]:
    """The members of the answer over HTTP, under the same names."""
    members = asdict(found)
    return {"from": members.pop("start"), "to": members.pop("end"), **members}


def _for_people(found: ShiftPareto, zone: ZoneInfo) -> str:
    """The period, n, and one line a bar; bars that luck may have put in this order say so."""
    first, last = (
        datetime.fromtimestamp(edge / 1000, UTC).astimezone(zone).strftime("%Y-%m-%d %H:%M")
        for edge in (found.start, found.end)
    )
    shift = f"{found.shift} shift of {found.day}, " if found.shift else ""
    lines = [f"{found.axis.capitalize()} on: {shift}{first} to {last}"]
    looked = f", of {found.looked} looked at in trays closed then" if found.looked else ""
    lines += [f"{found.marks} marks on {found.pieces} pieces{looked}"]
    lines += [f"only {bar.stratum} {bar.name or SPECIAL[bar.sort]}" for bar in found.only]
    lines += [_line(bar, found.unit) for bar in found.bars]
    if found.axis == "made":
        lines += [f"{found.perhaps:8}  perhaps made then, perhaps beside it", f"{found.unplaced:8}  not placed"]
    return "\n".join(lines)


def _line(bar: Bar, unit: str) -> str:
    name = bar.label if bar.sort == "value" else f"{SPECIAL[bar.sort]} {bar.label}".rstrip()
    length = bar.pieces if unit == "pieces" else bar.count
    of = f"  of {bar.looked} looked at: {1000 * length / bar.looked:.0f} of 1000" if bar.looked else ""
    close = "  too few to rank above the next" if bar.too_few_to_rank else ""
    return f"{length:8}  {bar.share:6.1%}  {bar.cumulative:6.1%}  {name}{of}{close}"
