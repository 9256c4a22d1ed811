"""What came of a step: a row of a transcript, ready for JSON."""

from typing import Any

Row = dict[str, Any]


def refused(why: str) -> Row:
    """What cannot be done now."""
    return {"refused": why}
