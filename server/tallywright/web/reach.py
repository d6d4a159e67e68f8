# SPDX-License-Identifier: Apache-2.0
"""How this server is reached over HTTPS, and where a tablet learns to trust it: no secret is among it."""

from __future__ import annotations

import ipaddress
from typing import Any
from urllib.parse import urlsplit

import segno

from tallywright.config import Config
from tallywright.errors import CertificateUnusable
from tallywright.trust.certificates import fingerprint, names_of
from tallywright.trust.kept import AUTHORITY_FILE, read_certificate


def reach(config: Config, came_by: str) -> dict[str, Any]:
    """Return addresses for somebody who came by an address.

    came_by  what they opened; `secure_here` keeps its host where the certificate has it, because a name may be
             found from one place of a network and not from another
    """
    host = urlsplit(came_by).hostname or ""
    names: tuple[str, ...] = ()
    authority = ""
    try:
        if config.certificate is not None:
            names = names_of(read_certificate(config.certificate)).texts
        if config.trust_page:
            authority = fingerprint(read_certificate(config.authority_folder / AUTHORITY_FILE))
    except CertificateUnusable:
        pass  # the addresses hold all the same
    # A tablet's records belong to the address it was opened by: one that stays is better than one that is lent.
    kept = host if host in names else ""
    secure = config.address if _is_address(kept) else _at(config.address, kept)
    trust_page = _at(config.trust_page, kept)
    return {
        "secure": secure,
        "secure_here": _at(config.address, kept),
        "trust_page": trust_page,
        "fingerprint": authority,
        "secure_qr": qr_rows(secure),
        "trust_page_qr": qr_rows(trust_page),
    }


def qr_rows(address: str) -> list[str]:
    """Return the rows of an address's QR code, 1 for dark; without its border cameras find no corner."""
    if not address:
        return []
    rows = segno.make(address, error="m", micro=False).matrix_iter(border=4)
    return ["".join("1" if dark else "0" for dark in row) for row in rows]


def _is_address(host: str) -> bool:
    try:
        ipaddress.ip_address(host)
    except ValueError:
        return False
    return True


def _at(address: str, host: str) -> str:
    """The address with another host, on the same port."""
    if not address or not host:
        return address
    parts = urlsplit(address)
    written = f"[{host}]" if ":" in host else host
    return parts._replace(netloc=written if parts.port is None else f"{written}:{parts.port}").geturl()
