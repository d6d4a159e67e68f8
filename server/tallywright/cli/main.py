# SPDX-License-Identifier: Apache-2.0
"""The command `tallywright`. 0: done; 1: wrong data; 2: wrong use. An error is one sentence on stderr."""

from __future__ import annotations

import sys
from dataclasses import replace
from datetime import datetime
from pathlib import Path

import click
import msgspec

from tallywright.access.codes import DAY_MS, FIRST_ADMINISTRATOR, make_code
from tallywright.access.devices import every_device, every_public_key
from tallywright.access.enrolment import enrol, waiting_now
from tallywright.access.pins import set_pin
from tallywright.access.sealing import SealingKeys
from tallywright.cli.backup import backup, restore
from tallywright.cli.batch import print_batch
from tallywright.cli.certificate import print_certificate
from tallywright.cli.data_folder import DATA, WRONG_DATA, WRONG_USE, config_in, own_chain
from tallywright.cli.definitions import definitions
from tallywright.cli.export import export
from tallywright.cli.pareto import A_DAY, print_pareto
from tallywright.cli.serving import Listening, check_ports, listening_options, serve_works
from tallywright.cli.works import demo_people, open_demo, open_demo_with_weeks, open_works, prepare_data
from tallywright.clock import SystemClock
from tallywright.db import reading, writing
from tallywright.errors import TallywrightError, WrongUse
from tallywright.files.check import check_files
from tallywright.log.append import newest_number
from tallywright.log.named import named_and_not_here
from tallywright.log.own_chain import SERVER_LETTERS, load_key
from tallywright.log.verify import missing, verify
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.refold import refold
from tallywright.records.kinds import DeviceRevokedV1, WorksOpenedV1
from tallywright.records.people import PersonChangedV1
from tallywright.reports.set_aside import set_aside_list

ROLES = ("inspector", "operator", "lead", "administrator", "reader")


def main() -> None:
    """Run a command and turn our errors into one sentence and an exit code."""
    try:
        tallywright.main(standalone_mode=False)
    except click.ClickException as problem:
        click.echo(problem.format_message(), err=True)
        sys.exit(WRONG_USE)
    except click.Abort:
        sys.exit(WRONG_USE)
    except TallywrightError as problem:
        click.echo(problem.sentence, err=True)
        sys.exit(WRONG_USE)


@click.group()
def tallywright() -> None:
    """Tallies, two full looks and a provable record for batches of metal parts."""


tallywright.add_command(backup)
tallywright.add_command(restore)
tallywright.add_command(export)
tallywright.add_command(definitions)
tallywright.add_command(print_batch)
tallywright.add_command(print_pareto)
tallywright.add_command(print_certificate)


@tallywright.command()
@DATA
@listening_options
@click.option("--until", type=A_DAY, help="Last day of the weeks that are told, as 2026-11-25; left out for today.")
@click.option("--weeks/--no-weeks", default=True, help="With six weeks behind it, or on its first day.")
def demo(data: Path | None, listening: Listening, until: datetime | None, weeks: bool) -> None:
    """Make an invented works and serve it on this machine."""
    config = replace(config_in(data), demo=True)
    check_ports(config, listening)
    engine = prepare_data(config)
    keys = SealingKeys(config.data, SystemClock())
    if weeks:
        day = None if until is None else until.date()
        open_demo_with_weeks(engine, load_key(config.key_file), keys, day)
    else:
        open_demo(engine, own_chain(config), keys)
    engine.dispose()
    if not listening.is_tls(config):
        _, port = listening.places(is_tls=False)
        click.echo(f"The demo works is open at http://127.0.0.1:{port}/  (Ctrl+C ends it.)")
    click.echo("Everything in it is invented: its limits and classes are advice for nobody.")
    click.echo(
        "Its people, and their PINs: " + ", ".join(f"{name} {pin}" for name, pin in demo_people(weeks)) + "."
    )
    serve_works(config, listening)


