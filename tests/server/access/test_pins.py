# SPDX-License-Identifier: Apache-2.0
"""PINs: what is refused, and that only a verifier of the published strength is kept."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from tallywright.access.pins import is_right, set_pin, verifier_of
from tallywright.access.tables import pin_verifiers
from tallywright.cli.works import demo_people
from tallywright.db import reading, writing
from tallywright.errors import PinRefused
from tests.actors import ANYBODY, Works

COMMON = ["1234", "0000", "4321", "2580", "1987", "7777", "2345", "9876", "123", "", "x" * 65]


@pytest.mark.parametrize("pin", COMMON)
def test_a_pin_that_many_have_or_of_another_length_is_refused(sqlite_works: Works, pin: str) -> None:
    with writing(sqlite_works.engine) as connection, pytest.raises(PinRefused):
        set_pin(connection, 0, ANYBODY, ["inspector"], pin)


@pytest.mark.parametrize("role", ["lead", "administrator"])
def test_who_decides_needs_a_longer_secret(sqlite_works: Works, role: str) -> None:
    with writing(sqlite_works.engine) as connection:
        with pytest.raises(PinRefused):
            set_pin(connection, 0, ANYBODY, ["inspector", role], "4071")
        set_pin(connection, 0, ANYBODY, ["inspector", role], "4071 anvil")


def test_a_new_pin_takes_the_place_of_the_old(sqlite_works: Works) -> None:
    with writing(sqlite_works.engine) as connection:
        for pin in ("4071", "8350"):
            set_pin(connection, 0, ANYBODY, [], pin)
        verifier = verifier_of(connection, ANYBODY, ())
    assert is_right(verifier, "8350")
    assert not is_right(verifier, "4071")


def test_without_a_pin_nothing_is_right() -> None:
    assert not is_right(None, "")


def test_verifiers_have_the_strength_owasp_names(sqlite_works: Works) -> None:
    # OWASP password storage cheat sheet: argon2id with 19 MiB, t = 2, p = 1 (from memory).
    with reading(sqlite_works.engine) as connection:
        verifiers = list(connection.scalars(select(pin_verifiers.c.verifier)))
    assert len(verifiers) == len(demo_people(weeks=False))
    assert all(text.startswith("$argon2id$v=19$m=19456,t=2,p=1$") for text in verifiers)
