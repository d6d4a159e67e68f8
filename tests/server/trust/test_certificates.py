# SPDX-License-Identifier: Apache-2.0
"""The certificates parsed back, and judged from outside by OpenSSL where it is installed.

RFC 5280, 4.2.1.9 (basic constraints), 4.2.1.10 (name constraints), 4.2.1.12 (extended key usage). 397 days: the
CA/Browser Forum's baseline requirements, 6.3.2, which allow 398 and name 397 as the longest to be issued.
"""

from __future__ import annotations

import hashlib
import shutil
import subprocess
from datetime import timedelta
from ipaddress import ip_address, ip_network
from pathlib import Path
from typing import TypeVar

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509.oid import ExtendedKeyUsageOID

from tallywright.trust.certificates import (
    Signed,
    at,
    fingerprint,
    make_authority,
    make_server_certificate,
    names_of,
    permitted_by,
)
from tallywright.trust.names import THIS_MACHINE, Names, names_from
from tests.actors import NOON

T = TypeVar("T", bound=x509.ExtensionType)
HALL = names_from(["hall.local", "hall", "192.168.7.20"])
NOW = at(NOON)


@pytest.fixture(scope="module")
def authority() -> Signed:
    return make_authority(HALL, NOW)


@pytest.fixture(scope="module")
def server(authority: Signed) -> Signed:
    return make_server_certificate(authority, HALL + THIS_MACHINE, NOW)


def extension(signed: Signed, sort: type[T]) -> tuple[T, bool]:
    found = signed.certificate.extensions.get_extension_for_class(sort)
    return found.value, found.critical


def test_the_server_is_named_by_every_name_and_address(server: Signed) -> None:
    assert names_of(server.certificate) == HALL + THIS_MACHINE


def test_the_servers_certificate_lasts_397_days_and_begins_for_clocks_that_are_a_day_behind(server: Signed) -> None:
    begins, ends = server.certificate.not_valid_before_utc, server.certificate.not_valid_after_utc
    assert begins == NOW - timedelta(days=1)
    assert ends - begins == timedelta(days=397)


def test_a_certificate_never_outlives_its_authority(authority: Signed) -> None:
    late = authority.certificate.not_valid_after_utc - timedelta(days=20)
    last = make_server_certificate(authority, HALL, late).certificate
    assert last.not_valid_after_utc == authority.certificate.not_valid_after_utc


def test_the_authority_signs_no_further_authority(authority: Signed) -> None:
    assert extension(authority, x509.BasicConstraints) == (x509.BasicConstraints(ca=True, path_length=0), True)


def test_the_authority_signs_certificates_and_nothing_else(authority: Signed) -> None:
    usage, critical = extension(authority, x509.KeyUsage)
    assert critical
    assert usage.key_cert_sign
    assert not any((usage.digital_signature, usage.crl_sign, usage.key_agreement, usage.key_encipherment))


def test_the_server_cannot_sign_certificates(server: Signed) -> None:
    usage, critical = extension(server, x509.KeyUsage)
    assert (usage.digital_signature, usage.key_cert_sign, critical) == (True, False, True)
    assert extension(server, x509.BasicConstraints) == (x509.BasicConstraints(ca=False, path_length=None), True)


def test_both_are_good_for_servers_only(authority: Signed, server: Signed) -> None:
    for signed in (authority, server):
        assert list(extension(signed, x509.ExtendedKeyUsage)[0]) == [ExtendedKeyUsageOID.SERVER_AUTH]


def test_the_authority_is_bound_to_its_names_and_to_private_addresses(authority: Signed) -> None:
    constraints, critical = extension(authority, x509.NameConstraints)
    assert critical
    permitted = constraints.permitted_subtrees or []
    assert {one.value for one in permitted if isinstance(one, x509.DNSName)} == {"hall.local", "hall", "localhost"}
    networks = [one.value for one in permitted if isinstance(one, x509.IPAddress)]
    # RFC 1918, 3927, 4193, 4291: nobody on the internet answers at any of them.
    assert all(network.is_private or network.is_link_local for network in networks)
    assert ip_network("192.168.0.0/16") in networks


