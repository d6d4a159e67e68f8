# SPDX-License-Identifier: Apache-2.0
"""The authority's folder: made at the first look, renewed well before the end, never readable by others."""

from __future__ import annotations

import stat
from datetime import timedelta
from pathlib import Path

import pytest
from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat

from tallywright.errors import CertificateUnusable
from tallywright.trust.certificates import at, make_authority, make_server_certificate, names_of
from tallywright.trust.kept import AuthorityFolder, check_own, ends_at_ms, read_certificate
from tallywright.trust.names import Names, names_from
from tests.actors import NOON, ScriptedClock

DAY_MS = 24 * 60 * 60 * 1000
HALL = names_from(["hall.local", "192.168.7.20"])


@pytest.fixture
def clock() -> ScriptedClock:
    return ScriptedClock()


@pytest.fixture
def folder(tmp_path: Path, clock: ScriptedClock) -> AuthorityFolder:
    return AuthorityFolder(tmp_path / "authority", clock)


def test_the_first_look_makes_authority_and_certificate(folder: AuthorityFolder) -> None:
    kept = folder.keep(HALL)
    assert kept.is_new
    kept.certificate.verify_directly_issued_by(read_certificate(folder.authority_file))


def test_keys_are_for_their_user_only_and_so_is_the_folder(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    modes = {path.name: stat.S_IMODE(path.stat().st_mode) for path in folder.folder.iterdir()}
    assert modes["authority.key"] == modes["server.pem"] == 0o600
    assert stat.S_IMODE(folder.folder.stat().st_mode) == 0o700


def test_a_second_look_changes_nothing(folder: AuthorityFolder) -> None:
    first = folder.keep(HALL).certificate
    again = folder.keep(HALL)
    assert (again.certificate, again.is_new) == (first, False)


def test_nothing_is_left_behind_by_writing(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    assert {path.name for path in folder.folder.iterdir()} == {"authority.key", "authority.crt", "server.pem"}


def test_it_is_renewed_60_days_before_its_end_and_not_a_day_earlier(
    folder: AuthorityFolder, clock: ScriptedClock
) -> None:
    first = folder.keep(HALL).certificate
    ends = int(first.not_valid_after_utc.timestamp() * 1000)
    clock.now = ends - 60 * DAY_MS
    assert not folder.keep(HALL).is_new
    clock.now += 1000
    renewed = folder.keep(HALL)
    assert renewed.is_new
    assert renewed.certificate.not_valid_after_utc == at(clock.now) + timedelta(days=396)
    assert renewed.certificate.serial_number != first.serial_number


def test_a_renewed_certificate_is_of_the_authority_that_tablets_trust(
    folder: AuthorityFolder, clock: ScriptedClock
) -> None:
    folder.keep(HALL)
    authority = folder.authority_file.read_bytes()
    for _ in range(9):
        clock.now += 380 * DAY_MS
        assert folder.keep(HALL).is_new
    assert folder.authority_file.read_bytes() == authority


def test_an_authority_near_its_end_signs_nothing_again_and_again(
    folder: AuthorityFolder, clock: ScriptedClock
) -> None:
    folder.keep(HALL)
    last = read_certificate(folder.authority_file).not_valid_after_utc
    clock.now = int((last - timedelta(days=50)).timestamp() * 1000)
    assert folder.keep(HALL).certificate.not_valid_after_utc == last
    clock.now += DAY_MS
    assert not folder.keep(HALL).is_new


def test_a_new_address_is_in_a_new_certificate_at_once(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    moved = names_from(["hall.local", "192.168.9.4"])
    kept = folder.keep(moved)
    assert kept.is_new
    assert names_of(kept.certificate) == moved


def test_an_address_that_is_gone_for_a_while_changes_nothing(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    assert not folder.keep(names_from(["hall.local"])).is_new


def test_a_name_the_authority_cannot_vouch_for_is_left_out_and_named(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    kept = folder.keep(HALL + names_from(["works.example"]))
    assert (kept.is_new, kept.left_out) == (False, names_from(["works.example"]))


def test_another_authority_makes_another_certificate(folder: AuthorityFolder) -> None:
    first = folder.keep(HALL).certificate
    folder.renounce()
    kept = folder.keep(HALL + names_from(["works.example"]))
    assert kept.left_out == Names()
    assert kept.certificate.issuer == read_certificate(folder.authority_file).subject
    assert kept.certificate != first


def test_a_certificate_of_another_authority_is_not_kept(folder: AuthorityFolder, clock: ScriptedClock) -> None:
    folder.keep(HALL)
    stranger = make_authority(HALL, at(clock.now))
    folder.server_file.write_bytes(pem(make_server_certificate(stranger, HALL, at(clock.now)).certificate))
    assert folder.keep(HALL).is_new


def test_a_key_that_is_not_the_authoritys_stops_the_start(folder: AuthorityFolder) -> None:
    folder.keep(HALL)
    folder.authority_key.write_bytes(key_text(ec.generate_private_key(ec.SECP256R1())))
    with pytest.raises(CertificateUnusable, match="is not the key of"):
        folder.keep(HALL)


def pem(certificate: x509.Certificate) -> bytes:
    return certificate.public_bytes(Encoding.PEM)


def key_text(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())


@pytest.fixture
def own(tmp_path: Path) -> tuple[Path, Path]:
    """Files of the works' own, with their chain behind the certificate."""
    authority = make_authority(HALL, at(NOON))
    server = make_server_certificate(authority, HALL, at(NOON))
    certificate, key = tmp_path / "own.pem", tmp_path / "own.key"
    certificate.write_bytes(pem(server.certificate) + pem(authority.certificate))
    key.write_bytes(key_text(server.key))
    return certificate, key


def test_files_of_the_works_own_are_taken_when_they_belong_together(own: tuple[Path, Path]) -> None:
    check_own(*own)


def test_a_key_of_another_certificate_is_refused(own: tuple[Path, Path]) -> None:
    certificate, key = own
    key.write_bytes(key_text(ec.generate_private_key(ec.SECP256R1())))
    with pytest.raises(CertificateUnusable, match="is not the key of the certificate"):
        check_own(certificate, key)


@pytest.mark.parametrize("content", [b"", b"-----BEGIN CERTIFICATE-----\nAAAA\n-----END CERTIFICATE-----\n"])
def test_a_file_without_a_certificate_is_refused_by_its_name(own: tuple[Path, Path], content: bytes) -> None:
    certificate, key = own
    certificate.write_bytes(content)
    with pytest.raises(CertificateUnusable, match=r"own\.pem"):
        check_own(certificate, key)


def test_a_key_behind_a_password_is_refused(own: tuple[Path, Path]) -> None:
    from cryptography.hazmat.primitives.serialization import BestAvailableEncryption

    key = ec.generate_private_key(ec.SECP256R1())
    form = Encoding.PEM, PrivateFormat.PKCS8, BestAvailableEncryption(b"behind")
    own[1].write_bytes(key.private_bytes(*form))
    with pytest.raises(CertificateUnusable, match="without a password"):
        check_own(*own)


def test_the_last_moment_is_read_anew_when_somebody_replaced_the_file(own: tuple[Path, Path]) -> None:
    import os

    certificate, _ = own
    before = ends_at_ms(certificate)
    authority = make_authority(HALL, at(NOON + 90 * DAY_MS))
    certificate.write_bytes(pem(make_server_certificate(authority, HALL, at(NOON + 90 * DAY_MS)).certificate))
    os.utime(certificate, ns=(1, 1))
    assert ends_at_ms(certificate) == before + 90 * DAY_MS


def test_without_a_certificate_there_is_no_last_moment(tmp_path: Path) -> None:
    assert ends_at_ms(None) == ends_at_ms(tmp_path / "gone.pem") == 0


def test_the_hash_of_a_certificate_is_of_our_time(own: tuple[Path, Path]) -> None:
    assert isinstance(read_certificate(own[0]).signature_hash_algorithm, SHA256)
