# SPDX-License-Identifier: Apache-2.0
"""The database: one Flask-SQLAlchemy object, two sets of tables, and the two ways to open a transaction.

`db.metadata` holds what alembic migrates (the log and the few changeable tables). `projected` holds fold
results: dropped and rebuilt, never migrated. Rooms take a connection as an argument; they never see the
object itself or a request.
"""

from __future__ import annotations

import errno
import sqlite3
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager
from functools import cache
from typing import Any, TypeVar

from alembic import command
from alembic.config import Config as AlembicConfig
from alembic.util.exc import CommandError
from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Column, Connection, Engine, MetaData, Table, create_engine, event, text
from sqlalchemy.exc import DBAPIError, OperationalError

from tallywright.config import packed_folder
from tallywright.errors import NotReady, NotWritable, WrongSetting

BUSY_MS = 10_000
A_MOMENT_MS = 200
MOST_NAMES = 500  # SQLite takes 32,766 in one question, and a long one takes long to read
MANY_ROWS = 16  # from here on a stream of rows costs less than to begin one
FULL, READ_ONLY, FAILED = "full", "read-only", "failed"
SQLITE_WRITES = {
    sqlite3.SQLITE_FULL: FULL,
    sqlite3.SQLITE_READONLY: READ_ONLY,
    sqlite3.SQLITE_IOERR: FAILED,
    sqlite3.SQLITE_CANTOPEN: FAILED,
}
# https://www.postgresql.org/docs/current/errcodes-appendix.html: disk_full, read_only_sql_transaction, io_error.
POSTGRES_WRITES = {"53100": FULL, "25006": READ_ONLY, "58030": FAILED}
# lock_not_available; and the end of a transaction in which this process was kept from going on for too long.
POSTGRES_BUSY = ("55P03", "25P03")
# too_many_connections, admin_shutdown, crash_shutdown, cannot_connect_now; none where nobody answered.
POSTGRES_AWAY = (None, "53300", "57P01", "57P02", "57P03")
SYSTEM_WRITES = {errno.ENOSPC: FULL, errno.EDQUOT: FULL, errno.EROFS: READ_ONLY, errno.EIO: FAILED}
WHAT_TO_DO = {
    FULL: "The disk of the server is full. Make room on it",
    READ_ONLY: "The database of the server takes no writes. Look why its disk or it was made read-only",
    FAILED: "The disk of the server failed. Look after it",
}
IDLE_MS = 4_000  # a server that was stopped inside its transaction holds the others up for no longer
LOG_LOCK = 7_411_001  # the advisory lock under which PostgreSQL numbers are given
END_STOPPED = text(
    "SELECT pg_terminate_backend(pid) FROM pg_locks JOIN pg_stat_activity USING (pid)"
    " WHERE locktype = 'advisory' AND granted AND classid = 0 AND objid = :lock"
    " AND pg_locks.database = (SELECT oid FROM pg_database WHERE datname = current_database())"
    " AND wait_event_type = 'Client' AND state_change < clock_timestamp() - make_interval(secs => :seconds)"
)

Name = TypeVar("Name", str, int)

db = SQLAlchemy(session_options={"future": True})
metadata: MetaData = db.metadata
projected = MetaData()


def prepare(engine: Engine) -> Engine:
    """Give an engine the settings both databases need here, once.

    SQLite's driver must not open transactions by itself: a read transaction that turns into a write one is
    refused at once as busy, whatever the time-out. So every transaction says at its begin what it will be.
    """
    if engine.dialect.name != "sqlite":
        return engine

    @event.listens_for(engine, "connect")
    def on_connect(connection: Any, _record: object) -> None:
        connection.isolation_level = None
        for pragma in (
            f"busy_timeout={BUSY_MS}",
            "journal_mode=WAL",
            "synchronous=FULL",
            "foreign_keys=ON",
            "secure_delete=ON",
        ):
            connection.execute(f"PRAGMA {pragma}")

    @event.listens_for(engine, "begin")
    def on_begin(connection: Connection) -> None:
        write = connection.get_execution_options().get("write", False)
        connection.exec_driver_sql("BEGIN IMMEDIATE" if write else "BEGIN")

    return engine


def open_engine(url: str) -> Engine:
    """Open an engine outside a web application: for commands and tests."""
    return prepare(create_engine(url))


def migrate(engine: Engine) -> None:
    """Bring the migrated tables to this version; nothing happens where they are.

    raises  WrongSetting for a database that a newer version wrote
    """
    settings = AlembicConfig()
    settings.set_main_option("script_location", str(packed_folder("migrations")).replace("%", "%%"))
    with writing(engine) as connection:
        settings.attributes["connection"] = connection
        try:
            command.upgrade(settings, "head")
        except CommandError as problem:
            raise WrongSetting(
                "This database was written by a newer version of Tallywright. Install that version to open it."
            ) from problem


