# SPDX-License-Identifier: Apache-2.0
"""Device signatures over a stretch of a chain: ECDSA P-256 with SHA-256.

A browser gives the two numbers r and s as 64 bytes; the library wants them as DER.
"""

from __future__ import annotations

import base64
import binascii
from functools import lru_cache

from cryptography.exceptions import InvalidSignature
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import decode_dss_signature, encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat, load_der_public_key

from tallywright.errors import NotUnderstood

HALF = 32


def run_text(chain: str, n: int, last_hash: str) -> bytes:
    """Return the text a device signs for a stretch that ends at n."""
    return f"tallywright-run-1|{chain}|{n}|{last_hash}".encode()


def sign(key: ec.EllipticCurvePrivateKey, text: bytes) -> str:
    """Return base64 of the 64 bytes r and s."""
    r, s = decode_dss_signature(key.sign(text, ec.ECDSA(SHA256())))
    return base64.b64encode(r.to_bytes(HALF) + s.to_bytes(HALF)).decode()


def is_signed(public_key: str, text: bytes, signature: str) -> bool:
    """True when the signature over the text was made by the key (base64 of a DER SubjectPublicKeyInfo)."""
    try:
        raw = base64.b64decode(signature, validate=True)
        if len(raw) != 2 * HALF:
            return False
        der = encode_dss_signature(int.from_bytes(raw[:HALF]), int.from_bytes(raw[HALF:]))
        read_public_key(public_key).verify(der, text, ec.ECDSA(SHA256()))
    except (InvalidSignature, binascii.Error, ValueError, NotUnderstood):
        return False
    return True


@lru_cache(maxsize=256)  # each push of a tablet is verified by the same
def read_public_key(public_key: str) -> ec.EllipticCurvePublicKey:
    """Return the key of base64 text; raises NotUnderstood for anything but P-256."""
    try:
        key = load_der_public_key(base64.b64decode(public_key, validate=True))
    except (ValueError, binascii.Error) as problem:
        raise NotUnderstood("The device's key cannot be read.", member="public_key") from problem
    if not isinstance(key, ec.EllipticCurvePublicKey) or not isinstance(key.curve, ec.SECP256R1):
        raise NotUnderstood("The device's key is not an ECDSA key on P-256.", member="public_key")
    return key


def public_text(key: ec.EllipticCurvePrivateKey) -> str:
    """Return base64 of the DER SubjectPublicKeyInfo of a private key's public half."""
    der = key.public_key().public_bytes(Encoding.DER, PublicFormat.SubjectPublicKeyInfo)
    return base64.b64encode(der).decode()
