# SPDX-License-Identifier: Apache-2.0
"""The folder of the authority: its key and certificate, and the server's, which is renewed in time."""

from __future__ import annotations

from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from cryptography import x509
from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

from tallywright.clock import Clock
from tallywright.errors import CertificateUnusable
from tallywright.trust.certificates import (
    A_DAY,
    Signed,
    at,
    make_authority,
    make_server_certificate,
    names_of,
    permitted_by,
)
from tallywright.trust.key_file import write_key_file
from tallywright.trust.names import Names

AUTHORITY_FILE = "authority.crt"
RENEW_BEFORE = 60 * A_DAY
WARN_BEFORE = 30 * A_DAY


@dataclass(frozen=True, slots=True)
class Kept:
    """The certificate after a look at it, whether it is a new one, and names its authority cannot vouch for."""

    certificate: x509.Certificate
    is_new: bool
    left_out: Names


@dataclass(frozen=True)
class AuthorityFolder:
    """The authority's files, apart from the log. Only the authority's certificate is ever served."""

    folder: Path
    clock: Clock

    @property
    def authority_key(self) -> Path:
        """The key that signs certificates, readable by its user only."""
        return self.folder / "authority.key"

    @property
    def authority_file(self) -> Path:
        """The certificate that tablets are told to trust."""
        return self.folder / AUTHORITY_FILE

    @property
    def server_file(self) -> Path:
        """Key and certificate of the server in one file, so that one is never there without the other."""
        return self.folder / "server.pem"

    def keep(self, wanted: Names) -> Kept:
        """Make what is missing, and a new certificate where one is due or a wanted name is not in the present one.

        A name that is gone stays until the next renewal: a cable that was pulled for a minute changes nothing.
        """
        authority = self._authority(wanted)
        names = permitted_by(authority.certificate, wanted)
        present = self._present(authority)
        now = at(self.clock.now_ms())
        if present is not None:
            ends = present.not_valid_after_utc
            # An authority near its own end signs nothing that lasts longer.
            is_due = ends - now < RENEW_BEFORE and ends < authority.certificate.not_valid_after_utc
            if not is_due and not names - names_of(present):
                return Kept(present, False, wanted - names)
        signed = make_server_certificate(authority, names, now)
        write_key_file(self.server_file, _key_text(signed.key) + signed.certificate.public_bytes(Encoding.PEM))
        return Kept(signed.certificate, True, wanted - names)

    def renounce(self) -> None:
        """Take authority and certificate away: the next look makes others, and every tablet has to trust anew."""
        for file in (self.server_file, self.authority_file, self.authority_key):
            file.unlink(missing_ok=True)

    def _authority(self, wanted: Names) -> Signed:
        if self.authority_key.exists() and self.authority_file.exists():
            key = load_pem_private_key(self.authority_key.read_bytes(), password=None)
            certificate = read_certificate(self.authority_file)
            if not isinstance(key, ec.EllipticCurvePrivateKey) or key.public_key() != certificate.public_key():
                raise CertificateUnusable(
                    f"{self.authority_key} is not the key of {self.authority_file}. Put the right one back, or "
                    "make another authority with `tallywright certificate --new-authority`: every tablet then has "
                    "to trust that one."
                )
            return Signed(certificate, key)
        self.folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        authority = make_authority(wanted, at(self.clock.now_ms()))
        write_key_file(self.authority_key, _key_text(authority.key))
        write_key_file(self.authority_file, authority.certificate.public_bytes(Encoding.PEM))
        return authority

    def _present(self, authority: Signed) -> x509.Certificate | None:
        """The server's certificate, if this authority signed it."""
        if not self.server_file.exists():
            return None
        certificate = read_certificate(self.server_file)
        try:
            certificate.verify_directly_issued_by(authority.certificate)
        except (InvalidSignature, ValueError, TypeError):
            return None
        return certificate


def read_certificate(path: Path) -> x509.Certificate:
    """Return the first certificate of a PEM file, read anew when the file changed; raises CertificateUnusable."""
    try:
        changed = path.stat().st_mtime_ns
        return _read(path, changed)
    except (OSError, ValueError) as problem:
        raise CertificateUnusable(f"No certificate can be read from {path}: {problem}") from problem


@lru_cache(maxsize=8)
def _read(path: Path, _changed: int) -> x509.Certificate:
    return x509.load_pem_x509_certificates(path.read_bytes())[0]


def check_own(certificate: Path, key: Path) -> None:
    """Refuse files of the works' own that do not belong together; raises CertificateUnusable."""
    found = read_certificate(certificate)
    try:
        private = load_pem_private_key(key.read_bytes(), password=None)
    except (OSError, ValueError, TypeError) as problem:
        raise CertificateUnusable(
            f"No key can be read from {key}, as PEM and without a password: {problem}"
        ) from problem
    form = Encoding.DER, PublicFormat.SubjectPublicKeyInfo
    if private.public_key().public_bytes(*form) != found.public_key().public_bytes(*form):
        raise CertificateUnusable(
            f"{key} is not the key of the certificate {certificate}. Name the pair that belongs together."
        )


def ends_at_ms(certificate: Path | None) -> int:
    """Return the last moment of a certificate in UTC milliseconds; 0 where there is none, or none can be read."""
    if certificate is None:
        return 0
    try:
        return int(read_certificate(certificate).not_valid_after_utc.timestamp() * 1000)
    except CertificateUnusable:
        return 0


def _key_text(key: ec.EllipticCurvePrivateKey) -> bytes:
    return key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