def test_an_address_that_is_not_private_is_permitted_alone() -> None:
    bound = make_authority(names_from(["203.0.113.7"]), NOW).certificate
    asked = names_from(["203.0.113.7", "203.0.113.8", "10.1.2.3", "fd00::7", "2001:db8::1"])
    assert permitted_by(bound, asked).addresses == tuple(map(ip_address, ("203.0.113.7", "10.1.2.3", "fd00::7")))


def test_a_name_is_permitted_with_what_stands_below_it_and_no_other(authority: Signed) -> None:
    asked = names_from(["hall.local", "line-2.hall.local", "other.local", "nothall.local", "hall.example"])
    assert permitted_by(authority.certificate, asked).hosts == ("hall.local", "line-2.hall.local")


def test_the_fingerprint_is_what_systems_show_and_what_the_downloaded_file_hashes_to(authority: Signed) -> None:
    shown = fingerprint(authority.certificate)
    assert len(shown.split(":")) == 32
    downloaded = authority.certificate.public_bytes(Encoding.DER)
    assert shown.replace(":", "").lower() == hashlib.sha256(downloaded).hexdigest()


@pytest.mark.skipif(shutil.which("openssl") is None, reason="the outside check needs OpenSSL's command")
class TestOpenSSL:
    """OpenSSL 3 judges name constraints of the trusted authority too."""

    @staticmethod
    def verify(folder: Path, authority: Signed, signed: Signed, name: str) -> subprocess.CompletedProcess[str]:
        for file, one in (("authority.pem", authority), ("signed.pem", signed)):
            (folder / file).write_bytes(one.certificate.public_bytes(Encoding.PEM))
        sort = "-verify_ip" if name[0].isdigit() else "-verify_hostname"
        moment = str(int(NOW.timestamp()))
        return subprocess.run(
            ["openssl", "verify", "-x509_strict", "-purpose", "sslserver", "-attime", moment, sort, name,
             "-CAfile", str(folder / "authority.pem"), str(folder / "signed.pem")],
            capture_output=True, text=True, check=False,
        )  # fmt: skip

    @pytest.mark.parametrize("name", ["hall.local", "hall", "192.168.7.20", "127.0.0.1", "localhost"])
    def test_it_takes_every_name(self, tmp_path: Path, authority: Signed, server: Signed, name: str) -> None:
        answer = self.verify(tmp_path, authority, server, name)
        assert answer.returncode == 0, answer.stderr

    @pytest.mark.parametrize("name", ["bank.example", "203.0.113.7"])
    def test_it_refuses_what_the_authority_may_not_vouch_for(
        self, tmp_path: Path, authority: Signed, name: str
    ) -> None:
        stolen = make_server_certificate(authority, names_from([name]), NOW)
        answer = self.verify(tmp_path, authority, stolen, name)
        assert answer.returncode != 0
        assert "permitted subtree violation" in answer.stderr

    def test_it_refuses_an_authority_below_this_one(self, tmp_path: Path, authority: Signed) -> None:
        below = make_authority(Names(("hall.local",)), NOW)
        signed = x509.CertificateBuilder(
            authority.certificate.subject,
            below.certificate.subject,
            below.key.public_key(),
            x509.random_serial_number(),
            NOW - timedelta(days=1),
            NOW + timedelta(days=9),
            list(below.certificate.extensions),
        )
        middle = signed.sign(authority.key, SHA256())
        leaf = make_server_certificate(Signed(middle, below.key), names_from(["hall.local"]), NOW)
        (tmp_path / "middle.pem").write_bytes(middle.public_bytes(Encoding.PEM))
        for file, one in (("authority.pem", authority), ("leaf.pem", leaf)):
            (tmp_path / file).write_bytes(one.certificate.public_bytes(Encoding.PEM))
        answer = subprocess.run(
            ["openssl", "verify", "-attime", str(int(NOW.timestamp())), "-untrusted", "middle.pem",
             "-CAfile", "authority.pem", "leaf.pem"],
            capture_output=True, text=True, check=False, cwd=tmp_path,
        )  # fmt: skip
        assert answer.returncode != 0
        assert "path length constraint exceeded" in answer.stderr
