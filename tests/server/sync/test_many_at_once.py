# SPDX-License-Identifier: Apache-2.0
"""Many write and read at once: no reader misses a record, no idle transaction holds one back, nothing fails."""

from __future__ import annotations

import http.client
import json
import os
import signal
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from contextlib import contextmanager
from pathlib import Path
from threading import Event
from time import sleep
from typing import Any

import psycopg
import pytest
from cryptography.hazmat.primitives.asymmetric import ec
from psycopg import pq
from sqlalchemy import create_engine, event, select, text

from tallywright.clock import SystemClock, new_chain_name
from tallywright.db import LOG_LOCK, reading
from tallywright.log.tables import records
from tallywright.records.bench import BatchOpenedV1
from tallywright.records.compose import ChainWriter
from tallywright.records.decode import read
from tallywright.records.kinds import ChainOpenedV1
from tallywright.records.people import SignedOnV1
from tallywright.records.signature import public_text
from tests.actors import ANYBODY, LINES, Tablet, Works, push_body
from tests.served import WHOLE_DEMO, Served, free_port

# Each push folds its whole batch: with five times as many pushes this takes twenty times as long. 20,000 records go
# through real servers, batch after batch: `python -m tests.kills.many tail`.
WRITERS, PUSHES, FINDS = 6, 15, 10
TRIES = 30


def test_hazard_e1_e2_a_reader_behind_six_writers_misses_none_of_900_records(works: Works) -> None:
    writers = [works.tablet(f"bench {number}") for number in range(WRITERS)]
    for number, tablet in enumerate(writers):
        definition = tablet.batch["definition"]
        opened = BatchOpenedV1(number=f"T-{number}", pieces=60)
        batch = tablet.add(opened, sign_on=tablet.sign_on, definition=definition)
        tablet.batch = {"batch": batch.id, "definition": definition}
        tablet.open_tray()
    made = [[tablet.find() for _ in range(PUSHES * FINDS)] for tablet in writers]
    reader, done = works.tablet("reader"), Event()
    pairs = [f"{tablet.batch['batch']}/first" for tablet in writers]

    def write(tablet: Tablet) -> None:
        sending = list(tablet.outbox)
        for first in range(0, len(sending), FINDS):
            run = sending[first : first + FINDS]
            body = push_body(tablet.writer.chain, tablet.key, [one.line for one in run], run[0].envelope.n)
            for _ in range(TRIES):
                answer = tablet.send(body)
                if answer.status_code != 503:
                    break
                sleep(0.2)  # the lock was not to be had for long: a tablet comes again, and not at once
            assert (answer.status_code, answer.json["exceptions"]) == (200, [])

    def tail() -> list[str]:
        found: list[str] = []
        query: dict[str, Any] = {"carry": pairs}
        while True:
            is_last = done.is_set()
            head, lines = reader.pull(**query)
            found += [read(line).id for line in lines]
            query = {"after": head["cursor"], "carry": [f"{pair}@{head['cursor']}" for pair in pairs]}
            if is_last and not head["more"]:
                return found
            # All share one process here: a reader that never pauses takes the writers' time.
            done.wait(0.02)

    with ThreadPoolExecutor(WRITERS + 1) as together:
        tailing = together.submit(tail)
        try:
            list(together.map(write, writers))
        finally:
            done.set()
        got = tailing.result()
    assert sum(map(len, made)) == 900
    assert {record.id for finds in made for record in finds} - set(got) == set()
    assert len(got) == len(set(got))


def test_hazard_e3_a_transaction_that_somebody_left_open_holds_no_record_back(works: Works) -> None:
    giver, taker = works.tablet("giver"), works.tablet("taker")
    with works.engine.connect() as idle, idle.begin():
        idle.execute(select(records.c.number).limit(1)).all()
        if works.engine.dialect.name == "postgresql":
            idle.execute(text("SELECT pg_current_xact_id()"))
        giver.open_tray()
        find = giver.find()
        giver.push()
        _, lines = taker.pull(carry=f"{giver.batch['batch']}/first")
    assert find.line in lines


