# SPDX-License-Identifier: Apache-2.0
"""Secrets leave no trace: every table, answer, log line and file of the server is searched for their raw bytes."""

from __future__ import annotations

import base64
import logging
from collections.abc import Iterable
from contextlib import suppress
from dataclasses import dataclass, field
from pathlib import Path

import pytest
from cryptography.hazmat.primitives.serialization import Encoding, NoEncryption, PrivateFormat
from flask import Response
from sqlalchemy import insert, inspect, select, text

from tallywright.access.codes import make_code
from tallywright.access.pins import set_pin
from tallywright.access.tables import pin_verifiers, sealed_pins
from tallywright.db import reading, writing
from tallywright.records.bench import HoldPlacedV1
from tallywright.sync.judge import Enclosure
from tests.actors import ANYBODY, Tablet, Works, push_body

RIGHT, WRONG = "zebra 7719 quill", "zebra 7719 quilt"


def told(secret: bytes) -> set[bytes]:
    """The forms in which a secret may have been written down."""
    plain = {secret, secret.hex().encode(), base64.b64encode(secret), base64.urlsafe_b64encode(secret)}
    return plain | {secret.decode("latin-1").encode("utf-16-le")}


@dataclass
class Search:
    """All that a server gives away or keeps, by where it was found, and the secrets that none of it may hold."""

    works: Works
    caplog: pytest.LogCaptureFixture
    answers: list[bytes] = field(default_factory=list)
    secrets: dict[str, bytes] = field(default_factory=dict)

    def listen(self) -> None:
        """Keep the body of every answer of every route from now on."""

        @self.works.app.after_request
        def keep(response: Response) -> Response:
            if not response.direct_passthrough:
                self.answers.append(response.get_data())
            return response

    def places(self) -> dict[str, Iterable[bytes]]:
        found: dict[str, Iterable[bytes]] = {"answer": self.answers}
        with reading(self.works.engine) as connection:
            for table in inspect(connection).get_table_names():
                found[f"table {table}"] = [
                    value if isinstance(value, bytes) else str(value).encode()
                    for row in connection.execute(text(f'SELECT * FROM "{table}"'))  # noqa: S608 - its own names
                    for value in row
                ]
        found["log line"] = [self.caplog.text.encode()]
        return found

    def finds(self) -> set[tuple[str, str]]:
        """Where which secret stands."""
        return {
            (name, place)
            for place, texts in self.places().items()
            for name, secret in self.secrets.items()
            if any(form in each for each in texts for form in told(secret))
        }


def verifier(works: Works, person: str) -> bytes:
    with reading(works.engine) as connection:
        kept = connection.scalar(select(pin_verifiers.c.verifier).where(pin_verifiers.c.person == person))
    return str(kept).encode()


def private_bytes(tablet: Tablet) -> bytes:
    return tablet.key.private_bytes(Encoding.DER, PrivateFormat.PKCS8, NoEncryption())


def pem_body(path: Path) -> bytes:
    return base64.b64decode(b"".join(path.read_bytes().splitlines()[1:-1]))


@pytest.fixture
def search(works: Works, caplog: pytest.LogCaptureFixture) -> Search:
    caplog.set_level(logging.DEBUG)
    found = Search(works, caplog)
    found.listen()
    return found


def work_with_secrets(search: Search) -> tuple[Tablet, str]:
    """Sign on wrong and right, in the presence of every kind of secret, and let every report be read."""
    works, secrets = search.works, search.secrets
    lead = works.person("Jonas Falk")
    with writing(works.engine) as connection:
        set_pin(connection, works.clock.now, lead, ["lead"], RIGHT)
        secrets["code"] = make_code(connection, works.clock).encode()
    tablet = works.tablet()
    secrets |= {"right PIN": RIGHT.encode(), "wrong PIN": WRONG.encode(), "verifier": verifier(works, lead)}
    secrets["tablet's key"] = private_bytes(tablet)
    secrets["server's key"] = pem_body(works.config.key_file)
    secrets["sealing key"] = pem_body(next(works.config.data.glob("sealing-*.pem")))
    cookie = tablet.client.get_cookie("__Host-tallywright")
    assert cookie is not None
    secrets["session"] = cookie.value.encode()
    for name, pin in (("wrong seal", WRONG), ("right seal", RIGHT)):
        enclosure = tablet.sign_on_as(lead, pin)
        secrets[name] = enclosure.sealed
        tablet.open_tray(len(name))
        tablet.find()
        tablet.push(enclosures=[enclosure])
    read_everything(tablet)
    return tablet, lead


def read_everything(tablet: Tablet) -> None:
    """Ask every route that can be read, as a lead."""
    routes = [
        rule.rule
        for rule in tablet.works.app.url_map.iter_rules()
        if rule.rule.startswith("/api/v1/") and "GET" in (rule.methods or set()) and not rule.arguments
    ]
    assert {"/api/v1/sync/pull", "/api/v1/holds", "/api/v1/pareto"} <= set(routes)
    for route in routes:
        assert tablet.get(route).status_code < 500
    tablet.pull(carry=f"{tablet.batch['batch']}/first")


