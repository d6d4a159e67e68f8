# SPDX-License-Identifier: Apache-2.0
"""The real application behind a pipe, for the simulator: a line in is one request, a line out one answer.

    python -m tests.simulation.server FOLDER

The process that is started makes a demo works in FOLDER/template and then only forks: a worker serves, and when
it was killed, where it stood or by the driver, another is born within milliseconds. Time and chance come with
the line.
"""

from __future__ import annotations

import base64
import gc
import json
import logging
import os
import shutil
import signal
import sqlite3
import sys
from collections import Counter
from contextlib import nullcontext, redirect_stdout, suppress
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any
from unittest.mock import patch

import click
import msgspec
from argon2 import PasswordHasher
from sqlalchemy import Connection, event, select
from werkzeug.test import Client

from tallywright.access import pins
from tallywright.access.devices import every_public_key
from tallywright.cli.backup import _broken, backup, restore
from tallywright.config import sqlite_url
from tallywright.db import reading, writing
from tallywright.definitions.published import parts
from tallywright.errors import WrongUse
from tallywright.folds.bench import fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.log.read import chains_of_subject, of_subject
from tallywright.log.tables import records, set_aside
from tallywright.log.verify import verify
from tallywright.projections.asked import proven_among
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.refold import refold
from tallywright.projections.tables import batches, stale
from tallywright.records.decode import sha256
from tallywright.records.kinds import DeviceRevokedV1
from tallywright.sync.crossing import say_crossed
from tallywright.sync.judge_requests import judge_requests
from tests.actors import Works, join_works, make_demo_works
from tests.simulation.decided import decided_wrongly

BASE = "https://works.test"
BATCH_FOLD = "tallywright.projections.refold.batch_rows"
READ_BACK = "tallywright.cli.backup._broken"


