"""The class book: nothing lost, nothing mixed, nothing left of whom it was told to forget."""

import json
import sqlite3
from contextlib import closing
from functools import partial
from pathlib import Path

import pytest

from farend_sim.answers.page import page
from farend_sim.drill.book.class_answer import class_answer
from farend_sim.drill.book.class_book import ClassBook
from farend_sim.drill.book.class_tables import MIGRATIONS, migrate, version
from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.work import kept
from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError
from tests.drill.working import authored, elsewhere, ended, steps_of, worked

TANNERY = "tannery-19"


def entered(file: Path, who: str, mark: str, steps: list[str] | None = None) -> Attempt:
    """An attempt at the tannery, worked and entered."""
    drill = authored(TANNERY)
    attempt = worked(drill, steps_of(drill) if steps is None else steps)
    attempt.about = {"journal": 1, "mark": mark, "begun": mark, "trainee": who}
    attempt.hand_in()
    with ClassBook.open(file) as book:
        book.enter(who, attempt)
    return attempt


TABLES = ("trainee", "attempt", "verdict", "skill", "reading")


def rows(book: ClassBook, table: str) -> list[sqlite3.Row]:
    """All rows of a table."""
    with closing(sqlite3.connect(book.path)) as of:
        of.row_factory = sqlite3.Row
        return of.execute(f"SELECT * FROM {table} ORDER BY rowid").fetchall()


def write(file: Path, numbers: range) -> None:
    """Attempts of so many trainees, each entered half-way and again when it is handed in."""
    for number in numbers:
        attempt = kept.start(authored(TANNERY), about={"mark": f"m{number}", "begun": f"b{number}"})
        for step in (f"note of {number}", "meter volts tip-ring", "read", "log"):
            attempt.do(step)
        for last in (False, True):
            if last:
                attempt.do("answer kind=battery leg=ring action=report")
                attempt.hand_in()
            with ClassBook.open(file) as book:
                book.enter(f"trainee {number}", attempt)


def test_fifty_at_once(tmp_path: Path) -> None:
    """Fifty attempts in ten processes on one file, each entered again as it grows.

    Every one is there, with its own steps, readings and verdict, under its own trainee.
    """
    file = tmp_path / "class.db"
    authored(TANNERY)  # read once: each process has its own copy of it
    writers = [elsewhere(partial(write, file, range(at, at + 5))) for at in range(0, 50, 5)]
    assert [ended(writer) for writer in writers] == [0] * 10
    with ClassBook.open(file) as book:
        rows = book.attempts()
        assert len(rows) == 50
        for row in rows:
            number = row["trainee"].split()[1]
            assert f"b{number}" == row["began"]
            assert row["handed_in"]
            assert row["score"] is not None
            journal = [json.loads(line) for line in book.journal(row["attempt"]).splitlines()]
            assert f"note of {number}" == journal[1]["step"]
            assert len(journal) == 7
        assert 50 == len(book.readings()) == sum(one["logged"] for one in book.readings())


def test_a_journal_from_the_book_is_the_attempt(tmp_path: Path) -> None:
    """What the book keeps is whole: the attempt can be marked again from it."""
    file, path = tmp_path / "class.db", tmp_path / "journal.jsonl"
    drill = authored(TANNERY)
    attempt = kept.start(drill, tmp_path / "own.jsonl", about={"mark": "m"})
    for step in steps_of(drill):
        attempt.do(step)
    attempt.hand_in()
    with ClassBook.open(file) as book:
        number = book.enter("Ann", attempt)
        path.write_text(book.journal(number), encoding="utf-8")
    attempt.close()
    assert judge(attempt) == judge(kept.read(path))


def test_progress_by_skill(tmp_path: Path) -> None:
    """Tries, passes, the best and the last score of each trainee's skills."""
    file = tmp_path / "class.db"
    good = judge(entered(file, "Ann", "1")).score
    poor = judge(entered(file, "Ann", "2", ["answer none"])).score
    with ClassBook.open(file) as book:
        expected = {
            "trainee": "Ann",
            "skill": "foreign-volts",
            "tries": 2,
            "passes": 1,
            "best": good,
            "last": poor,
        }
        assert [expected] == book.progress()