@tallywright.command()
@DATA
@click.option("--name", required=True, help="Name of the works.")
@click.option("--time-zone", default="Europe/Berlin", show_default=True, help="IANA zone of the works.")
@click.option("--address", default="http://127.0.0.1:8000/", show_default=True, help="Where it will be served.")
def init(data: Path | None, name: str, time_zone: str, address: str) -> None:
    """Open a works in an empty data folder, and print the link for its first administrator."""
    config = config_in(data)
    engine = prepare_data(config)
    own = own_chain(config)
    open_works(engine, own, WorksOpenedV1(name=name, time_zone=time_zone, demo=False))
    with writing(engine) as connection:
        word = make_code(connection, own.clock, FIRST_ADMINISTRATOR, DAY_MS)
    click.echo(f"The works '{name}' is open in {config.data}. Serve it with `tallywright serve`, then open once:")
    click.echo(f"{address.rstrip('/')}/#first={word}")
    click.echo("The link makes one administrator, works once, and ends after a day.")


@tallywright.command()
@DATA
@listening_options
def serve(data: Path | None, listening: Listening) -> None:
    """Serve the works of a data folder: on this machine alone, or to tablets over HTTPS."""
    config = config_in(data)
    check_ports(config, listening)
    prepare_data(config).dispose()
    serve_works(config, listening)


@tallywright.command()
@DATA
def code(data: Path | None) -> None:
    """Print a code for one tablet, good for ten minutes; `approve` or an administrator then lets it in."""
    config = config_in(data)
    engine = prepare_data(config)
    own = own_chain(config)
    with writing(engine) as connection:
        own.name(connection)
        text = make_code(connection, own.clock)
    click.echo(f"{text[:4]}-{text[4:]}")


@tallywright.command()
@DATA
@click.option("--number", required=True, help="The six digits the tablet shows.")
def approve(data: Path | None, number: str) -> None:
    """Enrol the tablet that waits and shows this number."""
    config = config_in(data)
    engine = prepare_data(config)
    own = own_chain(config)
    with writing(engine) as connection:
        waiting = waiting_now(connection, own.clock.now_ms())
        found = [one for one in waiting if one.number == number.replace(" ", "")]
        if len(found) != 1:
            raise WrongUse(f"No tablet that shows {number} waits. Type its code again, and compare the number.")
        enrolled = enrol(connection, own, found[0].public_key, found[0].name)
    click.echo(f"{found[0].name} is enrolled; its letters are {enrolled.letters}.")


@tallywright.command()
@DATA
def devices(data: Path | None) -> None:
    """List every device that was enrolled, by the letters of its tags."""
    engine = prepare_data(config_in(data))
    with reading(engine) as connection:
        for device, letters, name, is_revoked in every_device(connection):
            click.echo(f"{letters}  {name}  {device}{'  revoked' if is_revoked else ''}")


@tallywright.command()
@DATA
@click.option("--letters", required=True, help="Letters of the device's tags.")
@click.option("--why", default="lost", show_default=True, help="What happened to it.")
def revoke(data: Path | None, letters: str, why: str) -> None:
    """Revoke a tablet that was lost or stolen: its reads stop, what it pushes is set aside."""
    config = config_in(data)
    engine = prepare_data(config)
    own = own_chain(config)
    with writing(engine) as connection:
        found = {text: device for device, text, _, is_revoked in every_device(connection) if not is_revoked}
        if letters not in found or letters == SERVER_LETTERS:
            raise WrongUse(f"No tablet in use has the letters {letters}. `tallywright devices` lists them.")
        [record] = own.write(connection, [DeviceRevokedV1(device=found[letters], why=why)])
        refold(connection, [record.subject])
    click.echo(f"{letters} is revoked.")


