"""What leads and probe get at a post of a block, in a technician's words."""

from collections.abc import Iterator, Mapping
from typing import Any


def post_words(row: Mapping[str, Any]) -> str:
    """Which post a row tells of, and whether the record names it."""
    return f"post {row['post']}{', the one on the record' if row.get('recorded') else ''}"


def got(row: Mapping[str, Any]) -> Iterator[str]:
    """What was got there, a phrase each."""
    if "probe" in row:
        for place, of in row["probe"].items():
            yield f"{place} {level(of['level_dbm'])}, pinched {level(of['pinched_dbm'])}"
    elif "across" in row:
        sounds = f", {row['sounds']}" if row.get("sounds") else ""
        yield f"{row['across']} {level(row['level_dbm'])}{sounds}"
    else:
        yield "the leads are on"


def level(level_dbm: float | None) -> str:
    """What the probe's ear hears."""
    return "silence" if level_dbm is None else f"{level_dbm:.0f} dBm"
