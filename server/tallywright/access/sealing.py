# SPDX-License-Identifier: Apache-2.0
"""Sealing keys: a tablet seals a PIN so that this server alone can open it, and for one record only.

RSA-OAEP, 3072 bits, SHA-256; the label is the record's id, so a sealed PIN fits no other record.
"""

from __future__ import annotations

import base64
import hashlib
from dataclasses import dataclass
from pathlib import Path

from cryptography.hazmat.primitives.asymmetric import padding, rsa
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import (
    Encoding,
    NoEncryption,
    PrivateFormat,
    PublicFormat,
    load_pem_private_key,
)

from tallywright.clock import Clock
from tallywright.trust.key_file import write_key_file

BITS = 3072
DAY_MS = 24 * 60 * 60 * 1000
NEW_AFTER_MS = 7 * DAY_MS
GONE_AFTER_MS = 30 * DAY_MS


@dataclass(frozen=True, slots=True)
class SealingKey:
    """The public half: its name, and base64 of a DER SubjectPublicKeyInfo."""

    name: str
    public_key: str


class SealingKeys:
    """The server's sealing keys, one file each, readable by its user only; old ones are deleted after 30 days."""

    def __init__(self, folder: Path, clock: Clock) -> None:
        self._folder = folder
        self._clock = clock

    def current(self) -> SealingKey:
        """Return the key to seal with now; a new one is made every week."""
        now = self._clock.now_ms()
        files = sorted(self._folder.glob("sealing-*.pem"), key=lambda path: _made_at(path))
        for path in files:
            if now - _made_at(path) >= GONE_AFTER_MS:
                path.unlink(missing_ok=True)
        if files and 0 <= now - _made_at(files[-1]) < NEW_AFTER_MS:
            return _public(_load(files[-1]))
        try:
            return _public(self._make(now))
        except OSError:
            # A full disk must keep no tablet from its records; a key is good for sealing until it is deleted.
            if files and now - _made_at(files[-1]) < GONE_AFTER_MS:
                return _public(_load(files[-1]))
            raise

    def open(self, name: str, label: str, sealed: bytes) -> str | None:
        """Return what was sealed for this label, or None: another key, another label, or not sealed at all."""
        for path in self._folder.glob(f"sealing-*-{name}.pem"):
            if self._clock.now_ms() - _made_at(path) >= GONE_AFTER_MS:
                return None
            try:
                return _load(path).decrypt(sealed, _oaep(label)).decode()
            except ValueError:
                return None
        return None

    def _make(self, now: int) -> rsa.RSAPrivateKey:
        key = rsa.generate_private_key(public_exponent=65537, key_size=BITS)
        text = key.private_bytes(Encoding.PEM, PrivateFormat.PKCS8, NoEncryption())
        write_key_file(self._folder / f"sealing-{now}-{_public(key).name}.pem", text)
        return key


def seal(public_key: str, label: str, pin: str) -> bytes:
    """Seal a PIN as a tablet does: for the demo's and the tests' tablets."""
    from cryptography.hazmat.primitives.serialization import load_der_public_key

    key = load_der_public_key(base64.b64decode(public_key))
    assert isinstance(key, rsa.RSAPublicKey)  # noqa: S101 - keys of this server are
    return key.encrypt(pin.encode(), _oaep(label))


def _oaep(label: str) -> padding.OAEP:
    return padding.OAEP(mgf=padding.MGF1(SHA256()), algorithm=SHA256(), label=label.encode())


def _made_at(path: Path) -> int:
    return int(path.stem.split("-")[1])


def _load(path: Path) -> rsa.RSAPrivateKey:
    # Trying whether the primes are prime takes a tenth of a second and more, at every sign-on; `_make` chose them.
    key = load_pem_private_key(path.read_bytes(), password=None, unsafe_skip_rsa_key_validation=True)
    assert isinstance(key, rsa.RSAPrivateKey)  # noqa: S101 - written by _make
    return key


def _public(key: rsa.RSAPrivateKey) -> SealingKey:
    der = key.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return SealingKey(hashlib.sha256(der).hexdigest()[:16], base64.b64encode(der).decode())
