"""A finding: what is wrong with a scheme, the keys that show it, and what to do about it."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal

Severity = Literal["error", "warning", "note"]


@dataclass(frozen=True, slots=True)
class Kind:
    """A sort of finding."""

    severity: Severity
    do: str


KINDS: dict[str, Kind] = {
    "clash": Kind("error", "give the commands codes of which none begins or equals another"),
    "never-taken": Kind(
        "error", "let a state that can be reached take it, or give it another code"
    ),
    "no-way-home": Kind("error", "give every state a timer that leads home"),
    "endless-hold": Kind("error", "give every hold a default, a shortest and a longest time"),
    "deaf-only": Kind("error", "let it be taken in a state in which the unit hears"),
    "bad-contacts": Kind("error", "change what a state closes; nothing may meet the office"),
    "slip": Kind("error", "end commands with a key of its own, or space the codes further apart"),
    "next-misread": Kind("error", "let the knock begin with a key that neither ends nor continues"),
    "two-slips": Kind("warning", "space these codes further apart, or change the unit's number"),
    "stale-keys": Kind("error", 'set leftover = "close", so that too long a gap forgets the keys'),
    "equal-keys": Kind("error", "knock with two different keys"),
    "subscriber-knocks": Kind("error", "put * or # into the knock, which no number holds"),
    "speech-knocks": Kind("warning", "make knock and number four keys or more in all"),
    "calls": Kind("error", "choose another unit number or code"),
    "double-answer": Kind("error", "give the units numbers of one length, all different"),
    "short-gap": Kind("warning", "lengthen gap_s"),
    "big-pad": Kind("note", "carry a sixteen-key pad, or keep to twelve keys"),
    "swallowed-knock": Kind("warning", "set restart, with a knock that neither starts nor ends"),
    "long-lock": Kind("warning", "shorten lock_s, or allow more refusals"),
    "never-broken": Kind("error", "lengthen what comes between, or take the invariant back"),
}
"""All of them."""


@dataclass(frozen=True, slots=True)
class Keyed:
    """One moment of a counterexample."""

    t_s: float
    what: str
    """A key, or which timer ran out: pause, over, sleep, unlock."""


def keys_text(keys: Iterable[Keyed]) -> str:
    """Keys with the time of the first of each run, and timers by their names."""
    words: list[str] = []
    for key in keys:
        is_key = len(key.what) == 1
        if is_key and words and words[-1].startswith("keys"):
            words[-1] += key.what
        elif is_key:
            words.append(f"keys from {key.t_s:.2f} s: {key.what}")
        else:
            words.append(f"{key.what} at {key.t_s:.2f} s")
    return ", then ".join(words)


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong."""

    kind: str
    what: str
    keys: tuple[Keyed, ...] = ()
    """The shortest counterexample; empty where it needs none."""
    played: bool | None = None
    """Whether the running unit, played these keys, ended where the automaton did."""
    times: int = 1
    """How often the like was found."""

    @property
    def severity(self) -> Severity:
        return KINDS[self.kind].severity

    @property
    def do(self) -> str:
        return KINDS[self.kind].do
