"""The class book: trainees, their attempts, verdicts and readings, in one SQLite file.

Law: an attempt is entered whole or not at all, by any number of writers at once; what is deleted
leaves no trace in the file. Nothing leaves the machine.
"""

import json
import sqlite3
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from types import TracebackType
from typing import Any

from farend_sim.drill.book.class_tables import migrate, refuse_others, whole
from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.story import Story
from farend_sim.errors import BadFileError

Row = dict[str, Any]
BUSY_S = 60.0
"""How long a writer waits for another [s]. Invented here."""


class ClassBook:
    """An open class book."""

    def __init__(self, path: Path, connection: sqlite3.Connection) -> None:
        self.path, self._connection = path, connection

    @classmethod
    def open(cls, path: Path, *, create: bool = True) -> "ClassBook":
        """Open a book; a new one is made where there is none.

        Raises:
            BadFileError: the file is no class book, or there is none and none is to be made.
        """
        if path.is_dir():
            raise BadFileError(f"{path}: found a folder, expected a class book")
        if not create and not path.is_file():
            raise BadFileError(f"{path}: found no such file, expected a class book")
        if not create and not path.stat().st_size:
            raise BadFileError(f"{path}: found an empty file, expected a class book")
        try:
            connection = sqlite3.connect(path, timeout=BUSY_S, isolation_level=None)
            connection.row_factory = sqlite3.Row
            refuse_others(connection)
            connection.execute("PRAGMA journal_mode = WAL")
            connection.execute("PRAGMA synchronous = FULL")
            connection.execute("PRAGMA foreign_keys = ON")
            connection.execute("PRAGMA secure_delete = ON")
            migrate(connection)
        except sqlite3.Error as error:
            raise BadFileError(f"{path}: found no book ({error}), expected a class book") from None
        return cls(path, connection)

    def __enter__(self) -> "ClassBook":
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the file."""
        self._connection.close()

    # -- write ---------------------------------------------------------------------------------

    def enter(self, trainee: str, attempt: Attempt) -> int:
        """Enter an attempt as it stands; one that was entered before is brought up to date."""
        story = Story(attempt)
        verdict = judge(attempt) if attempt.handed_in else None
        lines = [json.dumps(entry) for entry in (attempt.about, *attempt.entries)]
        with whole(self._connection) as sql:
            sql.execute("INSERT OR IGNORE INTO trainee (name) VALUES (?)", (trainee,))
            (who,) = sql.execute("SELECT id FROM trainee WHERE name = ?", (trainee,)).fetchone()
            mark = attempt.about.get("mark")
            sql.execute("DELETE FROM attempt WHERE mark = ?", (mark,))
            seed = attempt.drill.situation.scenario.seed
            begun = str(attempt.about.get("begun") or "")
            journal = "\n".join(lines) + "\n"
            number = sql.execute(
                "INSERT INTO attempt (trainee_id, began, drill, seed, journal, handed_in, mark)"
                " VALUES (?, ?, ?, ?, ?, ?, ?)",
                (who, begun, attempt.drill.name, seed, journal, attempt.handed_in, mark),
            ).lastrowid
            assert number is not None
            if verdict is not None:
                told = json.dumps(asdict(verdict))
                marks = (verdict.passed, verdict.score, verdict.took_s, verdict.hints, told)
                sql.execute("INSERT INTO verdict VALUES (?, ?, ?, ?, ?, ?)", (number, *marks))
                skills = [(number, skill) for skill in verdict.skills]
                sql.executemany("INSERT INTO skill VALUES (?, ?)", skills)
            sql.executemany(
                "INSERT INTO reading VALUES (?, ?, ?, ?, ?, ?, ?)", _readings(number, story)
            )
            return number

    def delete(self, trainee: str) -> int:
        """Delete a trainee with all that is theirs; returns how many attempts that were.

        Raises:
            BadFileError: there is none of that name.
        """
        with whole(self._connection) as sql:
            found = sql.execute("SELECT id FROM trainee WHERE name = ?", (trainee,)).fetchone()
            if found is None:
                raise BadFileError(f"{self.path}: found no trainee {trainee!r}, expected a name")
            (count,) = sql.execute(
                "SELECT count(*) FROM attempt WHERE trainee_id = ?", (found["id"],)
            ).fetchone()
            sql.execute("DELETE FROM trainee WHERE id = ?", (found["id"],))
        self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        self._connection.execute("VACUUM")
        self._connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        return int(count)

    def backup(self, path: Path) -> None:
        """Copy the book as it stands, whoever writes meanwhile.

        Raises:
            BadFileError: there is a file already, or none can be written.
        """
        if path.exists():
            raise BadFileError(f"{path}: found a file, expected a new one")
        try:
            copy = sqlite3.connect(path)
            with copy:
                self._connection.backup(copy)
            copy.close()
        except sqlite3.Error as error:
            raise BadFileError(f"{path}: found {error}; expected a file to write") from None

    # -- read ----------------------------------------------------------------------------------

    def attempts(self) -> list[Row]:
        """Every attempt with its verdict's figures, in the order they were begun."""
        return self._rows(
            "SELECT trainee.name AS trainee, attempt.id AS attempt, drill, began, seed, handed_in,"
            " passed, score, took_s, hints"
            " FROM attempt JOIN trainee ON trainee.id = trainee_id"
            " LEFT JOIN verdict ON attempt_id = attempt.id ORDER BY began, attempt.id"
        )

    def progress(self) -> list[Row]:
        """For each trainee and skill: tries, passes, the best and the last score."""
        return self._rows(
            "SELECT trainee.name AS trainee, skill.name AS skill, count(*) AS tries,"
            " sum(passed) AS passes, max(score) AS best,"
            " (SELECT later.score FROM verdict AS later JOIN skill AS of USING (attempt_id)"
            "  JOIN attempt AS a ON a.id = later.attempt_id"
            "  WHERE a.trainee_id = trainee.id AND of.name = skill.name"
            "  ORDER BY a.began DESC, a.id DESC LIMIT 1) AS last"
            " FROM skill JOIN attempt ON attempt.id = skill.attempt_id"
            " JOIN trainee ON trainee.id = trainee_id"
            " JOIN verdict ON verdict.attempt_id = attempt.id"
            " GROUP BY trainee.id, skill.name ORDER BY trainee.name, min(skill.rowid)"
        )

    def verdicts(self) -> list[Row]:
        """Every verdict whole, with its trainee."""
        rows = self._rows(
            "SELECT trainee.name AS trainee, attempt_id AS attempt, told FROM verdict"
            " JOIN attempt ON attempt.id = attempt_id JOIN trainee ON trainee.id = trainee_id"
        )
        return [{**row, "told": json.loads(row["told"])} for row in rows]

    def readings(self) -> list[Row]:
        """Every reading of every attempt, in order, with its trainee."""
        return self._rows(
            "SELECT trainee.name AS trainee, attempt.id AS attempt, drill, number, t_s, meter,"
            " across, shown, logged FROM reading JOIN attempt ON attempt.id = attempt_id"
            " JOIN trainee ON trainee.id = trainee_id ORDER BY attempt.id, number"
        )

    def journal(self, attempt: int) -> str:
        """An attempt's journal, as its file has it.

        Raises:
            BadFileError: there is no such attempt.
        """
        found = self._rows("SELECT journal FROM attempt WHERE id = ?", (attempt,))
        if not found:
            raise BadFileError(f"{self.path}: found no attempt {attempt}, expected a number of it")
        return str(found[0]["journal"])

    # ------------------------------------------------------------------------------------------

    def _rows(self, query: str, given: tuple[Any, ...] = ()) -> list[Row]:
        return [dict(row) for row in self._connection.execute(query, given)]


def _readings(number: int, story: Story) -> Iterator[tuple[Any, ...]]:
    for done in story.readings:
        row, logged = done.row, done in story.logged
        told = (row["t_s"], row["meter"], row.get("across"), row["shown"], logged)
        yield (number, done.at, *told)
