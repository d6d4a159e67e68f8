# SPDX-License-Identifier: Apache-2.0
"""The only source of wall time and of chance. Handed in, so that a simulation can replay a run exactly."""

from __future__ import annotations

import secrets
import time
from typing import Protocol

CHAIN_ALPHABET = "abcdefghijklmnopqrstuvwxyz234567"
CHAIN_LETTERS = 26


class Clock(Protocol):
    """Time in UTC milliseconds, and unguessable bytes."""

    def now_ms(self) -> int:
        """Return UTC milliseconds since 1970."""

    def random_bytes(self, count: int) -> bytes:
        """Return bytes nobody can guess."""


class SystemClock:
    """The machine's clock and its source of chance."""

    def now_ms(self) -> int:
        """Return UTC milliseconds since 1970."""
        return time.time_ns() // 1_000_000

    def random_bytes(self, count: int) -> bytes:
        """Return bytes of the operating system's generator."""
        return secrets.token_bytes(count)


def new_chain_name(clock: Clock) -> str:
    """Return a random name for a chain: 26 letters and digits of lower-case base32, 128 bits of chance."""
    value = int.from_bytes(clock.random_bytes(16))
    letters = []
    for _ in range(CHAIN_LETTERS):
        value, rest = divmod(value, len(CHAIN_ALPHABET))
        letters.append(CHAIN_ALPHABET[rest])
    return "".join(reversed(letters))
