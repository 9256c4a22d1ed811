"""What a record may be in place of what it says: one section of the next gauge up or down.

Law: one list serves the expert, who weighs each of them, and the generator, which draws one. Reels
of neighbouring gauges are what is mistaken for each other; that two sections are wrong is not
looked for. Common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from farend_sim.drill.doubt import Doubt
from line_model.cable import GAUGES_AWG
from line_model.plant import Plant


@dataclass(frozen=True, slots=True)
class Record:
    """A record that may be the true one."""

    plant: Plant
    share: float
    """How likely, before anything is read."""
    off: str = ""
    """What the record that was given has wrong; empty for itself."""


def records(given: Plant, doubt: Doubt) -> tuple[Record, ...]:
    """A record and what may be true in its place."""
    wrong = doubt.wrong_gauge_percent / 100
    others = list(mistaken(given)) if wrong else []
    if not others:
        return (Record(given, 1.0),)
    each = wrong / len(others)
    return (Record(given, 1 - wrong), *(Record(plant, each, off) for plant, off in others))


def mistaken(plant: Plant) -> Iterator[tuple[Plant, str]]:
    """Plants that are mistaken for this one, or this one for them, and by what."""
    for index, section in enumerate(plant.section):
        if section.gauge_awg not in GAUGES_AWG:
            continue
        at = GAUGES_AWG.index(section.gauge_awg)
        for gauge in GAUGES_AWG[max(0, at - 1) : at + 2]:
            if gauge != section.gauge_awg:
                laid = replace(section, gauge_awg=gauge)
                sections = (*plant.section[:index], laid, *plant.section[index + 1 :])
                off = f"section {index + 1} is of {gauge} AWG, not {section.gauge_awg}"
                yield replace(plant, section=sections), off
