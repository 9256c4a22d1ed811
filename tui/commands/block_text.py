"""What came of a step at a block, as a technician reads it."""

from collections.abc import Iterator
from typing import Any


def lines_of(done: dict[str, Any]) -> Iterator[str]:
    """The lines of a row that tells of a post; none of any other."""
    if "post" not in done:
        return
    post = f"post {done['post']}" + (", the record's" if done["recorded"] else "")
    if "sounds" in done:
        yield f"{post}, {done['across']}: {done['sounds']}{_level(done['level_dbm'])}"
    elif "probe" in done:
        for place, got in done["probe"].items():
            before, pinched = got["level_dbm"], got["pinched_dbm"]
            yield f"{post}, {place}: {_told(before)}, pinched {_told(pinched)}"
    else:
        yield f"on {post}"


def _level(level_dbm: float | None) -> str:
    return "" if level_dbm is None else f", {level_dbm:.1f} dBm"


def _told(level_dbm: float | None) -> str:
    return "nothing" if level_dbm is None else f"{level_dbm:.1f} dBm"
