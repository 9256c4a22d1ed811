"""The steps at the near end: keys and the ear, a clip lead, what is behind it lifted and restored.

Law: keys sound between tip and ring with whatever else is joined there.
"""

from dataclasses import dataclass, replace
from typing import cast, get_args

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.whereabouts import NEAR
from farend_sim.bench.pair.wiring import Lead
from farend_sim.bench.steps.step import Row, Step, refused
from farend_sim.bench.steps.words import Line, MistakeError, choice, exactly, number, options
from farend_sim.control.keypad import KEYS, LEVELS_DBM, LONGEST_MS, PAUSE_KEY

LONGEST_S = 86_400.0
"""A day, far longer than any hold: longer waits are slips of the finger. Invented here."""
NOT_THERE = "what is behind the near end is there, and you are not"


@dataclass(frozen=True, slots=True, kw_only=True)
class Keys(Step):
    """Send keys over the pair, meter off; a comma is a second's pause.

    What is None is as the scenario's keypad says.
    """

    USAGE = "keys DIGITS [on=MS off=MS level=DBM]"
    NEEDS_PAIR = True

    digits: str
    on_us: int | None = None
    off_us: int | None = None
    level_dbm: float | None = None

    @classmethod
    def read(cls, line: Line) -> Step:
        if not line.words:
            raise MistakeError(repr(line.text), cls.USAGE)
        digits, *words = line.words
        for digit in digits:
            if digit not in KEYS and digit != PAUSE_KEY:
                raise MistakeError(
                    f"{digit!r} in {digits!r}", "keys 0-9, *, #, A-D, or a comma for a pause of 1 s"
                )
        values = options(words, ("on", "off", "level"))
        level = values.get("level")
        return cls(
            line=line.line,
            text=line.text,
            digits=digits,
            on_us=_ms_us(values.get("on")),
            off_us=_ms_us(values.get("off")),
            level_dbm=None if level is None else number(level, *LEVELS_DBM, "level=dBm"),
        )

    def act(self, bench: Bench) -> Row:
        self.begin(bench)
        if bench.keypad.ends_us is not None:
            bench.advance_to(bench.keypad.ends_us)
        return {}

    def begin(self, bench: Bench) -> Row:
        own = bench.situation.scenario.keypad
        settings = replace(
            own,
            on_ms=own.on_ms if self.on_us is None else self.on_us // 1000,
            off_ms=own.off_ms if self.off_us is None else self.off_us // 1000,
            level_dbm=own.level_dbm if self.level_dbm is None else self.level_dbm,
        )
        bench.press(self.digits, settings)
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Wait(Step):
    """Let time pass."""

    USAGE = "wait SECONDS"

    duration_us: int

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 1, cls.USAGE)
        seconds = number(line.words[0], 0.0, LONGEST_S, "seconds")
        return cls(line=line.line, text=line.text, duration_us=round(seconds * 1e6))

    def act(self, bench: Bench) -> Row:
        bench.advance_to(bench.now_us + self.duration_us)
        return {}

    def begin(self, bench: Bench) -> Row:
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Listen(Wait):
    """Hear what comes back."""

    USAGE = "listen SECONDS"
    EAR = "listening"


@dataclass(frozen=True, slots=True, kw_only=True)
class Near(Step):
    """A clip lead at the near end: on, or `near clear`."""

    USAGE = "near short, ground, loop or clear"
    NEEDS_PAIR = True

    lead: Lead

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 1, cls.USAGE)
        lead = cast(Lead, choice(line.words[0], get_args(Lead)))
        return cls(line=line.line, text=line.text, lead=lead)

    def act(self, bench: Bench) -> Row:
        bench.clip_lead(self.lead)
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Lift(Step):
    """Take what is behind the near end off the pair."""

    USAGE = "lift"
    NEEDS_PAIR = True

    def act(self, bench: Bench) -> Row:
        if bench.pair.where.spot.place != NEAR:
            return refused(NOT_THERE)
        if bench.pair.behind.equipment == "none":
            return refused("nothing is behind the near end of this pair")
        if bench.pair.lifted:
            return refused("it is lifted already")
        bench.lift()
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Restore(Step):
    """Put back what was behind the near end."""

    USAGE = "restore"
    NEEDS_PAIR = True

    def act(self, bench: Bench) -> Row:
        if bench.pair.where.spot.place != NEAR:
            return refused(NOT_THERE)
        if not bench.pair.lifted:
            return refused("nothing is lifted")
        bench.restore()
        return {}


STEPS: tuple[type[Step], ...] = (Keys, Listen, Wait, Near, Lift, Restore)


def _ms_us(word: str | None) -> int | None:
    """A duration of a key, in whole milliseconds [us]."""
    if word is None:
        return None
    if not word.isdecimal():
        raise MistakeError(repr(word), f"whole milliseconds from 1 to {LONGEST_MS}")
    return round(number(word, 1, LONGEST_MS, "milliseconds") * 1000)
