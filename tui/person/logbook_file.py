"""The logbook on disk: one JSON line an entry, written at once and never changed.

Law: an entry is on disk before the screen shows it, so nothing that was written is ever lost.
"""

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from farend_sim.errors import BadFileError
from farend_sim.loading.messages import why
from tui.person.data_folder import data_folder

Entry = Mapping[str, Any]


class LogbookFile:
    """A file that only grows."""

    def __init__(self, path: Path) -> None:
        """Make sure that it can be written, before anything is.

        Raises:
            BadFileError: it cannot.
        """
        self.path = path
        self.written = 0
        """How many entries were added."""
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            with path.open("a", encoding="utf-8"):
                pass
        except OSError as error:
            raise BadFileError(f"{path}: found {why(error)}, expected a file to add to") from None

    def append(self, entry: Entry) -> str | None:
        """Add an entry; returns why it could not be."""
        line = json.dumps(entry, ensure_ascii=False, allow_nan=False) + "\n"
        try:
            with self.path.open("a", encoding="utf-8") as file:
                file.write(line)
                file.flush()
                os.fsync(file.fileno())
        except OSError as error:
            return error.strerror or "the file cannot be written"
        self.written += 1
        return None


def default_path(scenario: str) -> Path:
    """Where the logbook of a scenario is kept if nobody names a file."""
    return data_folder() / "logbook" / f"{scenario}.jsonl"
