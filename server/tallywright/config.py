# SPDX-License-Identifier: Apache-2.0
"""All settings, read once from the environment; an unknown or unusable value stops the start."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from tallywright.errors import WrongSetting

PREFIX = "TALLYWRIGHT_"


@dataclass(frozen=True)
class Config:
    """What a server needs to know before it starts. Described in docs/operations.md."""

    data: Path
    database_url: str
    demo: bool = False

    @property
    def key_file(self) -> Path:
        """Where the server's private key is kept, readable by its user only."""
        return self.data / "server.key"


def config_from(environment: Mapping[str, str]) -> Config:
    """Read the settings.

    environment  variables; only those that begin with TALLYWRIGHT_ are looked at
    raises       WrongSetting for a name nobody reads or a value that cannot be used
    """
    known = {"DATA", "DATABASE_URL", "DEMO"}
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
    return Config(data=data, database_url=given.get("DATABASE_URL", sqlite_url(data)), demo=demo == "yes")


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
