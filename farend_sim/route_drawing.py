"""A route drawn in lines of text: sections, joints (`+`), taps (`T`), and rows of marks under it.

Law: it knows nothing of what a mark means; whoever sets it says so.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise

from farend_sim.said import gauge, length
from line_model.plant import Plant
from line_model.worksheet.record import joints_m

COLUMNS = 74
"""How wide it is if nobody says so."""
NEAR, FAR = "near ", " far"


@dataclass(frozen=True, slots=True)
class Mark:
    """A sign under a place or a stretch, and a word behind it where there is room."""

    from_m: float
    to_m: float
    sign: str
    word: str = ""


def route_lines(
    plant: Plant, feet: bool, *rows: Sequence[Mark], columns: int = COLUMNS
) -> Iterator[str]:
    """The sections' gauges, the cable between its two ends, and each row of marks."""
    wide = max(20, columns - len(NEAR) - len(FAR))

    def column(at_m: float) -> int:
        return round((wide - 1) * min(max(at_m / plant.length_m, 0.0), 1.0))

    names, cable = [" "] * wide, ["="] * wide
    ends_m = (0.0, *joints_m(plant), plant.length_m)
    for section, (start_m, end_m) in zip(plant.section, pairwise(ends_m), strict=True):
        left, right = column(start_m), column(end_m)
        name = gauge(section.gauge_awg, section.diameter_mm)
        whole = f"{name}, {length(section.length_m, feet)}"
        fits = next((each for each in (whole, name) if len(each) < right - left), "")
        _write(names, (left + right - len(fits)) // 2 + 1, fits)
        cable[right] = "+"
    for tap in plant.tap:
        cable[column(tap.at_m)] = "T"
    cable[0] = cable[-1] = "|"
    yield " " * len(NEAR) + "".join(names).rstrip()
    yield NEAR + "".join(cable) + FAR
    for marks in rows:
        line = [" "] * wide
        for mark in marks:
            left, right = column(mark.from_m), column(mark.to_m) + 1
            _write(line, left, mark.sign * (right - left))
            _write(line, right, mark.word)
        yield " " * len(NEAR) + "".join(line).rstrip()


def _write(line: list[str], at: int, text: str) -> None:
    if text and at + len(text) <= len(line):
        line[at : at + len(text)] = text
