# SPDX-License-Identifier: Apache-2.0
"""Serve a works: over HTTP for this machine alone, or over HTTPS for the tablets of its network."""

from __future__ import annotations

import os
import signal
import socket
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, replace
from ipaddress import ip_address
from pathlib import Path
from typing import Any, NoReturn

import click
from gunicorn.app.wsgiapp import run

from tallywright.cli.certificate import print_ways, warning_of
from tallywright.clock import SystemClock
from tallywright.config import PREFIX, Config
from tallywright.errors import NameNotPermitted, NotReady, TallywrightError, WrongUse
from tallywright.trust.certificates import names_of
from tallywright.trust.kept import AuthorityFolder, check_own, read_certificate
from tallywright.trust.names import Names, names_from, names_of_machine

LOOK_SECONDS, DAY_MS = 60, 24 * 60 * 60 * 1000
EVERYWHERE, HERE = "0.0.0.0", "127.0.0.1"  # noqa: S104 - tablets come over the network
PLAIN_PORT, TLS_PORT, TRUST_PORT = 8000, 8443, 8080
NAME_SERVICE = Path("/run/avahi-daemon/socket")  # there where this machine's .local name is announced


@dataclass(frozen=True, slots=True)
class Listening:
    """Where to listen, as the options say it."""

    port: int | None
    hosts: tuple[str, ...]
    tls: bool
    trust_port: int
    certificate: Path | None
    key: Path | None
    also: tuple[str, ...]

    def is_own(self, config: Config) -> bool:
        """True where the works has a certificate of its own."""
        return self.certificate is not None or config.certificate is not None

    def is_tls(self, config: Config) -> bool:
        """True where tablets of the network are served, over HTTPS."""
        return self.tls or self.is_own(config)

    def places(self, is_tls: bool) -> tuple[tuple[str, ...], int]:
        """Hosts and port to serve at."""
        usual, port = (EVERYWHERE, TLS_PORT) if is_tls else (HERE, PLAIN_PORT)
        return self.hosts or (usual,), self.port or port


def listening_options(command: Callable[..., Any]) -> Callable[..., Any]:
    """Add the options of everything that serves, handed over as one Listening."""
    port, file = click.IntRange(1, 65535), click.Path(path_type=Path)

    def gathered(*arguments: Any, **options: Any) -> Any:
        listening = Listening(**{name: options.pop(name) for name in Listening.__dataclass_fields__})
        return command(*arguments, listening=listening, **options)

    gathered.__name__, gathered.__doc__ = command.__name__, command.__doc__
    gathered.__click_params__ = getattr(command, "__click_params__", [])  # type: ignore[attr-defined]  # click's
    for option in (
        click.option("--also", multiple=True, help="A further name or address that tablets open it by."),
        click.option("--key", type=file, help="The key of your own certificate."),
        click.option(
            "--certificate", type=file, help="Your own certificate and its chain, in place of a local one."
        ),
        click.option(
            "--trust-port",
            type=port,
            default=TRUST_PORT,
            show_default=True,
            help="Port of the page that shows trust.",
        ),
        click.option("--tls", is_flag=True, help="Serve tablets over HTTPS, with a certificate made here."),
        click.option(
            "--host", "hosts", multiple=True, help="Address to listen at; with TLS every one of the machine."
        ),
        click.option("--port", type=port, help=f"Port to serve at: {PLAIN_PORT}, with TLS {TLS_PORT}."),
    ):
        option(gathered)
    return gathered


def serve_works(config: Config, listening: Listening) -> NoReturn:
    """Serve until a signal ends it; raises what a certificate, a name or an option can be refused for."""
    certificate = listening.certificate or config.certificate
    key = listening.key or config.key
    if (certificate is None) is not (key is None):
        raise WrongUse("--certificate and --key belong together. Give both, or neither.")
    if certificate is not None and key is not None:
        own = replace(config, certificate=certificate.absolute(), key=key.absolute())
        check_own(certificate, key)
        _serve_own(own, listening)
    if listening.tls:
        _serve_trusted(config, listening)
    hosts, port = listening.places(is_tls=False)
    # gunicorn takes this process over, so that a signal reaches it and nobody else, and what is imported stays so.
    os.environ.update(_environment(config))
    sys.argv = _gunicorn("create_app", hosts, port)[2:]
    sys.stdout.flush()
    run()
    sys.exit(0)


def check_ports(config: Config, listening: Listening) -> None:
    """Refuse what is no address, and a port somebody else serves at; raises WrongUse, NotReady."""
    for host in listening.hosts:
        try:
            ip_address(host)
        except ValueError as problem:
            raise WrongUse(f"--host {host} is no address. Write one of this machine's, as 192.0.2.7.") from problem
    hosts, port = listening.places(listening.is_tls(config))
    has_page = listening.tls and not listening.is_own(config)
    for host in hosts:
        for taken in (port, listening.trust_port) if has_page else (port,):
            _check_port(host, taken)


def _check_port(host: str, port: int) -> None:
    with socket.socket(socket.AF_INET6 if ":" in host else socket.AF_INET) as probe:
        probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        try:
            probe.bind((host, port))
        except OSError as problem:
            raise NotReady(
                f"Port {port} at {host} is in use or not allowed. Choose another with --port or --trust-port."
            ) from problem


