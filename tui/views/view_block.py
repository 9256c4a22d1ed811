"""The block as a technician sees it: posts in a row, where the leads are, what the probe gave."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.bench.steps.post_words import level
from tui.person.sitting import Sitting
from tui.views.bars import level_bar

_SPAN_DBM = -80.0, 0.0
"""The foot and the top of a bar: from under what a probe sounds to a milliwatt."""


@dataclass(frozen=True, slots=True)
class PostView:
    post: int
    words: str


def posts(sitting: Sitting) -> Iterator[PostView]:
    """Every post of the block, with what was found at it last."""
    block = sitting.situation.scenario.block
    if block is None:
        return
    found = _found(sitting)
    clipped = _clipped(sitting)
    for post in range(1, block.posts + 1):
        marks = ("on the record" if post == block.recorded else "") + (
            "  leads on it" if post == clipped else ""
        )
        yield PostView(post, f"{post:>4}  {found.get(post, ''):<38} {marks.strip()}".rstrip())


def _clipped(sitting: Sitting) -> int | None:
    """The post that the leads were put on last."""
    done = [row for row in sitting.rows if row["step"].startswith("clip ") and "post" in row]
    return done[-1]["post"] if done else None


def _found(sitting: Sitting) -> dict[int, str]:
    """What the probe gave last at each post, as a bar and in decibels."""
    found: dict[int, str] = {}
    for row in sitting.rows:
        if "probe" in row:
            between = row["probe"]["tip-ring"]
            before, held = between["level_dbm"], between["pinched_dbm"]
            found[row["post"]] = (
                f"{level_bar(before, _SPAN_DBM)} {level(before)}, pinched {level(held)}"
            )
        elif "post" in row and "across" in row:
            heard = row["level_dbm"]
            found[row["post"]] = f"{level_bar(heard, _SPAN_DBM)} {level(heard)} {row['across']}"
    return found
