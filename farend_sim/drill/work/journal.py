"""An attempt's journal: a file that only grows, one line of JSON an entry, on disk before it acts.

Law: an entry that `add` has returned from is never lost. A line that a crash tore is an entry that
nobody was answered for: opening the journal again takes it away.
"""

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any, BinaryIO

from farend_sim.errors import BadFileError
from farend_sim.loading.messages import why

Entry = dict[str, Any]


class Journal:
    """One open journal; no second process may open it meanwhile."""

    def __init__(self, path: Path, file: BinaryIO) -> None:
        self.path, self._file = path, file

    @classmethod
    def create(cls, path: Path, head: Mapping[str, Any]) -> "Journal":
        """Begin a journal where there is none.

        Raises:
            BadFileError: there is one already, or none can be written.
        """
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            journal = cls(path, path.open("xb"))
        except FileExistsError:
            raise BadFileError(f"{path}: found an attempt, expected a new file") from None
        except OSError as error:
            raise BadFileError(f"{path}: found {why(error)}, expected a file to write") from None
        _lock(journal._file, path)
        journal.add(head)
        _sync_folder(path.parent)
        return journal

    @classmethod
    def reopen(cls, path: Path) -> tuple["Journal", list[Entry]]:
        """Go on with a journal; returns what is in it.

        Raises:
            BadFileError: it is none, or another process has it open.
        """
        try:
            file = path.open("r+b")
        except OSError as error:
            raise _unread(path, error) from None
        try:
            _lock(file, path)
            raw = file.read()
            entries = entries_of(raw, str(path))
        except BadFileError:
            file.close()
            raise
        whole = raw[: raw.rfind(b"\n") + 1]
        file.truncate(len(whole))
        file.seek(len(whole))
        return cls(path, file), entries

    def add(self, entry: Mapping[str, Any]) -> None:
        """Put an entry on disk."""
        line = json.dumps(entry, ensure_ascii=False, allow_nan=False) + "\n"
        self._file.write(line.encode())
        self._file.flush()
        os.fsync(self._file.fileno())

    def close(self) -> None:
        """Let go of the file."""
        self._file.close()


def read_journal(path: Path) -> list[Entry]:
    """What is in a journal, whoever has it open.

    Raises:
        BadFileError: it is none.
    """
    try:
        return entries_of(path.read_bytes(), str(path))
    except OSError as error:
        raise _unread(path, error) from None


def entries_of(raw: bytes, filename: str) -> list[Entry]:
    """The whole lines of a journal; what a crash tore at its end is left out.

    Raises:
        BadFileError: a line before the last is no entry, or the first is no journal's head.
    """
    entries: list[Entry] = []
    for number, line in enumerate(raw.split(b"\n")[:-1], start=1):
        try:
            entry = json.loads(line)
        except ValueError:
            entry = None
        if not isinstance(entry, dict):
            raise BadFileError(f"{filename}:{number}: found a broken line, expected a JSON object")
        entries.append(entry)
    if not entries or entries[0].get("journal") != 1:
        raise BadFileError(f"{filename}: found no head, expected the journal of an attempt")
    return entries


def _unread(path: Path, error: OSError) -> BadFileError:
    return BadFileError(f"{path}: found {why(error)}, expected an attempt's journal")


def _lock(file: BinaryIO, path: Path) -> None:
    """Keep other processes out; the system lets go of it when this one ends, however it ends."""
    try:
        import fcntl
    except ImportError:  # not everywhere; there a person must not open an attempt twice
        return
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        raise BadFileError(f"{path}: found it open elsewhere, expected it closed") from None


def _sync_folder(folder: Path) -> None:
    """Make sure that the folder knows of a new file."""
    if os.name == "posix":
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)
