"""The card of the codes, made from the loaded scheme: what a technician carries along."""

from collections.abc import Iterator
from dataclasses import dataclass

from farend_sim.control.replies import pattern
from farend_sim.scheme_lab.card import keys_of
from farend_sim.unit.codes import compiled
from farend_sim.unit.effects import Segment, Sound
from farend_sim.unit.keying import keys_for
from farend_sim.unit.scheme import Command, Reply, Scheme
from tui.view import picture

_HOLDS_S = (10, 30, 60, 120, 300, 600)
"""Holds whose keys the card spells out."""
_OWN = {
    "knock": "answers the knock",
    "refused": "refuses",
    "over": "a hold is over",
    "awake": "its button was pressed",
}


@dataclass(frozen=True, slots=True)
class CardRow:
    keys: str
    does: str
    about: str


@dataclass(frozen=True, slots=True)
class Card:
    title: str
    about: str
    commands: tuple[CardRow, ...]
    replies: tuple[CardRow, ...]


def card(scheme: Scheme) -> Card:
    """Return the card of a scheme."""
    return Card(
        scheme.title,
        scheme.about.strip(),
        tuple(_commands(scheme)),
        tuple(_reply(reply, middle_hz(scheme)) for reply in scheme.reply),
    )


def _commands(scheme: Scheme) -> Iterator[CardRow]:
    about = f"then keys no more than {scheme.gap_s:g} s apart, within {scheme.attention_s:g} s"
    yield CardRow(scheme.knock + scheme.unit_number, "knock", about)
    for command in scheme.command:
        yield CardRow(keys_of(scheme, command), command.does, _limits(command))
    for command in scheme.command:
        if command.does == "set-hold":
            yield from _examples(scheme, command)


def _limits(command: Command) -> str:
    if command.hold_s is not None:
        return f"for {command.hold_s:g} s"
    if command.shortest_s is not None and command.longest_s is not None:
        return f"{command.shortest_s:g} to {command.longest_s:g} s; c is the check digit"
    return "keeps attention" if command.keeps_attention else ""


def _examples(scheme: Scheme, command: Command) -> Iterator[CardRow]:
    """Set-hold spelt out, so that nobody has to work out a check digit in the field."""
    shortest_s, longest_s = command.shortest_s or 0, command.longest_s or 0
    code = compiled(scheme)
    for hold_s in _HOLDS_S:
        if shortest_s <= hold_s <= longest_s:
            yield CardRow(keys_for(code, code.of("set-hold"), hold_s), "", f"hold of {hold_s} s")


def middle_hz(scheme: Scheme) -> float:
    """Above it a reply's tone is a high one, below it a low one [Hz]."""
    hz = [tone.hz for reply in scheme.reply for tone in reply.tone if tone.hz > 0]
    return (min(hz) + max(hz)) / 2 if hz else 0.0


def _reply(reply: Reply, middle_hz: float) -> CardRow:
    tones = tuple(Segment(tone.hz, 1000 * tone.duration_ms) for tone in reply.tone)
    words = pattern(Sound(0, tones, False, "reply"))
    return CardRow(
        picture(words, middle_hz), _OWN.get(reply.name, reply.name.replace("-", " ")), words
    )
