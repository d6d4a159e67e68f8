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
from contextlib import nullcontext, redirect_stdout
from io import StringIO
from pathlib import Path
from random import Random
from typing import Any
from unittest.mock import patch

import msgspec
from sqlalchemy import Connection, Engine, event, select
from werkzeug.test import Client

from tallywright import create_app
from tallywright.access.devices import every_public_key
from tallywright.cli.backup import backup
from tallywright.config import Config, sqlite_url
from tallywright.db import reading, writing
from tallywright.definitions.published import parts
from tallywright.folds.bench import fold_bench
from tallywright.folds.gathered import Gathered
from tallywright.log.read import of_subject
from tallywright.log.tables import records, set_aside
from tallywright.log.verify import verify
from tallywright.projections.asked import proven_among
from tallywright.projections.rebuild import rebuild, rows
from tallywright.projections.refold import refold
from tallywright.projections.tables import batches, stale
from tallywright.records.decode import sha256
from tallywright.records.kinds import DeviceRevokedV1
from tallywright.web.joined import NAME, Joined
from tests.actors import ScriptedClock, make_demo_works

BASE = "https://works.test"
BATCH_FOLD = "tallywright.projections.refold.batch_rows"


class Worker:
    """One life of the server's process."""

    def __init__(self, template: Path) -> None:
        self.template = template
        self.clock = ScriptedClock()
        self.folder = template
        self.commits_left = 0  # the commit at which this process is gone; 0 for never
        self.joined: Joined | None = None
        self.client: Client

    @property
    def engine(self) -> Engine:
        """The database of the works that is open."""
        assert self.joined is not None
        return self.joined.engine

    def begin(self, folder: Path) -> dict[str, Any]:
        """Serve a new works, a copy of the template, in the place of what was served before."""
        if self.folder != self.template:
            shutil.rmtree(self.folder, ignore_errors=True)
        shutil.rmtree(folder, ignore_errors=True)
        shutil.copytree(self.template, folder)
        return self.open(folder)

    def open(self, folder: Path) -> dict[str, Any]:
        """Serve the works in a folder."""
        self.folder = folder
        if self.joined is not None:
            self.joined.engine.dispose()
        app = create_app(Config(data=folder, database_url=sqlite_url(folder), demo=True), self.clock)
        self.joined = app.extensions[NAME]
        event.listen(self.engine, "commit", self._on_commit)
        self.client = Client(app, use_cookies=False)
        return {}

    def _on_commit(self, connection: Connection) -> None:
        if self.commits_left and connection.get_execution_options().get("write"):
            self.commits_left -= 1
            if not self.commits_left:
                os.kill(os.getpid(), signal.SIGKILL)

    def ask(self, line: dict[str, Any]) -> dict[str, Any]:
        """Answer one request.

        dies  before the commit of that number, or `after` all of them and before the answer; 0 for never
        fold  True where the fold of every batch fails
        """
        self.clock.now, self.clock.chance = line["now"], Random(line["chance"])
        self.commits_left = line.get("dies", 0) if line.get("dies") != "after" else 0
        with (
            patch(BATCH_FOLD, side_effect=ArithmeticError("a fold that fails"))
            if line.get("fold")
            else nullcontext()
        ):
            answer = self.client.open(
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

    def backup(self, line: dict[str, Any]) -> dict[str, Any]:
        """Make a verified copy, and say so in the log."""
        self.clock.now, self.clock.chance = line["now"], Random(line["chance"])
        file = self.folder / line["file"]
        with redirect_stdout(StringIO()):
            backup.main([str(file), "--data", str(self.folder)], standalone_mode=False)
        return {}

    def revoke(self, line: dict[str, Any]) -> dict[str, Any]:
        """Revoke a device, as the console does."""
        assert self.joined is not None
        self.clock.now, self.clock.chance = line["now"], Random(line["chance"])
        with writing(self.engine) as connection:
            [record] = self.joined.own.write(connection, [DeviceRevokedV1(device=line["device"], why="lost")])
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
        """Put an older copy in the place of the database, as nobody should: no command notices."""
        self.engine.dispose()
        for path in self.folder.glob("works.db*"):
            path.unlink()
        shutil.copyfile(self.folder / line["file"], self.folder / "works.db")
        return self.open(self.folder)

    def judge(self, line: dict[str, Any]) -> dict[str, Any]:
        """Look at the whole of it: links, folds, secrets; and fold every batch for the tablets to compare."""
        engine = self.engine
        with writing(engine) as connection:
            left = refold(connection, connection.scalars(select(stale.c.subject)).all())
        with reading(engine) as connection:
            wrong = [f"{one.record}: {one.what}" for one in verify(connection, every_public_key(connection))]
            before = rows(connection)
            folded = {
                batch: _folded(connection, batch) for batch in connection.scalars(select(batches.c.batch)).all()
            }
        with writing(engine) as connection:
            left += rebuild(connection)
            after = rows(connection)
        wrong += [f"{subject}: its fold fails" for subject in left]
        wrong += [f"{name}: a rebuild gives other rows" for name in before if before[name] != after[name]]
        written = b"".join(path.read_bytes() for path in self.folder.glob("works.db*"))
        wrong += ["a sealed PIN is in the database" for text in line["secrets"] if _is_in(text, written)]
        return {"wrong": wrong, "folded": folded}


def _folded(connection: Connection, batch: str) -> Any:
    found = of_subject(connection, batch)
    signed = {str(record.envelope.sign_on) for record in found if record.envelope.sign_on is not msgspec.UNSET}
    proven = proven_among(connection, signed)
    named = {str(r.envelope.definition) for r in found if r.envelope.definition is not msgspec.UNSET}
    return json.loads(msgspec.json.encode(fold_bench(Gathered(found, proven), parts(connection, named))))


def _is_in(sealed: str, written: bytes) -> bool:
    return sealed.encode() in written or base64.b64decode(sealed) in written


def serve(template: Path) -> None:
    """Answer lines until the input ends."""
    worker = Worker(template)
    _say({"born": os.getpid()})
    for text in sys.stdin.buffer:
        line = json.loads(text)
        match line["do"]:
            case "begin":
                answer = worker.begin(Path(line["folder"]))
            case "open":
                answer = worker.open(Path(line["folder"]))
            case "ask":
                answer = worker.ask(line)
            case "held":
                answer = worker.held(line)
            case "backup":
                answer = worker.backup(line)
            case "revoke":
                answer = worker.revoke(line)
            case "snapshot":
                answer = worker.snapshot(line)
            case "put_back":
                answer = worker.put_back(line)
            case "judge":
                answer = worker.judge(line)
        _say(answer)


def _say(answer: dict[str, Any]) -> None:
    sys.stdout.buffer.write(msgspec.json.encode(answer) + b"\n")
    sys.stdout.buffer.flush()


def main(folder: Path) -> None:
    """Make the template, then fork a worker, and another whenever one was killed."""
    template = folder / "template"
    if not template.exists():
        make_demo_works(template, sqlite_url(template))
    logging.disable()  # folds that are made to fail
    Worker(template).open(template)  # whatever a worker loads is loaded before the first is born
    gc.freeze()
    while True:
        child = os.fork()
        if child == 0:
            serve(template)
            os._exit(0)
        _, status = os.waitpid(child, 0)
        if os.waitstatus_to_exitcode(status) == 0:
            return


if __name__ == "__main__":
    main(Path(sys.argv[1]))
