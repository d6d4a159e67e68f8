# SPDX-License-Identifier: Apache-2.0
"""The page over plain HTTP: what it gives out, and that nothing else is there."""

from __future__ import annotations

import hashlib
from pathlib import Path

import pytest
from cryptography import x509
from flask.testing import FlaskClient

from tallywright.config import Config
from tallywright.trust.certificates import fingerprint
from tallywright.trust.kept import AuthorityFolder, read_certificate
from tallywright.trust.names import names_from
from tallywright.web import door
from tallywright.web.trust_page import create_trust_page
from tests.actors import ScriptedClock


@pytest.fixture
def folder(tmp_path: Path) -> AuthorityFolder:
    made = AuthorityFolder(tmp_path / "authority", ScriptedClock())
    made.keep(names_from(["hall.local", "192.168.7.20"]))
    return made


@pytest.fixture
def config(folder: AuthorityFolder, tmp_path: Path) -> Config:
    return Config(
        data=tmp_path,
        database_url="sqlite://",
        certificate=folder.server_file,
        key=folder.server_file,
        address="https://hall.local:8443/",
        trust_page="http://192.168.7.20:8080/",
    )


@pytest.fixture
def client(config: Config) -> FlaskClient:
    return create_trust_page(config).test_client()


def test_the_authority_is_given_out_in_the_form_devices_install(
    client: FlaskClient, folder: AuthorityFolder
) -> None:
    answer = client.get("/tallywright-authority.crt")
    assert answer.content_type == "application/x-x509-ca-cert"
    assert x509.load_der_x509_certificate(answer.data) == read_certificate(folder.authority_file)


def test_the_shown_fingerprint_is_that_of_the_downloaded_file(client: FlaskClient, folder: AuthorityFolder) -> None:
    shown = client.get("/api/v1/reach").json["fingerprint"]
    assert shown == fingerprint(read_certificate(folder.authority_file))
    downloaded = client.get("/tallywright-authority.crt").data
    assert shown.replace(":", "").lower() == hashlib.sha256(downloaded).hexdigest()


@pytest.mark.parametrize(
    ("host", "secure", "here", "page"),
    [
        ("hall.local:8080", "https://hall.local:8443/", "https://hall.local:8443/", "http://hall.local:8080/"),
        # A name keeps its records when the address changes; the address is said beside it.
        (
            "192.168.7.20:8080",
            "https://hall.local:8443/",
            "https://192.168.7.20:8443/",
            "http://192.168.7.20:8080/",
        ),
        ("stranger.example", "https://hall.local:8443/", "https://hall.local:8443/", "http://192.168.7.20:8080/"),
    ],
)
def test_whoever_comes_is_sent_to_an_address_that_the_certificate_is_for(
    client: FlaskClient, host: str, secure: str, here: str, page: str
) -> None:
    answer = client.get("/api/v1/reach", headers={"Host": host}).json
    assert (answer["secure"], answer["secure_here"], answer["trust_page"]) == (secure, here, page)


def test_the_qr_codes_are_square_and_have_their_border(client: FlaskClient) -> None:
    answer = client.get("/api/v1/reach").json
    for rows in (answer["secure_qr"], answer["trust_page_qr"]):
        assert {len(row) for row in rows} == {len(rows)}
        assert set("".join(rows[:4])) == {"0"}


ELSEWHERE = [
    "/authority.key", "/server.pem", "/authority/authority.key", "/assets/../authority.key", "/index.html",
    "/service_worker.js", "/api/v1/works", "/api/v1/sync/pull", "/health", "/server.key", "/works.db",
    "/assets/..%2f..%2fauthority%2fauthority.key", "/%2e%2e/authority/authority.key",
]  # fmt: skip


@pytest.mark.parametrize("address", ELSEWHERE)
def test_what_is_not_for_a_stranger_is_not_there(client: FlaskClient, address: str) -> None:
    answer = client.get(address)
    assert (answer.status_code, answer.json["code"]) == (404, "not-found")


def test_no_answer_holds_a_key(client: FlaskClient, folder: AuthorityFolder) -> None:
    secrets = [folder.authority_key.read_bytes(), folder.server_file.read_bytes()]
    lines = {line for text in secrets for line in text.split(b"-----END PRIVATE KEY")[0].splitlines()[1:] if line}
    assert len(lines) > 4
    for address in ("/api/v1/reach", "/tallywright-authority.crt", *ELSEWHERE):
        answer = client.get(address)
        assert not any(line in answer.data for line in lines), address
        assert b"PRIVATE KEY" not in answer.data


@pytest.mark.parametrize("method", ["post", "put", "delete"])
def test_nothing_can_be_changed_there(client: FlaskClient, method: str) -> None:
    assert getattr(client, method)("/").status_code == 405


def test_every_answer_carries_the_head_lines(client: FlaskClient) -> None:
    for address in ("/api/v1/reach", "/tallywright-authority.crt", "/nothing"):
        answer = client.get(address)
        for name, value in door.HEADERS.items():
            assert answer.headers[name] == value
        assert "Set-Cookie" not in answer.headers


def test_an_authority_that_cannot_be_read_is_said_and_is_no_failure(
    client: FlaskClient, folder: AuthorityFolder
) -> None:
    folder.authority_file.write_bytes(b"")
    assert client.get("/tallywright-authority.crt").json["code"] == "certificate-unusable"
    answer = client.get("/api/v1/reach").json
    assert (answer["fingerprint"], answer["secure"]) == ("", "https://hall.local:8443/")
