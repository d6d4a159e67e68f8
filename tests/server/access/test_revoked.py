# SPDX-License-Identifier: Apache-2.0
"""A stolen tablet: from its revocation on it reads nothing, and what it sends is kept but counts nowhere."""

from __future__ import annotations

import pytest
from sqlalchemy import select

from tallywright.db import reading, writing
from tallywright.log.tables import set_aside
from tallywright.projections.refold import refold
from tallywright.records.kinds import DeviceRevokedV1
from tallywright.records.signature import sign
from tests.actors import Tablet, Works


@pytest.fixture
def stolen(works: Works) -> Tablet:
    """A tablet with a find of before and one of after its revocation."""
    tablet = works.tablet()
    tablet.open_tray()
    tablet.find("lap")
    tablet.push()
    with writing(works.engine) as connection:
        [record] = works.own.write(connection, [DeviceRevokedV1(device=tablet.writer.device)])
        refold(connection, [record.subject])
    tablet.find("burn")
    return tablet


def test_threat_2_its_reads_stop_at_once(stolen: Tablet) -> None:
    answer = stolen.client.get("/api/v1/batches")
    assert (answer.status_code, answer.json["code"]) == (401, "not-enrolled")


def test_threat_2_its_key_opens_no_new_session(stolen: Tablet) -> None:
    device = stolen.writer.device
    text = stolen.client.post("/api/v1/sessions/challenges", json={"device": device}).json["challenge"]
    signature = sign(stolen.key, f"tallywright-session-1|{device}|{text}".encode())
    body = {"device": device, "challenge": text, "signature": signature}
    assert stolen.client.post("/api/v1/sessions", json=body).status_code == 401


def test_threat_2_what_it_sends_is_set_aside_byte_for_byte_and_counts_nowhere(works: Works, stolen: Tablet) -> None:
    line = stolen.outbox[-1].line
    answer = stolen.push()
    assert [entry["code"] for entry in answer["exceptions"]] == ["revoked-device"]
    with reading(works.engine) as connection:
        assert list(connection.scalars(select(set_aside.c.line))) == [line]
    assert [row["defect"] for row in works.rows("finds")] == ["lap"]


def test_what_it_sent_before_stays_and_is_known_when_it_comes_again(works: Works) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    sent = list(tablet.outbox)
    tablet.push()
    with writing(works.engine) as connection:
        [record] = works.own.write(connection, [DeviceRevokedV1(device=tablet.writer.device)])
        refold(connection, [record.subject])
    assert tablet.push(sent)["exceptions"] == []


def test_another_tablet_is_not_touched(works: Works, stolen: Tablet) -> None:
    other = works.tablet("bench 2")
    assert other.client.get("/api/v1/batches").status_code == 200
    assert stolen.writer.device != other.writer.device
    assert other.push()["exceptions"] == []
