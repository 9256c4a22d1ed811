"""What every step is: a line of a file, as it was typed."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True, kw_only=True)
class Typed:
    """Where a step stands in its file, and the line as typed."""

    line: int
    text: str
