# SPDX-License-Identifier: Apache-2.0
"""The names and addresses a machine is opened by."""

from __future__ import annotations

import fcntl
import ipaddress
import re
import socket
import struct
from collections.abc import Iterable
from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address
from pathlib import Path

from tallywright.errors import WrongUse

Address = IPv4Address | IPv6Address

HOST = re.compile(r"(?=.{1,253}$)([a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?\.)*[a-z0-9]([a-z0-9-]{0,61}[a-z0-9])?")
SIOCGIFADDR = 0x8915  # Linux: the IPv4 address of an interface
ROUTES = Path("/proc/net/route")


@dataclass(frozen=True, slots=True)
class Names:
    """Host names and addresses, those first that a person should be shown first."""

    hosts: tuple[str, ...] = ()
    addresses: tuple[Address, ...] = ()

    def __add__(self, other: Names) -> Names:
        """All of both, each once."""
        return Names(
            tuple(dict.fromkeys((*self.hosts, *other.hosts))),
            tuple(dict.fromkeys((*self.addresses, *other.addresses))),
        )

    def __sub__(self, other: Names) -> Names:
        """Those that the other does not have."""
        return Names(
            tuple(one for one in self.hosts if one not in other.hosts),
            tuple(one for one in self.addresses if one not in other.addresses),
        )

    def __bool__(self) -> bool:
        """Whether there is any."""
        return bool(self.hosts or self.addresses)

    @property
    def texts(self) -> tuple[str, ...]:
        """Each as somebody types it."""
        return (*self.hosts, *map(str, self.addresses))

    def __str__(self) -> str:
        """Written one behind the other."""
        return ", ".join(self.texts)


THIS_MACHINE = Names(("localhost",), (IPv4Address("127.0.0.1"),))


def names_from(texts: Iterable[str]) -> Names:
    """Read names and addresses that somebody typed; raises WrongUse for one that is neither."""
    hosts, addresses = [], []
    for text in texts:
        try:
            addresses.append(ipaddress.ip_address(text))
        except ValueError as problem:
            name = text.lower().rstrip(".")
            if not HOST.fullmatch(name):
                raise WrongUse(
                    f"'{text}' is neither a host name nor an address. Write it as works.example or 192.0.2.7."
                ) from problem
            hosts.append(name)
    return Names(tuple(hosts), tuple(addresses))


def names_of_machine() -> Names:
    """Return the host name, its .local name, and the IPv4 addresses of the interfaces that are up."""
    host = socket.gethostname().lower().rstrip(".")
    first = host.split(".")[0]
    hosts = [name for name in (f"{first}.local", host, first) if HOST.fullmatch(name) and first != "localhost"]
    return Names(tuple(dict.fromkeys(hosts)), _lan_addresses()) + THIS_MACHINE


def _lan_addresses() -> tuple[Address, ...]:
    """The address of each interface, the one with the default route first."""
    found: dict[str, Address] = {}
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
        for _, interface in socket.if_nameindex():
            try:
                answer = fcntl.ioctl(probe, SIOCGIFADDR, struct.pack("256s", interface.encode()[:15]))
            except OSError:
                continue  # an interface without an address
            found[interface] = IPv4Address(answer[20:24])
    routed = _routed()
    ordered = sorted(found, key=lambda interface: interface != routed)
    return tuple(found[one] for one in ordered if not found[one].is_loopback)


def _routed() -> str:
    """The interface of the default route, or nothing."""
    try:
        rows = [line.split() for line in ROUTES.read_text().splitlines()[1:]]
    except OSError:
        return ""
    return next((row[0] for row in rows if row[1] == "00000000"), "")