@contextmanager
def reading(engine: Engine) -> Iterator[Connection]:
    """Open a transaction that sees one state of the database from its first to its last row."""
    with engine.connect() as connection:
        if engine.dialect.name == "postgresql":
            connection = connection.execution_options(isolation_level="REPEATABLE READ")
        with connection.begin():
            yield connection


@contextmanager
def writing(engine: Engine) -> Iterator[Connection]:
    """Open a transaction that may write: one at a time, so that numbers are given in the order of commit.

    raises  NotReady when another writer holds the lock for too long, or the database is not reached
            NotWritable when the disk or the database takes no writes; nothing was written then
    """
    try:
        with engine.connect().execution_options(write=True) as connection, connection.begin():
            if engine.dialect.name == "postgresql":
                _take_lock(connection)
            yield connection
    except (DBAPIError, sqlite3.Error) as problem:
        told = why_not_now(problem)
        if told is not None:
            raise told from problem
        raise


def _take_lock(connection: Connection) -> None:
    """Take the lock of the log; from a holder of whom the database itself has heard nothing for too long."""
    connection.execute(text("SET LOCAL statement_timeout = 60000"))
    connection.execute(text(f"SET LOCAL idle_in_transaction_session_timeout = {IDLE_MS}"))
    lock = text("SELECT pg_advisory_xact_lock(:lock)").bindparams(lock=LOG_LOCK)
    try:
        with connection.begin_nested():
            connection.execute(text(f"SET LOCAL lock_timeout = {min(IDLE_MS, BUSY_MS)}"))
            connection.execute(lock)
    except OperationalError as problem:
        if getattr(problem.orig, "sqlstate", "") != "55P03":  # lock_not_available
            raise
        # The idle time-out does not count in a pipeline, and not behind one: psycopg sends many rows as one.
        # A server that was stopped there would hold the lock for as long as it stays stopped.
        connection.execute(END_STOPPED, {"lock": LOG_LOCK, "seconds": IDLE_MS / 1000})
        connection.execute(text(f"SET LOCAL lock_timeout = {max(BUSY_MS - IDLE_MS, 1)}"))
        connection.execute(lock)


def forget_deleted(engine: Engine) -> bool:
    """Leave nothing of deleted rows in SQLite's files; expects no transaction of this thread.

    Deleted bytes are overwritten where they stood (secure_delete); the write-ahead log still has them from before,
    until it is brought over and cut. PostgreSQL keeps them until its own vacuum: nothing is left to do here.

    returns  False where a reader stands in the way, which is waited for but a moment
    """
    if engine.dialect.name != "sqlite":
        return True
    raw = engine.raw_connection()
    try:
        cursor = raw.cursor()
        cursor.execute(f"PRAGMA busy_timeout={A_MOMENT_MS}")
        cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        answer = cursor.fetchone()
        cursor.execute(f"PRAGMA busy_timeout={BUSY_MS}")
        return answer is not None and answer[0] == 0
    finally:
        raw.close()


def insert_rows(connection: Connection, table: Table, rows: Sequence[tuple[object, ...]]) -> None:
    """Insert rows given as tuples in the order of the table's columns.

    They go to the driver as they are: building named parameters costs more than the insert itself.
    """
    if len(rows) >= MANY_ROWS and connection.dialect.name == "postgresql":
        _copy_in(connection, table, rows)
    elif rows:
        connection.exec_driver_sql(_inserts(table, _mark(connection)), list(rows))


def _copy_in(connection: Connection, table: Table, rows: Sequence[tuple[object, ...]]) -> None:
    """Insert rows as one stream, which costs this process a third of as many statements."""
    statement = f"COPY {table.name} ({_names(table)}) FROM STDIN"
    failure = connection.dialect.loaded_dbapi.Error
    cursor: Any = connection.connection.cursor()
    try:
        with cursor, cursor.copy(statement) as stream:
            for row in rows:
                stream.write_row(row)
    except failure as problem:
        # SQLAlchemy knows no streams: what fails in one is named as it names everything else that fails.
        raise DBAPIError.instance(statement, (), problem, failure) from problem


