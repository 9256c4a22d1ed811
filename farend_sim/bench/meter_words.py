"""The words of `meter`: a name and two terminals, a bridge's bad and good leg, or `off`."""

from typing import get_args

from farend_sim.bench import steps
from farend_sim.bench.step_words import Line, MistakeError, choice, options
from line_model.meters.leads import bad_good

METER = "meter NAME A-B (such as tip-ring), meter NAME bad=LEG good=LEG, or meter off"
ACROSS = (*get_args(steps.Across), "tip-ring+sheath", "ring-tip+sheath")
"""With one leg alone, its mate grounded: how the capacitance of an open leg is read."""
LEGS = ("tip", "ring")


def read_meter(line: Line) -> steps.Step:
    """Read the words behind `meter`."""
    if line.words == ("off",):
        return steps.MeterOff(line=line.line, text=line.text)
    if not 2 <= len(line.words) <= 3:
        raise MistakeError(repr(line.text), METER)
    meter, *words = line.words
    if line.meters is not None:
        choice(meter, line.meters)
    across = _bad_good(words) if len(words) == 2 or "=" in words[0] else _across(words[0])
    return steps.MeterOn(line=line.line, text=line.text, meter=meter, across=across)


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
