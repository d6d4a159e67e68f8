# SPDX-License-Identifier: Apache-2.0
"""What create_app joined, for the views: the one place where a request reaches the rooms below."""

from __future__ import annotations

from dataclasses import dataclass

from flask import current_app
from sqlalchemy import Engine

from tallywright.access.sealing import SealingKeys
from tallywright.clock import Clock
from tallywright.config import Config
from tallywright.log.own_chain import OwnChain

NAME = "tallywright"


@dataclass(frozen=True)
class Joined:
    """Settings, time, database and the server's chain of one application."""

    config: Config
    clock: Clock
    engine: Engine
    own: OwnChain
    sealing: SealingKeys


def joined() -> Joined:
    """Return what the application of this request was joined from."""
    found: Joined = current_app.extensions[NAME]
    return found
