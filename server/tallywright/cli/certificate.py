# SPDX-License-Identifier: Apache-2.0
"""The certificate at the console: until when it is good, where tablets learn to trust it, what is compared."""

from __future__ import annotations

import sys
from pathlib import Path

import click
import segno

from tallywright.cli.data_folder import DATA, WRONG_DATA, config_in
from tallywright.clock import SystemClock
from tallywright.config import Config
from tallywright.errors import WrongUse
from tallywright.trust.certificates import at, fingerprint, names_of
from tallywright.trust.kept import AUTHORITY_FILE, WARN_BEFORE, AuthorityFolder, read_certificate
from tallywright.trust.names import Names


@click.command(name="certificate")
@DATA
@click.option(
    "--new-authority", is_flag=True, help="Do away with the authority: every tablet has to trust another."
)
def print_certificate(data: Path | None, new_authority: bool) -> None:
    """Print the server's certificate and the authority's fingerprint; ends with 1 in the last 30 days."""
    config = config_in(data)
    folder = AuthorityFolder(config.authority_folder, SystemClock())
    if new_authority:
        folder.renounce()
        click.echo(
            "The authority is done away with. The next start of `tallywright serve --tls` makes another one,"
        )
        click.echo(
            "a running server within a minute. Take the old one off every tablet, and trust the new one there."
        )
        return
    file = config.certificate or folder.server_file
    if not file.exists():
        raise WrongUse(f"There is no certificate at {file} yet. `tallywright serve --tls` makes one.")
    found = read_certificate(file)
    click.echo(f"The certificate {file} is for {names_of(found)}.")
    click.echo(f"It is good until {found.not_valid_after_utc:%Y-%m-%d}.")
    if config.certificate is None:
        _print_fingerprint(folder.authority_file)
    warning = warning_of(file, SystemClock().now_ms())
    if warning:
        click.echo(warning, err=True)
        sys.exit(WRONG_DATA)


def warning_of(file: Path, now_ms: int) -> str:
    """Return what has to be said in the last 30 days of a certificate; nothing before."""
    ends = read_certificate(file).not_valid_after_utc
    left = ends - at(now_ms)
    if left > WARN_BEFORE:
        return ""
    if left.total_seconds() <= 0:
        return (
            f"The certificate {file} ended on {ends:%Y-%m-%d}: tablets go on recording and send nothing. Renew it."
        )
    return f"The certificate {file} ends on {ends:%Y-%m-%d}, in {left.days} days. Renew it before."


def print_ways(config: Config, names: Names) -> None:
    """Print how tablets reach this server, and how they come to trust it."""
    click.echo(f"The works is served at {config.address}  (Ctrl+C ends it.)")
    click.echo(f"Its certificate is for {names}.")
    if not config.trust_page:
        return
    click.echo(f"A tablet that does not trust this server yet opens {config.trust_page} first,")
    click.echo("and whoever holds it compares what it shows with this:")
    _print_fingerprint(config.authority_folder / AUTHORITY_FILE)
    if sys.stdout.isatty():
        segno.make(config.trust_page, error="m", micro=False).terminal(compact=True)


def _print_fingerprint(authority: Path) -> None:
    click.echo(f"SHA-256 of the authority: {fingerprint(read_certificate(authority))}")
