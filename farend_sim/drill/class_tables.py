"""The tables of a class book, and how an older book becomes a newer one.

Law: a migration is never changed once it has shipped; the next one is a row more. A book's
`user_version` says how many of them it has had.
"""

import sqlite3

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
    """
    ALTER TABLE trainee ADD COLUMN note TEXT NOT NULL DEFAULT '';
    CREATE INDEX attempt_of ON attempt (trainee_id, began);
    """,
)
"""Each step from one version of a book to the next."""


def migrate(connection: sqlite3.Connection) -> None:
    """Bring a book up to date, whole or not at all.

    Raises:
        sqlite3.DatabaseError: it is a newer book than this program knows.
    """
    connection.execute("BEGIN IMMEDIATE")  # one at a time, and who waits sees it done
    try:
        had = version(connection)
        if had > len(MIGRATIONS):
            raise sqlite3.DatabaseError(f"a class book of version {had}, newer than this program")
        for number in range(had, len(MIGRATIONS)):
            for statement in MIGRATIONS[number].split(";"):
                if statement.strip():
                    connection.execute(statement)
            connection.execute(f"PRAGMA user_version = {number + 1}")
    except BaseException:  # whatever ends it, Ctrl-C too: no book is left half moved
        connection.execute("ROLLBACK")
        raise
    connection.execute("COMMIT")


def refuse_others(connection: sqlite3.Connection) -> None:
    """Leave alone what another program keeps.

    Raises:
        sqlite3.DatabaseError: it has tables, and none of a class book's.
    """
    names = {row[0] for row in connection.execute("SELECT name FROM sqlite_master")}
    if names and "attempt" not in names:
        raise sqlite3.DatabaseError("the database of another program")


def version(connection: sqlite3.Connection) -> int:
    """How many migrations a book has had."""
    return int(connection.execute("PRAGMA user_version").fetchone()[0])
