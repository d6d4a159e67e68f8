# SPDX-License-Identifier: Apache-2.0
"""Two kinds of certificate: the works' own authority, kept harmless, and the server's, signed by it.

RFC 5280. Keys are ECDSA P-256. The authority signs servers only (extended key usage), no further authority (path
length 0), and only the names it was made for and private addresses (critical name constraints).
"""

from __future__ import annotations

import hashlib
import ipaddress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from cryptography import x509
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding
from cryptography.x509.oid import ExtendedKeyUsageOID, NameOID

from tallywright.trust.names import THIS_MACHINE, Names

SERVER_DAYS = 397
AUTHORITY_DAYS = 3650
A_DAY = timedelta(days=1)
# RFC 1918, RFC 3927, RFC 4193, RFC 4291 and this machine itself: addresses nobody on the internet has.
PRIVATE = tuple(
    ipaddress.ip_network(text)
    for text in (
        "10.0.0.0/8",
        "172.16.0.0/12",
        "192.168.0.0/16",
        "169.254.0.0/16",
        "127.0.0.0/8",
        "fc00::/7",
        "fe80::/10",
        "::1/128",
    )
)


@dataclass(frozen=True, slots=True)
class Signed:
    """A certificate and the key it is about."""

    certificate: x509.Certificate
    key: ec.EllipticCurvePrivateKey


def make_authority(names: Names, now: datetime) -> Signed:
    """Make an authority that can vouch for these names, and for private addresses.

    It begins yesterday, as each certificate does: the clocks of tablets are behind.
    """
    key = ec.generate_private_key(ec.SECP256R1())
    called = (*names.texts, "a server")[0]
    # Two authorities of one machine have to be told apart on a tablet, by those who take the old one off it.
    mark = x509.SubjectKeyIdentifier.from_public_key(key.public_key()).digest.hex()[:6].upper()
    subject = x509.Name(
        [
            x509.NameAttribute(NameOID.ORGANIZATION_NAME, "Tallywright"),
            x509.NameAttribute(NameOID.COMMON_NAME, f"Tallywright at {called[:25]}, {now:%Y-%m-%d} {mark}"),
        ]
    )
    known = names + THIS_MACHINE
    others = [one for one in known.addresses if not any(one in network for network in PRIVATE)]
    permitted: list[x509.GeneralName] = [
        *(x509.DNSName(host) for host in known.hosts),
        *(x509.IPAddress(network) for network in (*PRIVATE, *map(ipaddress.ip_network, others))),
    ]
    begins = now - A_DAY
    builder = _builder(subject, subject, key, begins, begins + AUTHORITY_DAYS * A_DAY)
    certificate = (
        builder.add_extension(x509.BasicConstraints(ca=True, path_length=0), critical=True)
        .add_extension(_usage(signs_certificates=True), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(x509.NameConstraints(permitted, excluded_subtrees=None), critical=True)
        .sign(key, SHA256())
    )
    return Signed(certificate, key)


def make_server_certificate(authority: Signed, names: Names, now: datetime) -> Signed:
    """Make a certificate for these names; it never outlives its authority."""
    key = ec.generate_private_key(ec.SECP256R1())
    begins = now - A_DAY
    ends = min(begins + SERVER_DAYS * A_DAY, authority.certificate.not_valid_after_utc)
    subject = x509.Name([x509.NameAttribute(NameOID.COMMON_NAME, names.texts[0][:64])])
    alternatives: list[x509.GeneralName] = [
        *(x509.DNSName(host) for host in names.hosts),
        *(x509.IPAddress(address) for address in names.addresses),
    ]
    issuer = authority.certificate
    signer = x509.AuthorityKeyIdentifier.from_issuer_public_key(authority.key.public_key())
    certificate = (
        _builder(subject, issuer.subject, key, begins, ends)
        .add_extension(x509.SubjectAlternativeName(alternatives), critical=False)
        .add_extension(x509.BasicConstraints(ca=False, path_length=None), critical=True)
        .add_extension(_usage(signs_certificates=False), critical=True)
        .add_extension(x509.ExtendedKeyUsage([ExtendedKeyUsageOID.SERVER_AUTH]), critical=False)
        .add_extension(signer, critical=False)
        .sign(authority.key, SHA256())
    )
    return Signed(certificate, key)


def names_of(certificate: x509.Certificate) -> Names:
    """Return the names a server's certificate is for."""
    try:
        found = certificate.extensions.get_extension_for_class(x509.SubjectAlternativeName).value
    except x509.ExtensionNotFound:
        return Names()
    addresses = found.get_values_for_type(x509.IPAddress)
    return Names(
        tuple(found.get_values_for_type(x509.DNSName)),
        tuple(one for one in addresses if isinstance(one, ipaddress.IPv4Address | ipaddress.IPv6Address)),
    )


def permitted_by(authority: x509.Certificate, names: Names) -> Names:
    """Return those of the names that an authority can vouch for (RFC 5280, 4.2.1.10)."""
    constraints = authority.extensions.get_extension_for_class(x509.NameConstraints).value
    subtrees = constraints.permitted_subtrees or []
    hosts = [one.value for one in subtrees if isinstance(one, x509.DNSName)]
    networks = [one.value for one in subtrees if isinstance(one, x509.IPAddress)]
    return Names(
        tuple(host for host in names.hosts if any(f".{host}".endswith(f".{one}") for one in hosts)),
        tuple(
            address
            for address in names.addresses
            if any(
                address in network
                for network in networks
                if isinstance(network, ipaddress.IPv4Network | ipaddress.IPv6Network)
            )
        ),
    )


def fingerprint(certificate: x509.Certificate) -> str:
    """Return the SHA-256 of a certificate as every system shows it: pairs of capital digits with colons."""
    digest = hashlib.sha256(certificate.public_bytes(Encoding.DER)).hexdigest().upper()
    return ":".join(digest[at : at + 2] for at in range(0, len(digest), 2))


def at(now_ms: int) -> datetime:
    """Return a moment of our clock as certificates have it."""
    return datetime.fromtimestamp(now_ms // 1000, UTC)


def _builder(
    subject: x509.Name, issuer: x509.Name, key: ec.EllipticCurvePrivateKey, begins: datetime, ends: datetime
) -> x509.CertificateBuilder:
    return (
        x509.CertificateBuilder()
        .subject_name(subject)
        .issuer_name(issuer)
        .public_key(key.public_key())
        .serial_number(x509.random_serial_number())
        .not_valid_before(begins)
        .not_valid_after(ends)
        .add_extension(x509.SubjectKeyIdentifier.from_public_key(key.public_key()), critical=False)
    )


def _usage(signs_certificates: bool) -> x509.KeyUsage:
    return x509.KeyUsage(
        digital_signature=not signs_certificates,
        key_cert_sign=signs_certificates,
        crl_sign=False,
        content_commitment=False,
        key_encipherment=False,
        data_encipherment=False,
        key_agreement=False,
        encipher_only=False,
        decipher_only=False,
    )