class Worker:
    """One life of the server's process. It serves one folder: a world takes the place of another there."""

    def __init__(self, template: Path, servers: list[Works]) -> None:
        self.template = template
        self.servers = servers
        self.works = servers[0]
        self.engine = self.works.engine
        self.folder = self.works.config.data
        self.commits_left = 0  # the commit at which this process is gone; 0 for never
        for one in servers:
            event.listen(one.engine, "commit", self._on_commit)
        self.clients = [Client(one.app, use_cookies=False) for one in servers]

    def _now(self, line: dict[str, Any]) -> None:
        for one in self.servers:
            one.clock.now, one.clock.chance = line["now"], Random(line["chance"])

    def _close(self) -> None:
        for one in self.servers:
            one.engine.dispose()

    def begin(self) -> dict[str, Any]:
        """Serve a new works, a copy of the template, in the place of what was served before."""
        self._close()
        shutil.rmtree(self.folder)
        shutil.copytree(self.template, self.folder)
        return {}

    def _on_commit(self, connection: Connection) -> None:
        if self.commits_left and connection.get_execution_options().get("write"):
            self.commits_left -= 1
            if not self.commits_left:
                os.kill(os.getpid(), signal.SIGKILL)

    def ask(self, line: dict[str, Any]) -> dict[str, Any]:
        """Answer one request.

        server  which of two servers before the one database is asked
        dies  before the commit of that number, or `after` all of them and before the answer; 0 for never
        fold  True where the fold of every batch fails
        """
        self._now(line)
        self.commits_left = line.get("dies", 0) if line.get("dies") != "after" else 0
        with (
            patch(BATCH_FOLD, side_effect=ArithmeticError("a fold that fails"))
            if line.get("fold")
            else nullcontext()
        ):
            answer = self.clients[line["server"]].open(
                line["path"], method=line["method"], base_url=BASE, headers=line["headers"],
                data=base64.b64decode(line["body"]) if "body" in line else None,
            )  # fmt: skip
        if line.get("dies") == "after":
            os.kill(os.getpid(), signal.SIGKILL)
        self.commits_left = 0
        body = base64.b64encode(answer.get_data()).decode()
        return {"status": answer.status_code, "headers": list(answer.headers.items()), "body": body}

    def held(self, line: dict[str, Any]) -> dict[str, Any]:
        """Return what the database has behind two places: of the log and of what was set aside."""
        with reading(self.engine) as connection:
            numbered = connection.execute(
                select(records.c.number, records.c.chain, records.c.n, records.c.line)
                .where(records.c.number > line["records"])
                .order_by(records.c.number)
            ).all()
            aside = connection.execute(
                select(set_aside.c.entry, set_aside.c.chain, set_aside.c.n, set_aside.c.hash)
                .where(set_aside.c.entry > line["aside"])
                .order_by(set_aside.c.entry)
            ).all()
        return {
            "records": [[number, chain, n, sha256(bytes_)] for number, chain, n, bytes_ in numbered],
            "aside": [list(row) for row in aside],
        }

    def seen(self, line: dict[str, Any]) -> dict[str, Any]:
        """Return what a lead has seen who looks at the page of a batch now."""
        with reading(self.engine) as connection:
            held = chains_of_subject(connection, line["batch"])
        return {"seen": [{"chain": one.chain, "n": one.seen} for one in held if one.seen > 0]}

    def backup(self, line: dict[str, Any]) -> dict[str, Any]:
        """Make a verified copy, and say so in the log; a line with a `path` is answered in the middle of it."""
        self._now(line)
        file = self.folder / line["file"]
        answers = []

        def read_back(copy: Connection) -> list[str]:
            answers.extend([self.ask(line)] if "path" in line else [])
            return _broken(copy)

        with patch(READ_BACK, read_back):
            refused = self._command(backup, file)
        return refused or (answers[0] if answers else {})

    def _command(self, command: click.Command, file: Path) -> dict[str, Any]:
        """Give a command of the console its file; returns what it says against it, where it does."""
        said = StringIO()
        try:
            with redirect_stdout(said):
                command.main([str(file), "--data", str(self.folder)], standalone_mode=False)
        except SystemExit:
            return {"refused": f"{command.name}: {said.getvalue()}"}
        except WrongUse as problem:
            return {"refused": f"{command.name}: {problem}"}
        return {}

    def revoke(self, line: dict[str, Any]) -> dict[str, Any]:
        """Revoke a device, as the console does."""
        self._now(line)
        with writing(self.engine) as connection:
            [record] = self.works.own.write(connection, [DeviceRevokedV1(device=line["device"], why="lost")])
            refold(connection, [record.subject])
        return {}

    def snapshot(self, line: dict[str, Any]) -> dict[str, Any]:
        """Copy the database as a machine's snapshot does: nobody is told."""
        with (
            sqlite3.connect(self.folder / "works.db") as source,
            sqlite3.connect(self.folder / line["file"]) as copy,
        ):
            source.backup(copy)
        return {}

    def put_back(self, line: dict[str, Any]) -> dict[str, Any]:
        """Put an older copy in the place of the database, by the command or by hand, as nobody should; then end."""
        self._close()
        for path in self.folder.glob("works.db*"):
            path.unlink()
        file = self.folder / line["file"]
        if line["isByHand"]:
            shutil.copyfile(file, self.folder / "works.db")
        elif refused := self._command(restore, file):
            return refused
        os.kill(os.getpid(), signal.SIGKILL)
        return {}

    def refold(self, line: dict[str, Any]) -> dict[str, Any]:
        """Fold again what could not be folded, as somebody does by `rebuild` who was told of it by `verify`."""
        self._now(line)
        with writing(self.engine) as connection:
            refold(connection, connection.scalars(select(stale.c.subject)).all())
        return {}

    def judge(self, line: dict[str, Any]) -> dict[str, Any]:
        """Look at the whole of it: links, folds, secrets; and fold every batch for the tablets to compare."""
        engine = self.engine
        with writing(engine) as connection:
            left = [*connection.scalars(select(stale.c.subject))]  # nothing fails since all was folded again
            # The next push would say what came to light by that, and answer it; the states are compared before one.
            say_crossed(connection, self.works.own)
        judge_requests(engine, self.works.own)
        with reading(engine) as connection:
            wrong = [f"{one.record}: {one.what}" for one in verify(connection, every_public_key(connection))]
            before = rows(connection)
            folded = {
                batch: _folded(connection, batch, wrong)
                for batch in connection.scalars(select(batches.c.batch)).all()
            }
        with writing(engine) as connection:
            left += rebuild(connection)
            after = rows(connection)
        wrong += [f"{subject}: its fold fails" for subject in left]
        wrong += [f"{name}: a rebuild gives other rows" for name in before if before[name] != after[name]]
        written = b"".join(path.read_bytes() for path in self.folder.glob("works.db*"))
        wrong += ["a sealed PIN is in the database" for text in line["secrets"] if _is_in(text, written)]
        asked = [request for one in folded.values() for request in one["holds"]["requests"]]
        decided = Counter(f"{one['kind']} {one['state']}" for one in asked)
        decided.update(f"declined: {reason}" for one in asked for reason in one["reasons"])
        decided["released"] = sum(len(one["releases"]) for one in folded.values())
        return {"wrong": wrong, "folded": folded, "decided": decided}


