"""A plant's route drawn in lines of text with a method's marks under it, and told below."""

from collections.abc import Iterator, Sequence

from farend_sim.route_drawing import Mark, route_lines
from farend_sim.said import length
from line_model.plant import Plant
from line_model.worksheet.record import joints_m


def picture(plant: Plant, marks: Sequence[Mark], feet: bool) -> Iterator[str]:
    """The route, the marks under it, and where its joints and taps are."""
    yield from route_lines(plant, feet, marks)
    yield f"near end at 0, far end at {length(plant.length_m, feet)}; + joints, T taps"
    yield f"recorded temperature {_temperatures(plant)} C"
    if joints := joints_m(plant):
        yield "joints at " + ", ".join(length(m, feet) for m in joints)
    for index, tap in enumerate(plant.tap):
        at, long = length(tap.at_m, feet), length(tap.length_m, feet)
        yield f"tap {tap.name or index} at {at}, {long} long"


def _temperatures(plant: Plant) -> str:
    """The temperature that the sum was done at, section by section where they differ."""
    own = (section.temperature_c for section in plant.section)
    each = [f"{plant.temperature_c if celsius is None else celsius:g}" for celsius in own]
    return ", ".join(each) if len(set(each)) > 1 else each[0]


def place_marks(at_m: float, low_m: float, high_m: float) -> tuple[Mark, ...]:
    """A band with the place in it."""
    ends = Mark(low_m, low_m, "["), Mark(high_m, high_m, "]")
    return (Mark(low_m, high_m, "-"), *ends, Mark(at_m, at_m, "^"))
