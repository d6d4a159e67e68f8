# SPDX-License-Identifier: Apache-2.0
"""How many bytes: of JavaScript, by what a tablet loads it for; of a record, on its way and where it is kept."""

from __future__ import annotations

import gzip
import re
from collections.abc import Iterator
from pathlib import Path

from sqlalchemy import text

from tallywright.config import sqlite_url
from tallywright.db import reading
from tests.actors import join_works, make_demo_works
from tests.hands import FRAME_HEAD
from tests.node import STATIC
from tests.speed.figures import Figure
from tests.speed.pushes import send, whole_batches

ASSETS = STATIC / "dist" / "assets"
A_PUSH, PUSHES = 500, 20
# The page, and what it holds from the beginning: the list of batches, signing on, the tally. Beside it the store's
# worker, and the larger of the catalogues: a tablet speaks one language. The words of all other pages come with the
# first of them.
CATALOGUES, OF_PAGES = ("de", "en"), ("de_pages", "en_pages")
# The lead's charts; and what is read before there is an app, which the app never loads.
CHARTS, BEFORE = ("pareto_",), ("trust", "unprotected")


def measure(folder: Path) -> Iterator[Figure]:
    """Look at the built app, and at records of a busy bench."""
    files = {path: len(gzip.compress(path.read_bytes(), 9)) / 1000 for path in ASSETS.glob("*.js")}
    words, of_pages = (
        max(files[path] for path in files if _name(path) in names) for names in (CATALOGUES, OF_PAGES)
    )
    first = _first_files()
    capture = sum(files[path] for path in files if path.name in first)
    others = [*CHARTS, *BEFORE]
    rest = sum(
        size
        for path, size in files.items()
        if _name(path) not in (*CATALOGUES, *OF_PAGES) and not any(_name(path).startswith(one) for one in others)
    )
    yield Figure("JavaScript of the capture path, gzip", capture + words, "kB", at_most=60)
    yield Figure("of it what a language says there", words, "kB")
    yield Figure("what a language says on all other pages", of_pages, "kB")
    yield Figure("JavaScript of all but the lead's charts, gzip", rest + words + of_pages, "kB", at_most=100)
    yield from _of_a_record(folder)


def _first_files() -> set[str]:
    """The scripts that the page names, the store's worker, and what they import before they run."""
    waiting = set(re.findall(r"/assets/([^\"]+\.js)", (STATIC / "dist" / "index.html").read_text()))
    waiting |= {path.name for path in ASSETS.glob("worker-*.js")}
    found: set[str] = set()
    while waiting:
        name = waiting.pop()
        found.add(name)
        imported = re.findall(r"(?:from|import)\s*\"\./([^\"]+\.js)\"", (ASSETS / name).read_text())
        waiting |= set(imported) - found
    return found


def _name(path: Path) -> str:
    """A file's name without the hash that the build gives it."""
    return path.stem[:-9]


def _of_a_record(folder: Path) -> Iterator[Figure]:
    make_demo_works(folder, sqlite_url(folder))
    works = join_works(folder, sqlite_url(folder))
    tablet = works.tablet()
    tablet.push()
    before = _pages(folder)
    pushes = whole_batches(tablet, PUSHES, A_PUSH, "SIZES")
    for push in pushes:
        send(tablet, push)
    with reading(works.engine) as connection:
        wanted = text("SELECT sum(length(line)) FROM records WHERE chain = :chain")
        stored = int(connection.scalar(wanted, {"chain": tablet.writer.chain}))
    works.engine.dispose()
    count = A_PUSH * PUSHES
    lines = b"".join(line for push in pushes for line in push.lines)
    assert stored >= len(lines)
    yield Figure("a record on the wire", sum(len(push.body) for push in pushes) / count, "bytes")
    packed = sum(len(gzip.compress(push.body, 6)) for push in pushes) / count
    yield Figure("the same, if it were sent by gzip", packed, "bytes")
    yield Figure("a record's line in the log", len(lines) / count, "bytes")
    yield Figure(
        "a record in SQLite, with its indexes and projected rows", (_pages(folder) - before) / count, "bytes"
    )
    yield Figure("a record in the tablet's journal", len(lines) / count + FRAME_HEAD + 1, "bytes")


def _pages(folder: Path) -> int:
    """Bytes of the database and of what is not brought over yet."""
    import sqlite3

    with sqlite3.connect(folder / "works.db") as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    connection.close()
    return (folder / "works.db").stat().st_size
