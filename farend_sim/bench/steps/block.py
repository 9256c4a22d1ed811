"""The steps at a block: clip the leads to a post, hold the probe to one, pinch one.

Law: a row says what leads and probe get, never which pair is the right one. All of it takes time.
"""

from abc import abstractmethod
from dataclasses import dataclass
from typing import cast, get_args

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.whereabouts import NEAR
from farend_sim.bench.sound.probe import Across, Probed, probed
from farend_sim.bench.steps.step import Row, Step, let_pass, refused
from farend_sim.bench.steps.words import Line, MistakeError, choice, exactly
from farend_sim.block import MOST_POSTS
from line_model.neighbours import named
from line_model.terminals import Leg

CLIP_S = 5.0
PROBE_S = 4.0
PINCH_S = 6.0
"""To find a post and put the leads on; to hold a probe over a whole beat of the tone and its gap;
to pinch and hear it both ways [s]. Invented for the demo."""
IN_USE = ("working", "talking")
SHORTED = "a line in use was shorted: volts and the ear come first"
_HELD: dict[str | None, Across] = {None: "tip-ring", "tip": "tip-sheath", "ring": "ring-sheath"}


@dataclass(frozen=True, slots=True, kw_only=True)
class AtPost(Step):
    """Something done at a post; meanwhile the ear is at the probe, or on no pair."""

    EAR = "away"

    post: int

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 1, cls.USAGE)
        return cls(line=line.line, text=line.text, post=_post(line.words[0]))

    def act(self, bench: Bench) -> Row:
        """Do it if there is such a post and the technician is there."""
        block = bench.situation.scenario.block
        if block is None:
            return refused("there is no block here: the pair is clipped from the start")
        if bench.pair.where.spot.place != NEAR:
            return refused("the block is at the near end, and you are not")
        if self.post > block.posts:
            return refused(f"the block has posts 1 to {block.posts}")
        pair = block.at(self.post, bench.situation.scenario.plant)
        # whether the record says that the post is the pair's
        at = {"post": self.post, "recorded": self.post == block.recorded}
        came = self.at(bench, pair)
        return came if "refused" in came else {**at, **came}

    @abstractmethod
    def at(self, bench: Bench, pair: str) -> Row:
        """Do it there, at the pair of that name."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Clip(AtPost):
    """Put the leads on a post."""

    USAGE = "clip POST, the number of a post"

    def at(self, bench: Bench, pair: str) -> Row:
        if bench.keypad.sending:
            return refused("keys are still sounding")
        let_pass(bench, CLIP_S)
        bench.clip(pair)
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Probe(AtPost):
    """Hold the tone probe there: between the legs, or from a leg to the sheath."""

    USAGE = "probe POST, or probe POST tip or ring"

    leg: Leg | None = None

    @classmethod
    def read(cls, line: Line) -> Step:
        leg = None
        if len(line.words) != 1:
            exactly(line, 2, cls.USAGE)
            leg = cast(Leg, choice(line.words[1], get_args(Leg)))
        return cls(line=line.line, text=line.text, post=_post(line.words[0]), leg=leg)

    def at(self, bench: Bench, pair: str) -> Row:
        let_pass(bench, PROBE_S)
        across = _HELD[self.leg]
        got = _probed(bench, pair, pinched=False)[across]
        return {"across": across, "level_dbm": got.level_dbm, "sounds": got.sounds}


@dataclass(frozen=True, slots=True, kw_only=True)
class Pinch(AtPost):
    """Press its legs together meanwhile; never on a pair that may work."""

    USAGE = "pinch POST, the number of a post"

    def at(self, bench: Bench, pair: str) -> Row:
        let_pass(bench, PINCH_S)
        before, pinched = (_probed(bench, pair, pinched=held) for held in (False, True))
        sounds = {
            place: {"level_dbm": before[place].level_dbm, "pinched_dbm": pinched[place].level_dbm}
            for place in before
        }
        # who shorts a line in use is told, as a spark and a voice would tell
        in_use = named(bench.situation.scenario.plant, pair).state in IN_USE
        return {"probe": sounds, **({"caution": SHORTED} if in_use else {})}


STEPS: tuple[type[Step], ...] = (Clip, Probe, Pinch)


def _probed(bench: Bench, pair: str, pinched: bool) -> dict[Across, Probed]:
    return probed(bench.pair, bench.unit.sound, pair, pinched)


def _post(word: str) -> int:
    if not (word.isascii() and word.isdecimal() and 1 <= int(word) <= MOST_POSTS):
        raise MistakeError(repr(word), f"the number of a post, from 1 to {MOST_POSTS}")
    return int(word)
