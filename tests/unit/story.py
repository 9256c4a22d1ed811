"""One story verb for the tests of the unit: let time pass, and let things happen in it."""

from collections.abc import Iterable

from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.decoder import Decoder, Meant
from farend_sim.unit.effects import ContactsSet, Effect
from farend_sim.unit.events import DigitHeard, Event
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import AT_REST, TABLE, State

KEY_US = 160_000
"""A key and its pause. Source: a scenario's defaults, 80 ms and 80 ms."""

KEYS = "0123456789*#"
Timed = tuple[int, Effect]


def live(unit: Unit, until_us: int) -> list[Timed]:
    """Wake the unit whenever it wants waking, up to a moment."""
    lived: list[Timed] = []
    while (due_us := unit.deadline_us) is not None and due_us <= until_us:
        lived += [(due_us, effect) for effect in unit.wake(due_us)]
    return lived


def happen(unit: Unit, at_us: int, event: Event) -> list[Timed]:
    """Live up to a moment, then let something happen before what the unit had due then."""
    lived = live(unit, at_us - 1)
    return lived + [(at_us, effect) for effect in unit.handle(event, at_us)]


def dial(unit: Unit, keys: str, from_us: int) -> int:
    """Key digits in one go; return when the last was heard."""
    at_us = from_us
    for key in keys:
        happen(unit, at_us, DigitHeard(key))
        at_us += KEY_US
    return at_us - KEY_US


def contacts(lived: Iterable[Timed]) -> list[tuple[int, list[str]]]:
    """Pick the contact changes, with names that a test can spell."""
    return [
        (at_us, sorted(contact.value for contact in effect.closed))
        for at_us, effect in lived
        if isinstance(effect, ContactsSet)
    ]


def listen(
    scheme: CompiledScheme, keys: str, state: State, *, attentive: bool = False
) -> tuple[list[Meant], State]:
    """Play keys into decoder and table alone, and then let the gap run out."""
    decoder = Decoder(scheme)
    if attentive:
        decoder.open(0)
    heard: list[Meant] = []
    for at, key in enumerate([*keys, ""], start=1):
        now_us = at * KEY_US
        if key:
            got = decoder.hear(key, now_us, state)
        else:
            got = decoder.wake(now_us + scheme.attention_us)
        if got is None:
            continue
        heard.append(got)
        state, _ = TABLE[state, got.input]
        if state in AT_REST:
            decoder.close()
    return heard, state


def slips(meant: str) -> set[str]:
    """Return all that one slip makes of keys."""
    made = set()
    for at in range(len(meant) + 1):
        made |= {meant[:at] + key + meant[at:] for key in KEYS}
        made |= {meant[:at] + key + meant[at + 1 :] for key in KEYS}
        made.add(meant[:at] + meant[at + 1 :])
        made.add(meant[:at] + meant[at : at + 2][::-1] + meant[at + 2 :])
    return made - {meant}
