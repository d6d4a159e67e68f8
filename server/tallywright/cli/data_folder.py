# SPDX-License-Identifier: Apache-2.0
"""What every command on a data folder shares: the option that names it, its settings, the server's chain in it."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path

import click

from tallywright.clock import SystemClock
from tallywright.config import Config, config_from, sqlite_url
from tallywright.log.own_chain import OwnChain, load_key

DATA = click.option("--data", type=click.Path(path_type=Path), help="Folder of the database and the server's key.")
WRONG_DATA, WRONG_USE = 1, 2


def config_in(data: Path | None) -> Config:
    """The settings of the environment, with the data folder of the command where one is named."""
    config = config_from(os.environ)
    if data is None:
        return config
    return replace(config, data=data.absolute(), database_url=sqlite_url(data.absolute()))


def own_chain(config: Config) -> OwnChain:
    """The server's chain, written with the key of the data folder."""
    return OwnChain(SystemClock(), load_key(config.key_file))
