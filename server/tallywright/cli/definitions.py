# SPDX-License-Identifier: Apache-2.0
"""The commands on what people judge by."""

from __future__ import annotations

import sys
from pathlib import Path

import click
from msgspec import UNSET

from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in, own_chain
from tallywright.cli.works import prepare_data
from tallywright.db import reading, writing
from tallywright.definitions.gauges import measured_with, read_gauges
from tallywright.definitions.imported import read_definitions
from tallywright.definitions.materials import read_materials
from tallywright.definitions.published import works
from tallywright.definitions.shifts import read_shifts
from tallywright.errors import WrongUse
from tallywright.projections.publish import publish_gauges, publish_materials, publish_parts, publish_shifts


@click.group()
def definitions() -> None:
    """What people judge by: parts with their route, defect list, zones and limits."""


@definitions.command(name="import")
@click.argument("folder", type=click.Path(path_type=Path))
@DATA
@click.option("--part", help="The one part to read; or its name, where no file names it.")
@click.option("--revision", help="The revision, where no file names it.")
def import_definitions(folder: Path, data: Path | None, part: str | None, revision: str | None) -> None:
    """Publish a folder of CSV files (parts, shifts, alloys, gauges) or one JSON file: all of it or nothing."""
    if not folder.exists():
        raise WrongUse(f"There is no folder or file '{folder}'. Name the folder that holds the CSV files.")
    config = config_in(data)
    engine = prepare_data(config)
    with reading(engine) as connection:
        opened = works(connection)[1]
    live = not opened.demo
    parts, report = read_definitions(folder, part, revision, live=live)
    shifts = read_shifts(folder, opened.time_zone, live, report) if folder.is_dir() else None
    alloys = read_materials(folder, live, report) if folder.is_dir() else []
    gauges = read_gauges(folder, live, report, measured_with(parts)) if folder.is_dir() else []
    for note in report.notes:
        click.echo(f"Note: {note}")
    if report.findings:
        for finding in report.findings:
            click.echo(str(finding))
        click.echo(f"Nothing was published: {len(report.findings)} places cannot be taken.", err=True)
        sys.exit(WRONG_DATA)
    with writing(engine) as connection:
        own = own_chain(config)
        published = publish_parts(connection, own, parts)
        published_alloys = publish_materials(connection, own, alloys)
        published_gauges = publish_gauges(connection, own, gauges)
        published_shifts = None if shifts is None else publish_shifts(connection, own, shifts)
    engine.dispose()
    for (definition, is_new), one in zip(published, parts, strict=True):
        demo = " (demo: advice for nobody)" if one.demo is True else ""
        click.echo(f"{definition}  {one.part} {one.revision}{demo}{_unless_new(is_new)}")
    for (definition, is_new), material in zip(published_alloys, alloys, strict=True):
        order = "" if material.order is UNSET else f", order {material.order}"
        demo = " (demo: advice for nobody)" if material.demo is True else ""
        click.echo(f"{definition}  limits of {material.alloy}{order}{demo}{_unless_new(is_new)}")
    for (definition, is_new), gauge in zip(published_gauges, gauges, strict=True):
        due = "" if gauge.due is UNSET else f", due {gauge.due}"
        demo = " (demo)" if gauge.demo is True else ""
        click.echo(f"{definition}  gauge {gauge.number}, {', '.join(gauge.kinds)}{due}{demo}{_unless_new(is_new)}")
    if shifts is not None and published_shifts is not None:
        definition, is_new = published_shifts
        times = ", ".join(f"{start.shift} {start.starts}" for start in shifts.shifts)
        click.echo(f"{definition}  shifts: {times} ({shifts.time_zone}){_unless_new(is_new)}")


def _unless_new(is_new: bool) -> str:
    return "" if is_new else "; it says the same already, so nothing was written"
