"""What a record may be in place of what it says: one section of another gauge, or of other metres.

Law: one list serves the expert, who weighs each of them, and the generator, which draws one. Reels
of neighbouring gauges are what is mistaken for each other; a stretch is lengthened and its metres
never drawn. Metres differ by any amount: that is one record, stretched evenly along one section.
That two sections are wrong is not looked for. Common practice, no source.
"""

from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import TypeVar

from farend_sim.drill.expert.doubt import Doubt
from line_model.cable import GAUGES_AWG
from line_model.plant import Access, Coil, Earth, Plant, Tap

Placed = TypeVar("Placed", Access, Coil, Earth, Tap)


@dataclass(frozen=True, slots=True)
class Record:
    """A record that may be the true one."""

    plant: Plant
    share: float
    """How likely, before anything is read."""
    off: str = ""
    """What the record that was given has wrong; empty for itself."""
    stretched: int | None = None
    """The section whose metres are open; those in the plant are their mean."""
    sd_m: float = 0.0
    """Their standard deviation."""

    @property
    def span_m(self) -> tuple[float, float]:
        """Where that section starts, and its metres."""
        assert self.stretched is not None
        return _span_m(self.plant, self.stretched)


def records(given: Plant, doubt: Doubt) -> tuple[Record, ...]:
    """A record and what may be true in its place."""
    others = tuple(mistaken(given)) if doubt.wrong_gauge_percent else ()
    gauge = doubt.wrong_gauge_percent / 100 if others else 0.0
    metres = (1 - gauge) * doubt.wrong_length_percent / 100
    found = [Record(given, 1 - gauge - metres)]
    found += [Record(plant, gauge / len(others), off) for plant, off in others]
    for index in range(len(given.section)) if metres else ():
        mean_m, sd_m = doubt.longer_m
        plant, off = lengthened(given, index, mean_m), f"section {index + 1} is of other metres"
        found.append(Record(plant, metres / len(given.section), off, index, sd_m))
    return tuple(found)


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


def lengthened(plant: Plant, index: int, by_m: float) -> Plant:
    """A plant with a section longer, all that stands on it or behind it moved along."""
    start_m, long_m = _span_m(plant, index)

    def moved(each: tuple[Placed, ...]) -> tuple[Placed, ...]:
        inside_m = (min(max(one.at_m - start_m, 0.0), long_m) for one in each)
        return tuple(
            replace(one, at_m=one.at_m + by_m * m / long_m)
            for one, m in zip(each, inside_m, strict=True)
        )

    section = replace(plant.section[index], length_m=long_m + by_m)
    return replace(
        plant,
        section=(*plant.section[:index], section, *plant.section[index + 1 :]),
        tap=moved(plant.tap),
        access=moved(plant.access),
        earth=moved(plant.earth),
        coil=moved(plant.coil),
    )


def _span_m(plant: Plant, index: int) -> tuple[float, float]:
    return sum(one.length_m for one in plant.section[:index]), plant.section[index].length_m
