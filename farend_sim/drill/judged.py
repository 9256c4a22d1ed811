"""What a judgement of a mark is: how much of it, why, and whether it alone fails the drill."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Judged:
    """What came of a mark: how much of it, why, and whether it alone fails the drill."""

    share: float
    why: str
    fails: bool = False


def yes_or_no(is_so: bool, yes: str, no: str, *, hard: bool = False) -> Judged:
    """All of a mark, or none of it."""
    return Judged(1.0, yes) if is_so else Judged(0.0, no, fails=hard)
