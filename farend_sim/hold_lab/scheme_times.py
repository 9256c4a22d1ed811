"""What a scheme costs in seconds: a command, a release, a dialled hold; and which holds it has."""

from dataclasses import dataclass
from math import ceil, floor

from farend_sim.hands import CLIPS_S, KEY_S, REACT_S
from farend_sim.situation import Situation
from farend_sim.unit.keying import dialled
from farend_sim.unit.scheme import Scheme


@dataclass(frozen=True, slots=True)
class Span:
    """The holds that a scheme can express for a function: whole seconds between two limits."""

    shortest_s: float
    longest_s: float
    default_s: float

    def near(self, hold_s: float) -> tuple[float, ...]:
        """The one or two nearest holds that can be asked for."""
        inside = min(max(hold_s, self.shortest_s), self.longest_s)
        return tuple(sorted({self._within(floor(inside)), self._within(ceil(inside))}))

    def _within(self, whole_s: float) -> float:
        return float(min(max(whole_s, ceil(self.shortest_s)), floor(self.longest_s)))


def span(scheme: Scheme, function: str) -> Span:
    """What a scheme can express for a function."""
    command = scheme.command_for(function)
    assert command.hold_s is not None
    setting = scheme.command_for("set-hold")
    shortest = max(command.shortest_s or 1.0, setting.shortest_s or 1.0)
    most = 10.0**setting.argument_digits - 1
    longest = min(command.longest_s or most, setting.longest_s or most, most)
    return Span(shortest, longest, command.hold_s)


def command_s(situation: Situation, function: str) -> float:
    """Knock, reply, command, reply, with the hands before them [s]."""
    return CLIPS_S + _knock_s(situation) + _said_s(situation, function)


def release_s(situation: Situation) -> float:
    """The same for a release [s]."""
    return CLIPS_S + _knock_s(situation) + _said_s(situation, "release")


def dial_s(situation: Situation) -> float:
    """What setting the hold adds to a command: in the same attention where it may [s]."""
    command = situation.scheme.command_for("set-hold")
    again = 0.0 if command.keeps_attention else _knock_s(situation)
    return again + _said_s(situation, "set-hold")


def _knock_s(situation: Situation) -> float:
    scheme, timing = situation.scheme, situation.unit.timing
    keys = len(scheme.knock + scheme.unit_number)
    reply = timing.knock_reply_delay_s + _reply_s(scheme, "knock")
    return keys * KEY_S + reply + REACT_S


def _said_s(situation: Situation, does: str) -> float:
    scheme, timing = situation.scheme, situation.unit.timing
    reply = timing.reply_delay_s + _reply_s(scheme, scheme.command_for(does).reply)
    return len(dialled(scheme, does)) * KEY_S + reply + REACT_S


def _reply_s(scheme: Scheme, name: str) -> float:
    reply = next(each for each in scheme.reply if each.name == name)
    return sum(tone.duration_ms for tone in reply.tone) / 1e3
