# SPDX-License-Identifier: Apache-2.0
"""All settings, read once from the environment; an unknown or unusable value stops the start."""

from __future__ import annotations

import ipaddress
import re
from collections.abc import Mapping
from dataclasses import dataclass, fields
from ipaddress import IPv4Network, IPv6Network
from pathlib import Path

from tallywright.errors import WrongSetting

PREFIX = "TALLYWRIGHT_"


@dataclass(frozen=True)
class Config:
    """What a server needs to know before it starts. Described in docs/operations.md."""

    data: Path
    database_url: str
    demo: bool = False
    certificate: Path | None = None
    key: Path | None = None
    authority: Path | None = None
    address: str = ""
    trust_page: str = ""
    proxies: tuple[IPv4Network | IPv6Network, ...] = ()

    @property
    def key_file(self) -> Path:
        """Where the server's private key is kept, readable by its user only."""
        return self.data / "server.key"

    @property
    def authority_folder(self) -> Path:
        """Where the local certificate authority is kept, apart from the database and the server's key."""
        return self.authority or self.data / "authority"


def config_from(environment: Mapping[str, str]) -> Config:
    """Read the settings.

    environment  variables; only those that begin with TALLYWRIGHT_ are looked at
    raises       WrongSetting for a name nobody reads or a value that cannot be used
    """
    known = {field.name.upper() for field in fields(Config)}
    given = {name.removeprefix(PREFIX): text for name, text in environment.items() if name.startswith(PREFIX)}
    unknown = sorted(set(given) - known)
    if unknown:
        raise WrongSetting(
            f"The setting {PREFIX}{unknown[0]} is not known. Known are: "
            + ", ".join(PREFIX + name for name in sorted(known))
            + "."
        )
    data = Path(given.get("DATA", "tallywright-data")).absolute()
    demo = given.get("DEMO", "no")
    if demo not in ("yes", "no"):
        raise WrongSetting(f"The setting {PREFIX}DEMO is '{demo}'. Write yes or no.")
    files = {name: Path(given[name]).absolute() for name in ("CERTIFICATE", "KEY", "AUTHORITY") if given.get(name)}
    if ("CERTIFICATE" in files) is not ("KEY" in files):
        raise WrongSetting(f"{PREFIX}CERTIFICATE and {PREFIX}KEY belong together. Give both, or neither.")
    return Config(
        data=data,
        database_url=given.get("DATABASE_URL", sqlite_url(data)),
        demo=demo == "yes",
        certificate=files.get("CERTIFICATE"),
        key=files.get("KEY"),
        authority=files.get("AUTHORITY"),
        address=_address(given.get("ADDRESS", ""), "ADDRESS", "https"),
        trust_page=_address(given.get("TRUST_PAGE", ""), "TRUST_PAGE", "http"),
        proxies=_networks(given.get("PROXIES", "")),
    )


def _address(text: str, name: str, scheme: str) -> str:
    if text and not re.fullmatch(rf"{scheme}://[^/\s?#@]+/?", text):
        raise WrongSetting(f"The setting {PREFIX}{name} is '{text}'. Write it as {scheme}://works.example/.")
    return f"{text.rstrip('/')}/" if text else ""


def _networks(text: str) -> tuple[IPv4Network | IPv6Network, ...]:
    try:
        return tuple(ipaddress.ip_network(one.strip()) for one in text.split(",") if one.strip())
    except ValueError as problem:
        raise WrongSetting(
            f"The setting {PREFIX}PROXIES is '{text}'. Write addresses or networks with commas between, "
            "as 127.0.0.1, 192.0.2.0/28."
        ) from problem


def sqlite_url(data: Path) -> str:
    """Return the address of the embedded database in a data folder."""
    return f"sqlite:///{data / 'works.db'}"


PACKED = Path(__file__).parent / "packed"
REPOSITORY = Path(__file__).parents[2]


def packed_folder(name: str) -> Path:
    """Return a folder that travels inside the package, or the repository's own in a source checkout.

    name  dist (the built app), migrations or demo_seed
    """
    if (PACKED / name).is_dir():
        return PACKED / name
    return REPOSITORY / ("static/dist" if name == "dist" else name)
