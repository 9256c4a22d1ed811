"""Where a person's own files are kept if nobody names a place: logbooks, what was shown once."""

import os
from pathlib import Path


def data_folder() -> Path:
    """The folder of this program among a person's data; it may not be there yet."""
    home = os.environ.get("XDG_DATA_HOME") or Path.home() / ".local" / "share"
    return Path(home) / "farend-sim"


def shown_before(what: str) -> bool:
    """Whether something that is shown once was shown; marks it as shown.

    A folder that cannot be written to is no reason to keep a person: it is shown again then.
    """
    mark = data_folder() / "shown" / what
    if mark.exists():
        return True
    try:
        mark.parent.mkdir(parents=True, exist_ok=True)
        mark.touch()
    except OSError:
        return False
    return False