def test_hazard_e5_what_may_write_says_so_when_it_begins(sqlite_works: Works) -> None:
    """A read transaction of SQLite that turns to writing is refused at once, whatever the time-out."""
    began: dict[int, str] = {}
    wrong: list[str] = []
    written: list[str] = []

    @event.listens_for(sqlite_works.engine, "before_cursor_execute")
    def listen(connection: Any, cursor: object, statement: str, *_: object) -> None:  # noqa: ARG001
        word = statement.split()[0].upper()
        holder = id(connection.connection.dbapi_connection)
        if word == "BEGIN":
            began[holder] = statement
        elif word in ("INSERT", "UPDATE", "DELETE", "REPLACE"):
            written.append(statement)
            if began[holder] != "BEGIN IMMEDIATE":
                wrong.append(statement)

    tablet = sqlite_works.tablet()
    lead = sqlite_works.person("Jonas Falk")
    tablet.push(enclosures=[tablet.sign_on_as(lead, "harbour-71")])
    tablet.open_tray()
    tablet.find()
    tablet.push()
    tablet.pull(carry=f"{tablet.batch['batch']}/first")
    assert tablet.get("/api/v1/shift").status_code == 200
    assert tablet.client.post("/api/v1/enrolment-codes", json={}).status_code in (200, 201, 403)
    assert len({statement.split()[2] for statement in written if statement.startswith("INSERT")}) > 5
    assert wrong == []


def test_hazard_c4_a_server_killed_before_its_commit_left_nothing_in_the_way_of_the_same_push(works: Works) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    sending = list(tablet.outbox)
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in sending], 1)
    works.engine.dispose()  # connections are not shared with the process that dies
    child = os.fork()
    if child == 0:

        @event.listens_for(works.engine, "commit")
        def die(connection: Any) -> None:
            if connection.get_execution_options().get("write"):
                os.kill(os.getpid(), signal.SIGKILL)

        tablet.send(body)
        os._exit(0)
    assert os.waitstatus_to_exitcode(os.waitpid(child, 0)[1]) == -signal.SIGKILL
    with reading(works.engine) as connection:
        chain = tablet.writer.chain
        assert connection.scalars(select(records.c.n).where(records.c.chain == chain)).all() == []
    answer = tablet.push(sending)
    assert (answer["exceptions"], answer["marks"][0]["n"]) == ([], len(sending))


@contextmanager
def somebody_writes(works: Works) -> Iterator[None]:
    """The one lock of the log is held elsewhere."""
    with works.engine.connect().execution_options(write=True) as other, other.begin():
        if works.engine.dialect.name == "postgresql":
            other.execute(text("SELECT pg_advisory_xact_lock(:lock)"), {"lock": LOG_LOCK})
        yield


def test_hazard_e5_a_push_that_waited_too_long_is_told_to_come_again_and_nothing_of_it_is_kept(
    works: Works, monkeypatch: pytest.MonkeyPatch
) -> None:
    tablet = works.tablet()
    tablet.open_tray()
    monkeypatch.setattr("tallywright.db.BUSY_MS", 50)
    works.engine.dispose()  # connections that are opened from here on wait so long
    sending = list(tablet.outbox)
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in sending], 1)
    with somebody_writes(works):
        answer = tablet.send(body)
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (503, "not-ready", True)
    with reading(works.engine) as connection:
        chain = tablet.writer.chain
        assert connection.scalars(select(records.c.n).where(records.c.chain == chain)).all() == []
    assert tablet.push(sending)["marks"][0]["n"] == len(sending)


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
@pytest.mark.parametrize(("table", "how"), [("records", "stopped"), ("records", "ended"), ("finds", "ended")])
def test_a_push_whose_connection_the_database_ends_is_told_to_come_again_and_nothing_of_it_is_kept(
    works: Works, monkeypatch: pytest.MonkeyPatch, table: str, how: str
) -> None:
    """As it ends one of a server that was stopped inside its transaction; in the log's part, and inside a fold."""
    monkeypatch.setattr("tallywright.db.IDLE_MS", 1_500 if how == "stopped" else 4_000)
    tablet = works.tablet()
    tablet.open_tray()
    tablet.find()
    sending = list(tablet.outbox)
    body = push_body(tablet.writer.chain, tablet.key, [record.line for record in sending], 1)
    other = create_engine(works.config.database_url)
    ended: list[int] = []

    @event.listens_for(works.engine, "before_cursor_execute")
    def hang_up(connection: Any, cursor: object, statement: str, *_: object) -> None:  # noqa: ARG001
        if statement.startswith(f"INSERT INTO {table} ") and not ended:
            ended.append(connection.connection.dbapi_connection.info.backend_pid)
            if how == "stopped":
                sleep(3)
                return
            with other.connect() as ending:
                ending.execute(text("SELECT pg_terminate_backend(:pid, 5000)"), {"pid": ended[0]})

    answer = tablet.send(body)
    other.dispose()
    assert ended
    assert (answer.status_code, answer.json["code"], answer.json["retry"]) == (503, "not-ready", True)
    with reading(works.engine) as connection:
        chain = tablet.writer.chain
        assert connection.scalars(select(records.c.n).where(records.c.chain == chain)).all() == []
    assert tablet.push(sending)["marks"][0]["n"] == len(sending)


