# SPDX-License-Identifier: Apache-2.0
"""Names of a machine, and names somebody typed."""

from __future__ import annotations

import socket
from ipaddress import ip_address

import pytest

from tallywright.errors import WrongUse
from tallywright.trust import names
from tallywright.trust.names import names_from, names_of_machine


def test_a_typed_name_is_written_small_and_without_its_last_point() -> None:
    assert names_from(["Works.Example."]).hosts == ("works.example",)


def test_addresses_are_told_from_names() -> None:
    found = names_from(["192.0.2.7", "fd00::7", "hall-2.local"])
    assert found.addresses == (ip_address("192.0.2.7"), ip_address("fd00::7"))
    assert found.hosts == ("hall-2.local",)


@pytest.mark.parametrize(
    "text", ["", "a b", "https://hall", "hall:8443", "-hall", "hall..local", "192.0.2.0/24", "*.x"]
)
def test_what_is_neither_is_refused_and_shown(text: str) -> None:
    with pytest.raises(WrongUse, match="neither a host name nor an address"):
        names_from([text])


@pytest.mark.parametrize(
    ("host", "expected"),
    [
        ("Hall", ("hall.local", "hall", "localhost")),
        ("hall.works.example", ("hall.local", "hall.works.example", "hall", "localhost")),
        ("hall.local", ("hall.local", "hall", "localhost")),
        ("localhost", ("localhost",)),
        ("under_score", ("localhost",)),
    ],
)
def test_a_machine_is_opened_by_its_name_and_its_local_name(
    monkeypatch: pytest.MonkeyPatch, host: str, expected: tuple[str, ...]
) -> None:
    monkeypatch.setattr(socket, "gethostname", lambda: host)
    assert names_of_machine().hosts == expected


def test_every_address_of_an_interface_is_found_and_this_machine_comes_last() -> None:
    found = names_of_machine().addresses
    assert found[-1] == ip_address("127.0.0.1")
    assert not any(address.is_loopback for address in found[:-1])


def test_a_machine_without_an_interface_has_itself(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(socket, "if_nameindex", lambda: [(1, "lo"), (2, "nothing0")])
    assert names_of_machine().addresses == names.THIS_MACHINE.addresses