def test_threat_16_no_secret_is_in_a_table_an_answer_or_a_log_line(search: Search) -> None:
    work_with_secrets(search)
    assert all(search.secrets.values())
    assert len(search.answers) > 5
    # The one place a verifier has to be.
    assert search.finds() == {("verifier", "table pin_verifiers")}


def test_threat_16_a_sealed_pin_is_in_its_table_until_it_is_judged_and_nowhere_else(
    search: Search, monkeypatch: pytest.MonkeyPatch
) -> None:
    with monkeypatch.context() as patched:
        patched.setattr("tallywright.sync.push.judge", lambda *_: 0)
        tablet, _ = work_with_secrets(search)
    sealed = {("wrong seal", "table sealed_pins"), ("right seal", "table sealed_pins")}
    assert search.finds() == sealed | {("verifier", "table pin_verifiers")}
    # The tablet sends again what it heard no judgement of.
    tablet.find()
    tablet.push(enclosures=[Enclosure(tablet.sign_on, search.secrets["right seal"])])
    assert search.finds() == {("verifier", "table pin_verifiers")}


def test_threat_16_a_refused_push_says_nothing_of_the_pin_that_came_with_it(search: Search) -> None:
    tablet, lead = work_with_secrets(search)
    enclosure = tablet.sign_on_as(lead, RIGHT)
    search.secrets["refused seal"] = enclosure.sealed
    beside = [{"record": enclosure.record, "sealed": base64.b64encode(enclosure.sealed).decode(), "more": 1}]
    first = tablet.outbox[0].envelope.n
    lines = [record.line for record in tablet.outbox]
    answer = tablet.send(push_body(tablet.writer.chain, tablet.key, lines, first, enclosures=beside))
    assert answer.status_code == 400
    assert search.finds() == {("verifier", "table pin_verifiers")}


@pytest.mark.parametrize("what", ["record", "table", "answer", "log line"])
def test_the_search_finds_what_is_planted(search: Search, what: str) -> None:
    tablet, _ = work_with_secrets(search)
    if what == "record":
        tablet.add(HoldPlacedV1(why=RIGHT), sign_on=tablet.sign_on, batch=tablet.batch["batch"])
        tablet.push()
        assert ("right PIN", "table records") in search.finds()
    elif what == "table":
        with writing(search.works.engine) as connection:
            whose = {"sign_on": f"{'z' * 26}:1", "person": ANYBODY, "device": ANYBODY, "sealing_key": ""}
            sealed = {"sealed": search.secrets["right seal"], "received_at": 1}
            connection.execute(insert(sealed_pins).values(**whose, **sealed))
        assert ("right seal", "table sealed_pins") in search.finds()
    elif what == "answer":
        coded = base64.b64encode(search.secrets["wrong PIN"]).decode()
        tablet.add(HoldPlacedV1(why=coded), sign_on=tablet.sign_on, batch=tablet.batch["batch"])
        tablet.push()
        assert ("wrong PIN", "answer") not in search.finds()
        tablet.pull(carry=f"{tablet.batch['batch']}/first")
        assert ("wrong PIN", "answer") in search.finds()
    else:
        logging.getLogger("tallywright").info("made the code %s", search.secrets["code"].decode())
        assert ("code", "log line") in search.finds()


def test_threat_16_after_the_judgement_no_file_of_the_database_holds_the_sealed_bytes(sqlite_works: Works) -> None:
    tablet = sqlite_works.tablet()
    person = sqlite_works.person("Jonas Falk")
    enclosures = [tablet.sign_on_as(person, pin) for pin in (WRONG, "harbour-71") for _ in range(4)]
    tablet.push(enclosures=enclosures)
    held = b"".join(path.read_bytes() for path in sqlite_works.config.data.glob("works.db*"))
    assert tablet.writer.chain.encode() in held
    assert [one.record for one in enclosures if one.sealed in held] == []


def test_threat_16_bytes_that_a_server_left_when_it_died_are_gone_with_the_next_try(
    sqlite_works: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = sqlite_works.tablet()
    enclosure = tablet.sign_on_as(sqlite_works.person("Jonas Falk"), "harbour-71")

    def in_a_file() -> bool:
        paths = sqlite_works.config.data.glob("works.db*")
        return any(enclosure.sealed in path.read_bytes() for path in paths)

    monkeypatch.setattr("tallywright.sync.judge.forget_deleted", dies)
    with suppress(SystemExit):
        tablet.push(enclosures=[enclosure])
    assert in_a_file()
    monkeypatch.undo()
    tablet.push(enclosures=[enclosure])
    assert not in_a_file()


def dies(_engine: object) -> bool:
    """Where the process that serves was killed."""
    raise SystemExit
