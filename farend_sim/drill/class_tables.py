"""The tables of a class book.

Law: a book says of which version its tables are; one of another version is left as it is.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

VERSION = 1
"""One more whenever a table changes."""
TABLES = """
CREATE TABLE trainee (
    id INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE
);
CREATE TABLE attempt (
    id INTEGER PRIMARY KEY,
    trainee_id INTEGER NOT NULL REFERENCES trainee (id) ON DELETE CASCADE,
    began TEXT NOT NULL,
    drill TEXT NOT NULL,
    seed INTEGER NOT NULL,
    journal TEXT NOT NULL,
    handed_in INTEGER NOT NULL,
    mark TEXT UNIQUE
);
CREATE TABLE verdict (
    attempt_id INTEGER PRIMARY KEY REFERENCES attempt (id) ON DELETE CASCADE,
    passed INTEGER NOT NULL,
    score REAL NOT NULL,
    took_s REAL NOT NULL,
    hints INTEGER NOT NULL,
    told TEXT NOT NULL
);
CREATE TABLE skill (
    attempt_id INTEGER NOT NULL REFERENCES attempt (id) ON DELETE CASCADE,
    name TEXT NOT NULL,
    PRIMARY KEY (attempt_id, name)
);
CREATE TABLE reading (
    attempt_id INTEGER NOT NULL REFERENCES attempt (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    t_s REAL NOT NULL,
    meter TEXT NOT NULL,
    across TEXT,
    shown TEXT NOT NULL,
    logged INTEGER NOT NULL,
    PRIMARY KEY (attempt_id, number)
);
CREATE INDEX attempt_of ON attempt (trainee_id, began);
"""


def refuse_others(connection: sqlite3.Connection) -> None:
    """Leave alone what another program keeps, or this one in another version.

    Raises:
        sqlite3.DatabaseError: it is no class book of this version, and is not empty.
    """
    tables, had = _tables(connection), _version(connection)
    if tables and "attempt" not in tables:
        raise sqlite3.DatabaseError("the database of another program")
    if (tables or had) and had != VERSION:
        raise sqlite3.DatabaseError(f"a class book of version {had}, this program has {VERSION}")


def create(connection: sqlite3.Connection) -> None:
    """Give a new book its tables."""
    with whole(connection):  # one at a time, and who waits sees it done
        if not _tables(connection):
            for statement in TABLES.split(";"):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {VERSION}")


@contextmanager
def whole(connection: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """All that is done inside, or none of it."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield connection
    except BaseException:  # whatever ends it, Ctrl-C too: nothing half done is kept
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def _tables(connection: sqlite3.Connection) -> set[str]:
    return {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}


def _version(connection: sqlite3.Connection) -> int:
    return int(connection.execute("PRAGMA user_version").fetchone()[0])