def test_deleted_is_gone(tmp_path: Path) -> None:
    """A trainee who is deleted leaves no row and no byte behind; the others stay as they were."""
    file = tmp_path / "class.db"
    entered(file, "Zebulon Quirk", "1", ["note by Zebulon", "answer none"])
    entered(file, "Ann", "2")
    with ClassBook.open(file) as book:
        others = [row for row in book.attempts() if row["trainee"] == "Ann"]
        assert book.delete("Zebulon Quirk") == 1
        assert others == book.attempts()
        assert [row["name"] for row in rows(book, "trainee")] == ["Ann"]
        (own,) = rows(book, "attempt")
        for table in ("verdict", "skill", "reading"):
            assert {own["id"]} == {row["attempt_id"] for row in rows(book, table)}
    raw = b"".join(path.read_bytes() for path in tmp_path.glob("class.db*"))
    assert b"Zebulon" not in raw
    with ClassBook.open(file) as book, pytest.raises(BadFileError, match="no trainee 'Nobody'"):
        book.delete("Nobody")


def test_an_older_book_is_brought_up_to_date(tmp_path: Path) -> None:
    """From every earlier version a book comes to the latest with all that was in it."""
    for had in range(len(MIGRATIONS)):
        file = tmp_path / f"{had}.db"
        old = sqlite3.connect(file, isolation_level=None)
        for number in range(had):
            old.executescript(MIGRATIONS[number])
            old.execute(f"PRAGMA user_version = {number + 1}")
        if had:
            old.execute("INSERT INTO trainee (name) VALUES ('Ann')")
        old.close()
        with ClassBook.open(file) as book:
            assert ["Ann"] * (had > 0) == [row["name"] for row in rows(book, "trainee")]
        kept = sqlite3.connect(file)
        assert len(MIGRATIONS) == version(kept)
        kept.close()


def test_a_migration_is_whole_or_not_at_all(tmp_path: Path) -> None:
    """Where a step fails in the middle, the book is as it was."""
    half = sqlite3.connect(tmp_path / "half.db", isolation_level=None)
    half.execute("CREATE TABLE verdict (other TEXT)")
    with pytest.raises(sqlite3.Error):
        migrate(half)
    names = [row[0] for row in half.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
    assert names == ["verdict"]
    assert version(half) == 0
    half.close()


def test_what_is_no_book_is_told(tmp_path: Path) -> None:
    """Another file, a newer book, and none at all, are told plainly."""
    other = tmp_path / "other.db"
    other.write_text("no book at all, and long enough to be looked at as one " * 20)
    with pytest.raises(BadFileError, match="expected a class book"):
        ClassBook.open(other)
    newer = tmp_path / "newer.db"
    later = sqlite3.connect(newer)
    later.execute("PRAGMA user_version = 99")
    later.close()
    with pytest.raises(BadFileError, match="newer than this program"):
        ClassBook.open(newer)
    with pytest.raises(BadFileError, match="no such file"):
        ClassBook.open(tmp_path / "none.db", create=False)
    with pytest.raises(BadFileError, match="a folder"):
        ClassBook.open(tmp_path)


def test_what_is_somebody_elses_is_left_as_it_is(tmp_path: Path) -> None:
    """Another program's database, and an empty file that is only to be shown, keep every byte."""
    stranger, empty = tmp_path / "bees.db", tmp_path / "empty.db"
    theirs = sqlite3.connect(stranger)
    theirs.execute("CREATE TABLE hive (bees INTEGER)")
    theirs.close()
    empty.touch()
    before = stranger.read_bytes()

    with pytest.raises(BadFileError, match="another program"):
        ClassBook.open(stranger)
    with pytest.raises(BadFileError, match="an empty file"):
        ClassBook.open(empty, create=False)

    assert (before, b"") == (stranger.read_bytes(), empty.read_bytes())


def test_backup_and_pages(tmp_path: Path) -> None:
    """A backup has every row; the trainer's page has every trainee, escaped; a file is kept."""
    file, copy = tmp_path / "class.db", tmp_path / "copy.db"
    entered(file, "<Ann & co>", "1")
    with ClassBook.open(file) as book:
        book.backup(copy)
        with pytest.raises(BadFileError, match="expected a new one"):
            book.backup(copy)
        with ClassBook.open(copy) as other:
            assert [rows(book, t) for t in TABLES] == [rows(other, t) for t in TABLES]
        told = page(class_answer(book))
        assert "&lt;Ann &amp; co&gt;" in told
        assert "<Ann" not in told
        assert "http" not in told
        assert "foreign-volts" in told