@tallywright.command()
@DATA
@click.option("--name", required=True, help="Name as it appears on signatures.")
@click.option("--role", "roles", multiple=True, type=click.Choice(ROLES), required=True, help="What they may do.")
def person(data: Path | None, name: str, roles: tuple[str, ...]) -> None:
    """Add a person; the PIN is asked for, or read from standard input where nobody types."""
    config = config_in(data)
    engine = prepare_data(config)
    own = own_chain(config)
    with reading(engine) as connection:
        own.name(connection)
    typed = sys.stdin.isatty()
    pin = click.prompt("PIN", hide_input=True, confirmation_prompt=True) if typed else sys.stdin.readline().strip()
    body = msgspec.convert({"name": name, "roles": roles}, PersonChangedV1)
    with writing(engine) as connection:
        [record] = own.write(connection, [body])
        set_pin(connection, own.clock.now_ms(), record.id, roles, pin)
        refold(connection, [record.subject])
    click.echo(f"{name} may sign on now.")


@tallywright.command(name="set-aside")
@DATA
def list_set_aside(data: Path | None) -> None:
    """List what was set aside, by tablet and reason, and how much of it a lead can still admit."""
    engine = prepare_data(config_in(data))
    with reading(engine) as connection:
        found = set_aside_list(connection)
    for one in found:
        who = f"{one.letters or '??'}  {one.name}  {one.chain}".rstrip()
        click.echo(f"{who}  {one.code}: {one.count}, of these admitted {one.admitted}, admissible {one.admissible}")
    if not found:
        click.echo("Nothing was set aside.")


@tallywright.command(name="verify")
@DATA
def verify_log(data: Path | None) -> None:
    """Check every record, link, mark and signature of the log, and every file."""
    config = config_in(data)
    engine = prepare_data(config)
    with reading(engine) as connection:
        findings = list(verify(connection, every_public_key(connection)))
        lost = missing(connection, own_chain(config)) if newest_number(connection) else []
        noticed = {chain for chain, _, _ in lost}
        named = [one for one in named_and_not_here(connection) if one.chain not in noticed]
        tablets = {device: f"{letters} {name}" for device, letters, name, _ in every_device(connection)}
        files = check_files(connection)
    engine.dispose()
    for chain, first, last in lost:
        click.echo(f"{chain}:{first} to {last}: lost when the database was put back to an older copy")
    for one in named:
        whose = tablets.get(one.device, "a tablet that is not known")
        click.echo(
            f"{one.chain}:{one.first} to {one.last}: of {whose}; record {one.by} names them, and they are not "
            "here: lost when the database was put back, unless that tablet still sends them"
        )
    for finding in findings:
        click.echo(f"{finding.record}: {finding.what}")
    for name in files.broken:
        click.echo(f"{name}: the bytes of this file were changed")
    for record, name in files.missing:
        click.echo(f"{record}: its file {name} is not here; a tablet that still holds it sends it")
    click.echo(f"{files.here} files are here and whole, {len(files.missing)} that records name are missing.")
    if findings or files.broken:
        sys.exit(WRONG_DATA)
    click.echo("The log is whole.")


@tallywright.command(name="rebuild")
@DATA
@click.option("--check", is_flag=True, help="Compare the rebuilt rows with the present ones and change nothing.")
def rebuild_rows(data: Path | None, check: bool) -> None:
    """Fold everything anew from the log."""
    engine = prepare_data(config_in(data))
    with writing(engine) as connection:
        before = rows(connection)
        stale = rebuild(connection)
        different = [name for name, found in rows(connection).items() if found != before[name]]
        if check:
            transaction = connection.get_transaction()
            assert transaction is not None  # noqa: S101 - writing() began it
            transaction.rollback()
    engine.dispose()
    for subject in stale:
        click.echo(f"{subject}: could not be folded")
    for name in different if check else []:
        click.echo(f"{name}: the rows differ from what the log says")
    if stale or (check and different):
        sys.exit(WRONG_DATA)
    click.echo("The rows are what the log says." if check else "All rows were folded anew.")


if __name__ == "__main__":
    main()