def _folded(connection: Connection, batch: str, wrong: list[str]) -> Any:
    found = of_subject(connection, batch)
    signed = {str(record.envelope.sign_on) for record in found if record.envelope.sign_on is not msgspec.UNSET}
    proven = proven_among(connection, signed)
    named = {str(r.envelope.definition) for r in found if r.envelope.definition is not msgspec.UNSET}
    definitions = parts(connection, named)
    wrong += [f"{batch}: {what}" for what in decided_wrongly(found, proven, definitions)]
    return json.loads(msgspec.json.encode(fold_bench(Gathered(found, proven), definitions)))


def _is_in(sealed: str, written: bytes) -> bool:
    return sealed.encode() in written or base64.b64decode(sealed) in written


def serve(worker: Worker) -> None:
    """Answer lines until the input ends."""
    _say({"born": os.getpid()})
    for text in sys.stdin.buffer:
        line = json.loads(text)
        match line["do"]:
            case "begin":
                answer = worker.begin()
            case "ask":
                answer = worker.ask(line)
            case "held":
                answer = worker.held(line)
            case "seen":
                answer = worker.seen(line)
            case "backup":
                answer = worker.backup(line)
            case "revoke":
                answer = worker.revoke(line)
            case "snapshot":
                answer = worker.snapshot(line)
            case "put_back":
                answer = worker.put_back(line)
            case "refold":
                answer = worker.refold(line)
            case "judge":
                answer = worker.judge(line)
        _say(answer)


def _say(answer: dict[str, Any]) -> None:
    sys.stdout.buffer.write(msgspec.json.encode(answer) + b"\n")
    sys.stdout.buffer.flush()


def ready(template: Path, folder: Path) -> list[Works]:
    """Join two servers that have served already: a worker is born with its statements compiled."""
    pins._hasher = PasswordHasher(time_cost=1, memory_cost=8, parallelism=1)  # quick: no one guesses here
    if not template.exists():
        make_demo_works(template, sqlite_url(template))
    shutil.copytree(template, folder, dirs_exist_ok=True)
    servers = [join_works(folder, sqlite_url(folder)) for _ in range(2)]
    for place, works in enumerate(servers):
        works.clock.chance = Random(place)
        with suppress(AssertionError):  # what is wrong with a server is for the worlds to find
            tablet = works.tablet()
            tablet.open_tray()
            tablet.find()
            tablet.push()
            tablet.pull(carry=f"{tablet.batch['batch']}/first")
            tablet.get("/api/v1/batches")
        works.engine.dispose()  # no connection crosses a fork
    return servers


def main(folder: Path) -> None:
    """Make the template, then fork a worker, and another whenever one was killed."""
    template = folder / "template"
    servers = ready(template, folder / "works")
    logging.disable()  # folds that are made to fail
    gc.freeze()
    gc.set_threshold(100_000)  # lives are short
    while True:
        child = os.fork()
        if child == 0:
            with suppress(BrokenPipeError):  # nobody hears it any more
                serve(Worker(template, servers))
            os._exit(0)
        _, status = os.waitpid(child, 0)
        if os.waitstatus_to_exitcode(status) == 0:
            return


if __name__ == "__main__":
    main(Path(sys.argv[1]))
