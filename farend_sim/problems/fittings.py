"""What must hold between troubles, taps and what is fitted to a cable: names and places."""

from collections.abc import Iterator, Sequence

from farend_sim.errors import Problem, once, unknown
from farend_sim.scenario import Scenario
from line_model.plant import Coil, Earth, Plant
from line_model.troubles import BadCoil, Bond, Split, Trouble, Wet

PLACES = ("at_m", "from_m", "to_m")


def plant_problems(plant: Plant, table: str) -> Iterator[Problem]:
    """Faults of the earths and load coils, and taps of one name."""
    # Each name stands once, or a trouble could not say which it means.
    yield from once(f"{table}.tap", (tap.name for tap in plant.tap))
    yield from once(f"{table}.earth", (earth.name for earth in plant.earth))
    spaced = plant.coils[: len(plant.coils) - len(plant.coil)]
    yield from once(
        f"{table}.coil", (coil.name for coil in plant.coil), (coil.name for coil in spaced)
    )
    fittings: dict[str, tuple[Earth | Coil, ...]] = {"earth": plant.earth, "coil": plant.coil}
    for key, fitted in fittings.items():
        for index, one in enumerate(fitted):
            yield from place(plant.length_m, one.at_m, f"{table}.{key}[{index}].at_m")


def place(length_m: float, at_m: float, path: str, line: str = "the route") -> Iterator[Problem]:
    """A place must be on its line."""
    # The route is a sum of lengths: a place typed as its end may be over it by rounding.
    if at_m > length_m * (1 + 1e-12):
        expected = f"a place on {line}, which ends at {length_m:.9g} m"
        yield Problem(path, f"{at_m:.9g}, past the end", expected)


def trouble_problems(scenario: Scenario) -> Iterator[Problem]:
    """Troubles name what is there, and lie on it."""
    plant = scenario.plant
    for index, trouble in enumerate(scenario.trouble):
        path = f"trouble[{index}]"
        if isinstance(trouble, Bond):
            earths = [earth.name for earth in plant.earth]
            yield from _known(trouble.earth, earths, "an earth of the plant", f"{path}.earth")
        elif isinstance(trouble, BadCoil):
            coils = [coil.name for coil in plant.coils]
            yield from _known(trouble.coil, coils, "a load coil of the plant", f"{path}.coil")
        yield from _on_its_line(plant, trouble, path)
        if isinstance(trouble, Wet | Split):
            yield from _order(trouble, path)


def _order(trouble: Wet | Split, path: str) -> Iterator[Problem]:
    """A stretch ends past its beginning."""
    if trouble.to_m is not None and trouble.from_m >= trouble.to_m:
        expected = f"a place past from_m, which is {trouble.from_m:.9g} m"
        yield Problem(f"{path}.to_m", f"{trouble.to_m:.9g}", expected)


def _on_its_line(plant: Plant, trouble: Trouble, path: str) -> Iterator[Problem]:
    """A trouble's places lie on the route, or on the tap that it is on."""
    length_m, line = plant.length_m, "the route"
    if trouble.line is not None:
        lengths_m = {tap.name: tap.length_m for tap in plant.tap if tap.name}
        if trouble.line not in lengths_m:
            yield from _known(trouble.line, list(lengths_m), "a tap's name", f"{path}.on")
            return
        length_m, line = lengths_m[trouble.line], f"tap {trouble.line}"
    for key in PLACES:
        if (at_m := getattr(trouble, key, None)) is not None:
            yield from place(length_m, at_m, f"{path}.{key}", line)


def _known(name: str, known: Sequence[str], what: str, path: str) -> Iterator[Problem]:
    if name not in known:
        yield unknown(path, name, known, f"{what}: {', '.join(known) or 'it has none'}")