@pytest.mark.parametrize("works", ["postgresql"], indirect=True)
@pytest.mark.parametrize("where", ["in a pipeline", "behind one"])
def test_a_server_that_was_stopped_where_no_time_out_of_the_database_runs_does_not_keep_the_lock(
    works: Works, monkeypatch: pytest.MonkeyPatch, where: str
) -> None:
    """Many rows go to the database as a pipeline: neither in one nor behind one the database counts the time."""
    monkeypatch.setattr("tallywright.db.IDLE_MS", 1_500)
    tablet = works.tablet()
    tablet.open_tray()
    address = works.config.database_url.replace("+psycopg", "")
    with psycopg.connect(address) as stopped:
        stopped.execute("SET idle_in_transaction_session_timeout = 1500")
        stopped.execute("SELECT pg_advisory_xact_lock(%s)", (LOG_LOCK,))
        if where == "behind one":
            stopped.cursor().executemany("SELECT %s", [(1,), (2,)])
        else:
            stopped.pgconn.enter_pipeline_mode()
            stopped.pgconn.send_query_params(b"SELECT 1", None)
            stopped.pgconn.send_flush_request()
            stopped.pgconn.flush()
        assert tablet.push()["marks"][0]["n"] == 3
        assert stopped.pgconn.status == pq.ConnStatus.OK  # nobody told it yet
        stopped.close()


CLIENTS, RUNS, SIGN_ONS = 8, 20, 5


def test_hazard_e5_eight_tablets_push_at_once_to_two_workers_and_none_is_refused(tmp_path: Path) -> None:
    served = Served(tmp_path / "works", free_port())
    served.start()
    try:
        with ThreadPoolExecutor(CLIENTS) as together:
            answers = list(together.map(lambda _: push_run_after_run(served.port), range(CLIENTS)))
        assert {status for told in answers for status in told} == {200}
        verified = served.run("verify")
        assert (verified.returncode, verified.stdout) == (0, WHOLE_DEMO)
    finally:
        served.stop()


def push_run_after_run(port: int) -> list[int]:
    """A tablet that enrols and pushes over HTTP; returns the status of each answer to a push."""
    clock, key = SystemClock(), ec.generate_private_key(ec.SECP256R1())

    def ask(path: str, body: bytes, kind: str) -> tuple[int, dict[str, Any]]:
        asked = http.client.HTTPConnection("127.0.0.1", port, timeout=60)
        asked.request("POST", path, body, {"Content-Type": kind})
        answer = asked.getresponse()
        content = json.loads(answer.read())
        asked.close()
        return answer.status, content

    known = json.dumps({"public_key": public_text(key), "name": "bench"}).encode()
    status, enrolled = ask("/api/v1/enrolments/demo", known, "application/json")
    assert status == 201, enrolled
    writer = ChainWriter(new_chain_name(clock), enrolled["device"], "UTC", site=enrolled["site"])
    statuses, first = [], 1
    for run in range(RUNS):
        bodies = [ChainOpenedV1(why="first")] if run == 0 else [SignedOnV1(person=ANYBODY)] * SIGN_ONS
        lines = [writer.add(body, clock.now_ms()).line for body in bodies]
        status, answer = ask("/api/v1/sync/push", push_body(writer.chain, key, lines, first), LINES)
        statuses.append(status)
        first += len(lines)
        assert status != 200 or answer["marks"][0]["n"] == first - 1
    return statuses