def _serve_trusted(config: Config, listening: Listening) -> NoReturn:
    """Serve with a certificate of the local authority, and beside it the page that shows how to trust that."""
    hosts, port = listening.places(is_tls=True)
    folder = AuthorityFolder(config.authority_folder, SystemClock())
    said = names_from((*listening.also, *(host for host in hosts if host not in (EVERYWHERE, "::"))))

    def wanted() -> Names:
        return said + names_of_machine()

    kept = folder.keep(wanted())
    unknown = said - (said - kept.left_out)
    if unknown:
        raise NameNotPermitted(
            f"The authority that tablets trust cannot vouch for {unknown}. Leave it out, or make another authority "
            "with `tallywright certificate --new-authority`: every tablet then has to trust that one."
        )
    names = names_of(kept.certificate)
    page_host = str((said + names_of_machine()).addresses[0])
    config = replace(
        config,
        certificate=folder.server_file,
        key=folder.server_file,
        address=config.address or f"https://{_written(_preferred(said))}:{port}/",
        trust_page=f"http://{_written(page_host)}:{listening.trust_port}/",
    )
    if kept.left_out:
        click.echo(f"Not in the certificate, because the authority was made without it: {kept.left_out}", err=True)
    print_ways(config, names)

    def look() -> None:
        again = folder.keep(wanted())
        if again.is_new:
            click.echo(f"A new certificate is in use, for {names_of(again.certificate)}.")

    page = _gunicorn("web.trust_page:create_trust_page", hosts, listening.trust_port, workers=1)
    _supervise(config, [_gunicorn("create_app", hosts, port, config), page], look)


def _serve_own(config: Config, listening: Listening) -> NoReturn:
    """Serve with files of the works' own, which somebody else renews."""
    hosts, port = listening.places(is_tls=True)
    assert config.certificate is not None  # noqa: S101 - the caller looked
    names = names_of(read_certificate(config.certificate))
    first = next((name for name in names.texts if "*" not in name), HERE)
    config = replace(config, address=config.address or f"https://{_written(first)}:{port}/", trust_page="")
    print_ways(config, names)
    _supervise(config, [_gunicorn("create_app", hosts, port, config)], lambda: None)


def _preferred(said: Names) -> str:
    """The name or address that tablets are shown: their records belong to it, so a name that stays is best."""
    found = names_of_machine()
    local = [name for name in found.hosts if name.endswith(".local")] if NAME_SERVICE.exists() else []
    return (*said.texts, *local, *map(str, found.addresses))[0]


def _supervise(config: Config, commands: list[list[str]], look: Callable[[], None]) -> NoReturn:
    """Run the servers until one ends or a signal comes, and look at the certificate now and then."""
    stop = threading.Event()
    for number in (signal.SIGTERM, signal.SIGINT, signal.SIGHUP):
        signal.signal(number, lambda *_: stop.set())
    sys.stdout.flush()
    environment = _environment(config)
    servers = [subprocess.Popen(words, env=environment) for words in commands]  # noqa: S603 - our own interpreter
    assert config.certificate is not None  # noqa: S101 - there is one where TLS is
    next_look, warned_on = time.monotonic(), -1
    while all(server.poll() is None for server in servers) and not stop.wait(1):
        if time.monotonic() < next_look:
            continue
        next_look += LOOK_SECONDS
        now = SystemClock().now_ms()
        try:
            look()
            warning = warning_of(config.certificate, now)
        except (TallywrightError, OSError) as problem:
            warning = f"The certificate could not be looked after: {problem}"
        if warning and now // DAY_MS != warned_on:
            warned_on = now // DAY_MS
            click.echo(warning, err=True)
    for server in servers:
        server.terminate()
    for server in servers:
        server.wait()
    sys.exit(0 if stop.is_set() else 1)


def _gunicorn(
    application: str, hosts: tuple[str, ...], port: int, tls: Config | None = None, workers: int = 2
) -> list[str]:
    module, _, factory = application.rpartition(":")
    words = [sys.executable, "-m", "gunicorn", "--worker-class", "gthread", "--workers", str(workers)]
    # What a proxy says of a request is believed in one place only, and there of proxies that were named.
    words += ["--threads", "4", "--log-level", "warning", "--forwarded-allow-ips", "", "--preload"]
    words += ["--config", "python:tallywright.cli.gunicorn_settings"]
    for host in hosts:
        words += ["--bind", f"{_written(host)}:{port}"]
    if tls is not None:
        words += ["--certfile", str(tls.certificate), "--keyfile", str(tls.key)]
    return [*words, f"tallywright{'.' if module else ''}{module}:{factory}()"]


def _environment(config: Config) -> dict[str, str]:
    """This process's environment with the settings as they are now."""
    settings = {
        "DATA": config.data,
        "DATABASE_URL": config.database_url,
        "DEMO": "yes" if config.demo else "no",
        "CERTIFICATE": config.certificate or "",
        "KEY": config.key or "",
        "AUTHORITY": config.authority_folder,
        "ADDRESS": config.address,
        "TRUST_PAGE": config.trust_page,
        "PROXIES": ",".join(map(str, config.proxies)),
    }
    return {**os.environ, **{f"{PREFIX}{name}": str(value) for name, value in settings.items()}}


def _written(host: str) -> str:
    """A host as it stands in an address."""
    return f"[{host}]" if ":" in host else host
