# SPDX-License-Identifier: Apache-2.0
"""Serving over HTTPS at the console: what is printed, what is refused, and whom the running server believes."""

from __future__ import annotations

import http.client
import os
import signal
import ssl
import stat
import time
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

from tallywright.clock import SystemClock
from tallywright.trust.certificates import A_DAY, fingerprint, make_authority, make_server_certificate
from tallywright.trust.kept import AuthorityFolder, read_certificate
from tallywright.trust.names import names_from
from tests.command import run
from tests.served import Served, free_port

HALL = names_from(["hall.local", "192.168.7.20"])


@pytest.fixture
def folder(tmp_path: Path) -> AuthorityFolder:
    made = AuthorityFolder(tmp_path / "works" / "authority", SystemClock())
    made.keep(HALL)
    return made


def data(folder: AuthorityFolder) -> str:
    return str(folder.folder.parent)


def test_the_console_prints_the_last_day_and_what_tablets_compare(folder: AuthorityFolder) -> None:
    printed = run("certificate", "--data", data(folder))
    assert (printed.returncode, printed.stderr) == (0, "")
    last = read_certificate(folder.server_file).not_valid_after_utc
    assert f"good until {last:%Y-%m-%d}" in printed.stdout
    assert fingerprint(read_certificate(folder.authority_file)) in printed.stdout


def test_before_there_is_a_certificate_the_console_says_how_to_make_one(tmp_path: Path) -> None:
    printed = run("certificate", "--data", str(tmp_path))
    assert printed.returncode == 2
    assert "`tallywright serve --tls` makes one" in printed.stderr


def own_files(folder: Path, lasts: timedelta) -> tuple[Path, Path]:
    """A certificate and a key of the works' own."""
    folder.mkdir(exist_ok=True)
    begins = datetime.now(UTC).replace(microsecond=0) + lasts - 396 * A_DAY
    made = make_server_certificate(make_authority(HALL, begins), HALL, begins)
    certificate, key = folder / "own.pem", folder / "own.key"
    certificate.write_bytes(made.certificate.public_bytes(Encoding.PEM))
    key.write_bytes(made.key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption()))
    return certificate, key


@pytest.mark.parametrize(
    ("lasts", "code", "says"),
    [
        (timedelta(days=31), 0, ""),
        (timedelta(days=29, hours=1), 1, "in 29 days. Renew it before."),
        (timedelta(hours=-1), 1, "tablets go on recording and send nothing. Renew it."),
    ],
)
def test_the_console_warns_30_days_before_the_end_of_files_of_ones_own_too(
    tmp_path: Path, lasts: timedelta, code: int, says: str
) -> None:
    certificate, key = own_files(tmp_path / "own", lasts)
    printed = run(
        "certificate", "--data", str(tmp_path),
        TALLYWRIGHT_CERTIFICATE=str(certificate), TALLYWRIGHT_KEY=str(key),
    )  # fmt: skip
    assert printed.returncode == code
    assert says in printed.stderr
    assert bool(says) is bool(printed.stderr)


def test_doing_away_with_the_authority_takes_its_files_away(folder: AuthorityFolder) -> None:
    assert run("certificate", "--new-authority", "--data", data(folder)).returncode == 0
    assert list(folder.folder.iterdir()) == []


TLS = ("serve", "--tls", "--host", "127.0.0.1")


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--also", "works.example"), "cannot vouch for works.example"),
        (("--also", "https://works.example"), "neither a host name nor an address"),
        (("--host", "hall"), "--host hall is no address"),
        (("--key", "own.key"), "belong together"),
    ],
)
def test_what_cannot_be_served_is_one_sentence(folder: AuthorityFolder, words: tuple[str, ...], says: str) -> None:
    ports = ("--port", str(free_port()), "--trust-port", str(free_port()))
    refused = run(*TLS, *words, *ports, "--data", data(folder))
    assert (refused.returncode, refused.stderr.count("\n")) == (2, 1), refused.stderr
    assert says in refused.stderr


def test_files_that_do_not_belong_together_stop_the_start(tmp_path: Path) -> None:
    certificate, _ = own_files(tmp_path / "one", timedelta(days=90))
    _, key = own_files(tmp_path / "other", timedelta(days=90))
    words = ("--certificate", str(certificate), "--key", str(key), "--port", str(free_port()))
    refused = run("serve", *words, "--host", "127.0.0.1", "--data", str(tmp_path / "works"))
    assert refused.returncode == 2
    assert "is not the key of the certificate" in refused.stderr


def fetched(port: int, path: str) -> bytes:
    """What a page says, once its server listens: the two of one command begin side by side."""
    for _ in range(300):
        page = http.client.HTTPConnection("127.0.0.1", port, timeout=10)
        try:
            page.request("GET", path)
            return page.getresponse().read()
        except ConnectionRefusedError:
            time.sleep(0.1)
        finally:
            page.close()
    raise TimeoutError(f"nobody listened at port {port} within 30 seconds")


def test_a_running_server_serves_both_ports_and_ends_both_at_a_signal(tmp_path: Path) -> None:
    port, trust_port = free_port(), free_port()
    works = tmp_path / "works"
    authority = works / "authority" / "authority.crt"
    AuthorityFolder(authority.parent, SystemClock()).keep(names_from(["hall.local"]))
    run("init", "--name", "Works", "--data", str(works))
    served = Served(
        works,
        port,
        "serve",
        options=("--tls", "--host", "127.0.0.1", "--trust-port", str(trust_port)),
        trusts=authority,
    )
    served.start()
    served_page = fetched(trust_port, "/tallywright-authority.crt")
    assert served_page == ssl.PEM_cert_to_DER_cert(authority.read_text())
    printed = (tmp_path / "server.log").read_text()
    assert fingerprint(read_certificate(authority)) in printed
    assert "PRIVATE KEY" not in printed
    assert stat.S_IMODE((authority.parent / "authority.key").stat().st_mode) == 0o600
    assert served.process is not None
    os.kill(served.process.pid, signal.SIGTERM)
    served.process.wait()
    assert (tmp_path / "server.log").read_text().endswith("The server ended with 0.\n")
    for one in (port, trust_port):
        with pytest.raises(OSError, match="refused"):
            http.client.HTTPConnection("127.0.0.1", one, timeout=10).request("GET", "/")


@pytest.mark.parametrize(("proxies", "believed"), [("", False), ("127.0.0.1", True), ("192.0.2.1", False)])
def test_the_running_server_believes_the_proxies_it_was_told_of(
    tmp_path: Path, proxies: str, believed: bool
) -> None:
    # gunicorn by itself believes whoever comes from this machine, and so would any other program on it.
    works = tmp_path / "works"
    run("init", "--name", "Works", "--data", str(works))
    served = Served(works, free_port(), "serve", settings={"TALLYWRIGHT_PROXIES": proxies})
    served.start()
    try:
        asked = http.client.HTTPConnection("127.0.0.1", served.port, timeout=10)
        asked.request("GET", "/health", headers={"X-Forwarded-Proto": "https"})
        answer = asked.getresponse()
        answer.read()
        asked.close()
    finally:
        served.stop()
    assert ("Strict-Transport-Security" in answer.headers) is believed
