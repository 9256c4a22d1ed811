"""The steps at a meter: clip it across two terminals, zero its leads, read it, log the reading."""

import re
from dataclasses import asdict, dataclass

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.whereabouts import NEAR
from farend_sim.bench.places_m import places_m
from farend_sim.bench.steps.step import Row, Step, refused
from farend_sim.bench.steps.ties import no_such_neighbour
from farend_sim.bench.steps.words import Line, MistakeError, choice, options
from line_model.meters.leads import bad_good
from line_model.neighbours import leg_of

ACROSS = (
    "tip-ring",
    "ring-tip",
    "tip-sheath",
    "sheath-tip",
    "ring-sheath",
    "sheath-ring",
    "tip+ring-sheath",
    "sheath-tip+ring",
    "tip-ring+sheath",
    "ring-tip+sheath",
)
"""Where a meter's two leads go, plus first; with one leg's mate grounded, as the capacitance of an
open leg is read, last."""
LEGS = ("tip", "ring")


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOn(Step):
    """Clip a meter across two terminals, or take it off."""

    USAGE = "meter NAME A-B (such as tip-ring), meter NAME bad=LEG good=LEG, or meter off"
    NEEDS_PAIR = True

    meter: str
    across: str
    """One of `ACROSS`, with a neighbour's legs too, or `bad=tip good=ring`."""

    @classmethod
    def read(cls, line: Line) -> Step:
        if line.words == ("off",):
            return MeterOff(line=line.line, text=line.text)
        if not 2 <= len(line.words) <= 3:
            raise MistakeError(repr(line.text), cls.USAGE)
        meter, *words = line.words
        if line.meters is not None:
            choice(meter, line.meters)
        across = _bad_good(words) if len(words) == 2 or "=" in words[0] else _across(words[0])
        return cls(line=line.line, text=line.text, meter=meter, across=across)

    def act(self, bench: Bench) -> Row:
        if self.meter not in bench.at_hand.meters:
            return refused(f"no meter named {self.meter!r} is at hand")
        profile = bench.at_hand.meters[self.meter].profile
        why = profile.refuses(self.across) or _out_of_reach(bench, self.across)
        if why is not None:
            return refused(why)
        bench.clip_meter(self.meter, self.across)
        return {"caution": profile.caution} if profile.caution else {}


@dataclass(frozen=True, slots=True, kw_only=True)
class MeterOff(Step):
    """Take the meter off."""

    def act(self, bench: Bench) -> Row:
        if bench.meter is None:
            return refused("no meter is clipped")
        bench.unclip_meter()
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Read(Step):
    """Press its button; a reading takes its time."""

    USAGE = "read"
    NEEDS_PAIR = True

    def act(self, bench: Bench) -> Row:
        if why_not := self.begin(bench):
            return why_not
        bench.finish_reading()
        return finished(bench)

    def begin(self, bench: Bench) -> Row:
        if bench.meter is None:
            return refused("no meter is clipped")
        if bench.meter.deadline_us is not None:
            return refused("the meter is at it: wait until its cycle is over")
        bench.start_reading()
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Zero(Step):
    """Short the meter's leads and take their resistance out of later readings."""

    USAGE = "zero"

    def act(self, bench: Bench) -> Row:
        if bench.meter is None:
            return refused("no meter is clipped")
        return {} if bench.meter.zero() else refused("the leads of this meter need no zero")


@dataclass(frozen=True, slots=True, kw_only=True)
class Log(Step):
    """Write the reading on the display into the logbook."""

    USAGE = "log"

    def act(self, bench: Bench) -> Row:
        if (held := bench.snapshot().held) is None:
            return refused("there is no reading on the display")
        return {"logged": {"meter": held.meter, "across": held.across, "shown": held.shown}}


STEPS: tuple[type[Step], ...] = (MeterOn, Read, Zero, Log)


def finished(bench: Bench) -> Row:
    """A reading once the meter's cycle is over."""
    reading = bench.snapshot().reading
    assert reading is not None
    row = asdict(reading)
    row.update(row.pop("more"))
    return {**row, **places_m(reading, bench)}


def _out_of_reach(bench: Bench, across: str) -> str | None:
    """Why a meter's leads cannot go on the neighbours' legs that they name; None where they can."""
    legs = (leg_of(word) for word in re.split("[-+= ]", across))
    for name in (leg[0] for leg in legs if leg):
        if name not in bench.situation.scenario.neighbours:
            return no_such_neighbour(bench, name)
        if bench.pair.where.spot.place != NEAR:
            return "the neighbours end at the near end, and you are not there"
    return None


def _across(word: str) -> str:
    """Two terminals; any may be a neighbour's leg, as in `NAME.tip-NAME.ring`."""
    if "." not in word:
        return choice(word, ACROSS)
    sides = word.split("-")
    if len(sides) != 2 or sides[0] == sides[1]:
        raise MistakeError(repr(word), "two terminals A-B, such as NAME.tip-NAME.ring")
    for side in sides:
        name, _, leg = side.rpartition(".")
        choice(leg, LEGS if name else (*LEGS, "sheath"))
    return word


def _bad_good(words: list[str]) -> str:
    """A bridge's two legs: of the own pair, or `NAME.tip` of a pair that is known to be good."""
    legs = options(words, ("bad", "good"))
    for name in ("bad", "good"):
        if name not in legs:
            raise MistakeError(f"no {name}=", "both bad=LEG and good=LEG")
        choice(legs[name].rpartition(".")[2], LEGS)
    if legs["bad"] == legs["good"]:
        raise MistakeError(f"{legs['bad']!r} twice", "two different legs")
    return bad_good(legs["bad"], legs["good"])
