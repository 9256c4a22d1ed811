"""The steps at the unit: a helper's acts, the technician's own after going there; its faults.

Law: whoever stands at the unit presses and clips; what the unit makes of it is its own affair.
"""

from collections.abc import Callable
from dataclasses import dataclass
from typing import cast

from farend_sim.bench.bench import Bench
from farend_sim.bench.steps.step import Row, Step, refused
from farend_sim.bench.steps.words import Line, MistakeError, choice, exactly
from farend_sim.unit.events import ButtonPressed, PowerBack, PowerLost, SwitchedOff
from farend_sim.unit.table import State
from farend_sim.unit_faults import FAULTS, Fault

GROUND_FIRST = "ground first on, last off"


@dataclass(frozen=True, slots=True, kw_only=True)
class AtUnit(Step):
    """Have the helper at the far end do it."""

    USAGE = (
        "unit wake, off, clip [reversed] [no-ground] [tip-sheath], unclip, ground on or off, "
        "or battery out or in"
    )

    @classmethod
    def read(cls, line: Line) -> Step:
        act, *words = line.words or ("",)
        match choice(act, ("wake", "off", "clip", "unclip", "ground", "battery")):
            case "clip":
                return _clip(line, words)
            case "battery":
                exactly(line, 2, cls.USAGE)
                present = choice(words[0], ("out", "in")) == "in"
                return UnitBattery(line=line.line, text=line.text, present=present)
            case "ground":
                exactly(line, 2, cls.USAGE)
                on = choice(words[0], ("on", "off")) == "on"
                return UnitGround(line=line.line, text=line.text, on=on)
            case other:
                exactly(line, 1, cls.USAGE)
                plain: dict[str, Callable[..., Step]]
                plain = {"wake": UnitWake, "off": UnitOff, "unclip": UnitUnclip}
                return plain[other](line=line.line, text=line.text)


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitWake(AtUnit):
    """A helper presses the unit's button."""

    def act(self, bench: Bench) -> Row:
        if bench.unit.state is State.UNPOWERED:
            return refused("the unit has no battery in it")
        bench.at_unit(ButtonPressed())
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitOff(AtUnit):
    """A helper switches the unit off, by a long press; its clips stay on the pair."""

    def act(self, bench: Bench) -> Row:
        if bench.unit.state is State.UNPOWERED:
            return refused("the unit has no battery in it")
        bench.at_unit(SwitchedOff())
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitUnclip(AtUnit):
    """A helper takes the unit's clips off the pair, its ground lead last."""

    def act(self, bench: Bench) -> Row:
        if not bench.pair.unit.clipped:
            return refused("the unit is off the pair already")
        bench.unclip_unit()
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitClip(AtUnit):
    """A helper clips the unit on, its ground lead first; perhaps with legs exchanged."""

    reversed: bool = False
    ground: bool = True
    to_sheath: bool = False
    """The clip of its own ring on the sheath."""

    def act(self, bench: Bench) -> Row:
        bench.clip_unit(reverse=self.reversed, ground=self.ground, to_sheath=self.to_sheath)
        return {} if self.ground else {"caution": GROUND_FIRST}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitGround(AtUnit):
    """A helper puts the unit's ground lead alone on the sheath, or takes it off."""

    on: bool

    def act(self, bench: Bench) -> Row:
        unit = bench.pair.unit
        if unit.ground == self.on:
            return refused(f"the ground lead is {'on' if self.on else 'off'} already")
        bench.ground_unit(self.on)
        return {"caution": GROUND_FIRST} if unit.clipped else {}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitBattery(AtUnit):
    """The unit's battery goes in or comes out."""

    present: bool

    def act(self, bench: Bench) -> Row:
        powered = bench.unit.state is not State.UNPOWERED
        if powered == self.present:
            return refused("the battery is in already" if powered else "the battery is out already")
        bench.at_unit(PowerBack() if self.present else PowerLost())
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class UnitFault(Step):
    """Put a fault into the unit, or take it out: for a trainer."""

    USAGE = "fault NAME on or off"

    fault: Fault
    on: bool

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 2, cls.USAGE)
        fault = cast(Fault, choice(line.words[0], FAULTS))
        on = choice(line.words[1], ("on", "off")) == "on"
        return cls(line=line.line, text=line.text, fault=fault, on=on)

    def act(self, bench: Bench) -> Row:
        if (self.fault in bench.unit.faults) == self.on:
            return refused("it is so already")
        bench.set_fault(self.fault, self.on)
        return {}


STEPS: tuple[type[Step], ...] = (AtUnit,)
TRAINERS: tuple[type[Step], ...] = (UnitFault,)


def _clip(line: Line, words: list[str]) -> Step:
    for word in words:
        choice(word, ("reversed", "no-ground", "tip-sheath"))
        if words.count(word) > 1:
            raise MistakeError(f"{word!r} twice", "it once")
    return UnitClip(
        line=line.line,
        text=line.text,
        reversed="reversed" in words,
        ground="no-ground" not in words,
        to_sheath="tip-sheath" in words,
    )
