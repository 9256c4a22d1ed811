"""A route drawn in a line of text: sections, joints, taps, and marks under it."""

from collections.abc import Sequence
from itertools import accumulate

from line_model.plant import Plant
from tui.lengths import gauge, length_text

WIDTH = 64


def route_lines(plant: Plant, feet: bool) -> list[str]:
    """The route with its gauges above it and its joints and taps told below."""
    length_m = plant.length_m
    ends = [0.0, *accumulate(section.length_m for section in plant.section)]
    gauges, line = [" "] * (WIDTH + 1), ["="] * (WIDTH + 1)
    for section, start_m, end_m in zip(plant.section, ends, ends[1:], strict=False):
        name = gauge(section)
        left, right = column(start_m, length_m), column(end_m, length_m)
        if len(name) < right - left:
            _write(gauges, (left + right - len(name)) // 2 + 1, name)
        line[right] = "+"
    for tap in plant.tap:
        line[column(tap.at_m, length_m)] = "T"
    line[0] = line[-1] = "|"
    told = [
        f"near end at 0, far end at {length_text(length_m, feet)}; + joints, T taps",
        *_told(plant, feet),
    ]
    return [f"     {''.join(gauges)}".rstrip(), f"near {''.join(line)} far", *told]


def _told(plant: Plant, feet: bool) -> list[str]:
    joints = list(accumulate(section.length_m for section in plant.section))[:-1]
    lines = [f"recorded temperature {_temperatures(plant)} C"]
    if joints:
        lines.append("joints at " + ", ".join(length_text(m, feet) for m in joints))
    for index, tap in enumerate(plant.tap):
        at, long = length_text(tap.at_m, feet), length_text(tap.length_m, feet)
        lines.append(f"tap {tap.name or index} at {at}, {long} long")
    return lines


def _temperatures(plant: Plant) -> str:
    """The temperature that the sum was done at, section by section where they differ."""
    own = (section.temperature_c for section in plant.section)
    each = [f"{plant.temperature_c if celsius is None else celsius:g}" for celsius in own]
    return ", ".join(each) if len(set(each)) > 1 else each[0]


def place_line(at_m: float, low_m: float, high_m: float, length_m: float) -> str:
    """A band with the place in it."""
    marks = [" "] * (WIDTH + 1)
    low, high = column(low_m, length_m), column(high_m, length_m)
    marks[low : high + 1] = "-" * (high + 1 - low)
    marks[low], marks[high] = "[", "]"
    marks[column(at_m, length_m)] = "^"
    return "     " + "".join(marks).rstrip()


def stretch_line(stretches: Sequence[tuple[float, float, bool]], length_m: float) -> str:
    """Stretches that hold trouble (`#`) or may hold it (`?`)."""
    marks = [" "] * (WIDTH + 1)
    for from_m, to_m, holds in stretches:
        left, right = column(from_m, length_m), column(to_m, length_m)
        marks[left : right + 1] = ("#" if holds else "?") * (right + 1 - left)
    return "     " + "".join(marks).rstrip()


def column(at_m: float, length_m: float) -> int:
    """Where a place stands in the line."""
    return round(WIDTH * min(max(at_m / length_m, 0.0), 1.0))


def _write(line: list[str], start: int, text: str) -> None:
    line[start : start + len(text)] = text
