# SPDX-License-Identifier: Apache-2.0
"""Puts an authority among those a Chromium on Linux trusts: the NSS database in its HOME.

Done with the NSS library that the browser itself needs, so that no tool has to be installed for it. Run as
`python -m tests.nss FOLDER CERTIFICATE` with the browser's own environment.
"""

from __future__ import annotations

import subprocess
import sys
from ctypes import CDLL, POINTER, Structure, byref, c_char_p, c_int, c_uint, c_ulong, c_void_p
from pathlib import Path
from ssl import PEM_cert_to_DER_cert

# Names of NSS: VALID_CA and TRUSTED_CA, for servers only.
TRUSTED = 1 << 3 | 1 << 4
DONE = 0


class _Item(Structure):
    """SECItem."""

    _fields_ = (("type", c_int), ("data", c_char_p), ("len", c_uint))


class _Trust(Structure):
    """CERTCertTrust: for servers, for mail, for code."""

    _fields_ = (("servers", c_uint), ("mail", c_uint), ("code", c_uint))


def trust(home: Path, authority: Path, environment: dict[str, str]) -> None:
    """Make the browser that is started with this HOME trust an authority; fails where that cannot be done."""
    folder = home / ".pki" / "nssdb"
    folder.mkdir(parents=True)
    done = subprocess.run(
        [sys.executable, "-m", "tests.nss", str(folder), str(authority)],
        cwd=Path(__file__).parents[1], env=environment, capture_output=True, text=True, check=False,
    )  # fmt: skip
    assert done.returncode == 0, f"the authority could not be put into the browser's trust: {done.stderr}"


def _import(folder: str, der: bytes) -> None:
    nss = CDLL("libnss3.so")
    for name in ("CERT_GetDefaultCertDB", "CERT_NewTempCertificate", "PK11_GetInternalKeySlot"):
        getattr(nss, name).restype = c_void_p
    nss.CERT_NewTempCertificate.argtypes = (c_void_p, POINTER(_Item), c_char_p, c_int, c_int)
    nss.CERT_DestroyCertificate.argtypes = nss.PK11_FreeSlot.argtypes = (c_void_p,)
    nss.PK11_InitPin.argtypes = (c_void_p, c_char_p, c_char_p)
    nss.PK11_ImportCert.argtypes = (c_void_p, c_void_p, c_ulong, c_char_p, c_int)
    nss.CERT_ChangeCertTrust.argtypes = (c_void_p, c_void_p, POINTER(_Trust))
    _done(nss.NSS_InitReadWrite(f"sql:{folder}".encode()), "open the database")
    slot, database = nss.PK11_GetInternalKeySlot(), nss.CERT_GetDefaultCertDB()
    _done(nss.PK11_InitPin(slot, None, b""), "give it an empty password")
    certificate = nss.CERT_NewTempCertificate(database, byref(_Item(0, der, len(der))), None, 0, 1)
    _done(nss.PK11_ImportCert(slot, certificate, 0, b"authority of a test", 0), "keep the certificate")
    _done(nss.CERT_ChangeCertTrust(database, certificate, byref(_Trust(TRUSTED, 0, 0))), "trust it")
    nss.CERT_DestroyCertificate(certificate)
    nss.PK11_FreeSlot(slot)
    _done(nss.NSS_Shutdown(), "close the database")


def _done(status: int, what: str) -> None:
    if status != DONE:
        raise SystemExit(f"NSS could not {what}")


if __name__ == "__main__":
    _import(sys.argv[1], PEM_cert_to_DER_cert(Path(sys.argv[2]).read_text()))
