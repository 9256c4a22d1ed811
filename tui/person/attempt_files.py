"""Where attempts are kept, and which of them goes on: a file an attempt, numbered."""

import re
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING
from uuid import uuid4

from farend_sim.drill.work.journal import read_journal
from farend_sim.errors import BadFileError
from tui.person.data_folder import data_folder

if TYPE_CHECKING:
    from farend_sim.drill.drill import Drill
    from farend_sim.drill.work.attempt import Attempt


def attempts_folder(trainee: str | None = None) -> Path:
    """The folder of a person's attempts."""
    folder = data_folder() / "attempts"
    return folder if trainee is None else folder / _plain(trainee)


def path_for(drill: str, folder: Path, *, anew: bool = False) -> Path:
    """The file of an attempt that was not handed in, or of a new one."""
    before = None if anew else _unfinished(drill, folder)
    number = max(_numbered(drill, folder), default=0) + 1
    return before or folder / f"{drill}-{number}.jsonl"


def _unfinished(drill: str, folder: Path) -> Path | None:
    """The last attempt at a drill, if it was not handed in."""
    last = _numbered(drill, folder)
    if not last:
        return None
    path = last[max(last)]
    return None if any("handed_in" in entry for entry in _entries(path)) else path


def _numbered(drill: str, folder: Path) -> dict[int, Path]:
    pattern = re.compile(re.escape(drill) + r"-(\d+)\.jsonl")
    found = ((pattern.fullmatch(path.name), path) for path in folder.glob("*.jsonl"))
    return {int(match[1]): path for match, path in found if match}


def _entries(path: Path) -> list[dict[str, object]]:
    try:
        return read_journal(path)
    except BadFileError:
        return []  # resuming it tells what is wrong with it


def _plain(name: str) -> str:
    """A trainee's name as a folder's: what is no letter or digit is written as its number."""
    return "".join(c if c.isalnum() else f"%{ord(c):x}" for c in name)


def attempt_at(name: str, trainee: str | None = None) -> "Attempt":
    """Go on with a person's attempt at a drill that was not handed in, or begin one.

    Raises:
        BadFileError: the drill or the attempt has faults, or it is open elsewhere.
    """
    from farend_sim.drill.files import find_drill

    drill = find_drill(name)
    return attempt_in(path_for(drill.name, attempts_folder(trainee)), drill, trainee)


def attempt_in(
    path: Path, drill: "Drill", trainee: str | None, seed: int | None = None
) -> "Attempt":
    """Go on with the attempt that a file has, or begin one there.

    Raises:
        BadFileError: the attempt has faults, is at another drill, or is open elsewhere.
    """
    from farend_sim.drill.work import kept

    if not path.exists():
        begun = datetime.now(UTC).isoformat(timespec="seconds")
        about = {"begun": begun, "trainee": trainee, "mark": uuid4().hex}
        return kept.start(drill, path, seed=seed, about=about)
    attempt = kept.resume(path)
    if attempt.drill.sealed != drill.sealed:
        attempt.close()
        raise BadFileError(f"{path}: found an attempt at another drill, expected {drill.name}")
    return attempt


def done_before(name: str, trainee: str | None) -> str:
    """What came of a person's work at a drill before; empty if it was never begun."""
    folder = attempts_folder(trainee)
    count = len(_numbered(name, folder))
    if not count:
        return ""
    return (
        "under way"
        if _unfinished(name, folder)
        else f"done, {count} times"
        if count > 1
        else "done"
    )
