"""The tables of a class book, and how an older book becomes a newer one.

Law: a migration is never changed once it has shipped; the next one is a row more. A book's
`user_version` says how many of them it has had. One that is newer than the program is left alone.
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager

MIGRATIONS: tuple[str, ...] = (
    """
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
    """,
    "CREATE INDEX attempt_of ON attempt (trainee_id, began)",
)
"""Each step from one version of a book to the next."""


def refuse_others(connection: sqlite3.Connection) -> None:
    """Leave alone what another program keeps, or a later version of this one.

    Raises:
        sqlite3.DatabaseError: it has tables, and none of a class book's; or it is newer.
    """
    names = {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}
    had = version(connection)
    if names and "attempt" not in names:
        raise sqlite3.DatabaseError("the database of another program")
    if had > len(MIGRATIONS):
        raise sqlite3.DatabaseError(f"a class book of version {had}, newer than this program")


def migrate(connection: sqlite3.Connection) -> None:
    """Bring a book up to date, whole or not at all; a new one gets all of its tables."""
    with whole(connection):  # one at a time, and who waits sees it done
        for number in range(version(connection), len(MIGRATIONS)):
            for statement in MIGRATIONS[number].split(";"):
                connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {number + 1}")


def version(connection: sqlite3.Connection) -> int:
    """How many migrations a book has had."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])


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
