"""The words of the steps at a block: `clip`, `probe`, `pinch`, and `tie` at the far end."""

from typing import cast, get_args

from farend_sim.bench import steps
from farend_sim.bench.step_words import Line, MistakeError, choice
from line_model.joints import Leg

CLIP = "clip POST, the number of a post"
PROBE = "probe POST, or probe POST tip or ring"
PINCH = "pinch POST, the number of a post"
TIE = "tie NAME tip or tie NAME ring: NAME a neighbour pair, then the leg it is tied to"
MOST_POSTS = 3600
"""As `[block]` may have at most."""


def read_clip(line: Line) -> steps.Clip:
    """Read the post after `clip`."""
    (post,) = _words(line, 1, CLIP)
    return steps.Clip(line=line.line, text=line.text, post=_post(post))


def read_probe(line: Line) -> steps.Probe:
    """Read the post after `probe`, and the leg if there is one."""
    leg = None if len(line.words) == 1 else choice(_words(line, 2, PROBE)[1], get_args(Leg))
    post = _post(line.words[0])
    return steps.Probe(line=line.line, text=line.text, post=post, leg=cast("Leg | None", leg))


def read_pinch(line: Line) -> steps.Pinch:
    """Read the post after `pinch`."""
    (post,) = _words(line, 1, PINCH)
    return steps.Pinch(line=line.line, text=line.text, post=_post(post))


def read_tie(line: Line) -> steps.Tie:
    """Read the neighbour and the leg after `tie`."""
    if len(line.words) < 2:
        raise MistakeError(repr(line.text), TIE)
    *name, leg = line.words
    own = cast(Leg, choice(leg, get_args(Leg)))
    return steps.Tie(line=line.line, text=line.text, neighbour=" ".join(name), leg=own)


def _words(line: Line, count: int, usage: str) -> tuple[str, ...]:
    if len(line.words) != count:
        raise MistakeError(repr(line.text), usage)
    return line.words


def _post(word: str) -> int:
    if not (word.isascii() and word.isdecimal() and 1 <= int(word) <= MOST_POSTS):
        raise MistakeError(repr(word), f"the number of a post, from 1 to {MOST_POSTS}")
    return int(word)