def replace_rows(
    connection: Connection, column: Column[str], value: str, rows: Sequence[tuple[object, ...]]
) -> None:
    """Let these be the rows with a value in a column, as tuples in the order of the table's columns.

    What stands already is not written again: each push folds a whole batch, and few of its rows change by it.
    """
    table, mark = column.table, _mark(connection)
    stand = set(map(tuple, connection.exec_driver_sql(_selects(column, mark), (value,)).all()))
    gone = stand.difference(rows)
    if gone:
        places = [place for place, one in enumerate(table.columns) if one.primary_key]
        keys = [tuple(row[place] for place in places) for row in gone]
        connection.exec_driver_sql(_deletes(table, mark), keys)
    insert_rows(connection, table, [row for row in rows if row not in stand])


class RowsOf:
    """The rows with a value in a column of each of some tables. Most tables have none: one question finds which."""

    def __init__(self, connection: Connection, value: str, columns: Sequence[Column[str]]) -> None:
        self._connection, self._value = connection, value
        asked = _asks_for_any(tuple(columns), _mark(connection))
        found = connection.exec_driver_sql(asked, (value,) * len(columns)).one()
        self._has_any = dict(zip(columns, found, strict=True))

    def replace(self, column: Column[str], rows: Sequence[tuple[object, ...]]) -> None:
        """Let these be its rows in one of the tables, as `replace_rows` does."""
        if self._has_any[column]:
            replace_rows(self._connection, column, self._value, rows)
        else:
            insert_rows(self._connection, column.table, rows)


def in_parts(names: Iterable[Name]) -> Iterator[list[Name]]:
    """Each name or number once, in order, as many at a time as go into one question to the database."""
    once = sorted(set(names))
    return (once[first : first + MOST_NAMES] for first in range(0, len(once), MOST_NAMES))


def _mark(connection: Connection) -> str:
    return "?" if connection.dialect.name == "sqlite" else "%s"


@cache
def _inserts(table: Table, mark: str) -> str:
    marks = ", ".join([mark] * len(table.columns))
    return f"INSERT INTO {table.name} ({_names(table)}) VALUES ({marks})"  # noqa: S608 - names of our own tables


@cache
def _selects(column: Column[str], mark: str) -> str:
    return f"SELECT {_names(column.table)} FROM {column.table.name} WHERE {column.name} = {mark}"  # noqa: S608


@cache
def _asks_for_any(columns: tuple[Column[str], ...], mark: str) -> str:
    asked = (f"EXISTS (SELECT 1 FROM {one.table.name} WHERE {one.name} = {mark})" for one in columns)  # noqa: S608
    return f"SELECT {', '.join(asked)}"


@cache
def _deletes(table: Table, mark: str) -> str:
    keys = " AND ".join(f"{column.name} = {mark}" for column in table.columns if column.primary_key)
    return f"DELETE FROM {table.name} WHERE {keys}"  # noqa: S608


def _names(table: Table) -> str:
    return ", ".join(column.name for column in table.columns)


def why_not_now(problem: BaseException) -> NotReady | NotWritable | None:
    """Return what a failure of the database or of a file means where no request is to blame for it; else None."""
    told = _state_of(problem)
    # SQLite may have ended the whole transaction by itself; what is said then is only that there is none.
    while told is None and problem.__context__ is not None:
        problem = problem.__context__
        told = _state_of(problem)
    return told


def _state_of(problem: BaseException) -> NotReady | NotWritable | None:
    cause = problem.orig if isinstance(problem, DBAPIError) else problem
    if isinstance(cause, sqlite3.Error):
        code = getattr(cause, "sqlite_errorcode", 0)
        if code == sqlite3.SQLITE_IOERR_SHMSIZE:  # no room for the few pages that readers share
            return _not_writable(FULL)
        code &= 0xFF
        if code in (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED):
            return NotReady("The database is busy. Try again in a few seconds.")
        return _not_writable(SQLITE_WRITES.get(code))
    if isinstance(cause, OSError):
        return _not_writable(SYSTEM_WRITES.get(cause.errno or 0))
    if not isinstance(problem, DBAPIError):
        return None
    state: str | None = getattr(cause, "sqlstate", "")
    if state in POSTGRES_BUSY:
        return NotReady("The database is busy. Try again in a few seconds.")
    # psycopg does not call it operational when the database ends an idle one.
    if problem.connection_invalidated or (state in POSTGRES_AWAY and isinstance(problem, OperationalError)):
        return NotReady("The database is not reached. Try again in a few seconds.")
    return _not_writable(POSTGRES_WRITES.get(state or ""))


def _not_writable(why: str | None) -> NotWritable | None:
    if why is None:
        return None
    return NotWritable(
        f"{WHAT_TO_DO[why]}. It confirms nothing that it could not keep: tablets go on recording, and send again "
        "by themselves.",
        why=why,
    )
