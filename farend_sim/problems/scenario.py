"""What must hold between the keys of a scenario, each with its own message."""

from collections.abc import Iterator, Mapping
from pathlib import PurePosixPath
from typing import Any

from farend_sim.errors import Problem
from farend_sim.problems import fittings, neighbours, places
from farend_sim.scenario import Scenario
from line_model.cable import DIAMETERS_MM, GAUGES_AWG, defaults, gauge_name
from line_model.plant import Plant, Stretch
from line_model.signal import SAMPLE_HZ
from line_model.troubles import Induction, Trouble, Wet

GAUGES = (
    "gauge_awg of "
    + ", ".join(map(str, GAUGES_AWG))
    + " or diameter_mm of "
    + ", ".join(map(str, DIAMETERS_MM))
)


def problems(scenario: Scenario) -> tuple[Problem, ...]:
    """Every fault of a scenario whose keys are sound one by one."""
    return (
        *plant_problems(scenario.plant),
        *(plant_problems(scenario.record, "record") if scenario.record else ()),
        *places.problems(scenario),
        *_troubles(scenario),
        *fittings.trouble_problems(scenario),
        *neighbours.problems(scenario),
        *_hooks(scenario),
        *_meters(scenario),
    )


def plant_problems(plant: Plant, table: str = "plant") -> Iterator[Problem]:
    """Faults of the sections and taps."""
    for index, section in enumerate(plant.section):
        yield from _stretch(section, f"{table}.section[{index}]")
    for index, tap in enumerate(plant.tap):
        path = f"{table}.tap[{index}]"
        yield from _stretch(tap, path)
        yield from fittings.place(plant.length_m, tap.at_m, f"{path}.at_m")
    yield from fittings.plant_problems(plant, table)


def _stretch(stretch: Stretch, path: str) -> Iterator[Problem]:
    """Faults of a section or tap: its gauge, and a capacitance that would be negative."""
    if stretch.gauge_awg is None and stretch.diameter_mm is None:
        yield Problem(path, "no gauge", GAUGES)
    elif stretch.gauge_awg is not None and stretch.diameter_mm is not None:
        yield Problem(path, "both gauge_awg and diameter_mm", "one of the two")
    elif stretch.diameter_mm is not None and stretch.diameter_mm not in DIAMETERS_MM:
        yield Problem(f"{path}.diameter_mm", f"{stretch.diameter_mm:g}", GAUGES)
    else:
        yield from _capacitance(stretch, path)


def _capacitance(stretch: Stretch, path: str) -> Iterator[Problem]:
    """Half of the unbalance is taken from one leg's capacitance to the sheath, which must stay."""
    row = defaults(gauge_name(stretch))
    mutual_nf = stretch.mutual_nf_per_km or row["mutual_nf_per_km"]
    most_pf = 2e3 * row["leg_sheath_nf_per_km"] * mutual_nf / row["mutual_nf_per_km"]
    unbalance_pf = stretch.unbalance_pf_per_km
    own_pf = row["unbalance_pf_per_km"] if unbalance_pf is None else unbalance_pf
    if own_pf < most_pf:
        return
    if unbalance_pf is None:
        least_nf = row["mutual_nf_per_km"] * own_pf / (2e3 * row["leg_sheath_nf_per_km"])
        expected = f"more than {least_nf:.3g}, or a smaller unbalance_pf_per_km than {own_pf:g}"
        yield Problem(f"{path}.mutual_nf_per_km", f"{mutual_nf:g}", expected)
    else:
        expected = f"less than {most_pf:.6g}, or a leg's capacitance to the sheath is negative"
        yield Problem(f"{path}.unbalance_pf_per_km", f"{own_pf:g}", expected)


def _troubles(scenario: Scenario) -> Iterator[Problem]:
    for index, trouble in enumerate(scenario.trouble):
        path = f"trouble[{index}]"
        yield from _between(trouble, path)
        if isinstance(trouble, Wet):
            yield from _stays(trouble, path)
        if isinstance(trouble, Induction):
            yield from _harmonics(trouble, path)


def _between(trouble: Trouble, path: str) -> Iterator[Problem]:
    """Leakage runs between two conductors, not from one to itself."""
    a, b = getattr(trouble, "between", ("", " "))
    if a == b:
        yield Problem(f"{path}.between", f"{a!r} twice", "two different conductors")


def _stays(trouble: Wet, path: str) -> Iterator[Problem]:
    """Water that raises capacitance is in the cable for days: it does not come and go."""
    if trouble.when is not None and trouble.capacitance_percent:
        found = "a stretch with capacitance_percent that comes and goes"
        yield Problem(f"{path}.when", found, "one of the two alone")


def _harmonics(trouble: Induction, path: str) -> Iterator[Problem]:
    """What is induced must lie under half the rate at which sounds are sampled."""
    for index, harmonic in enumerate(trouble.harmonics):
        hz = trouble.hz * harmonic.order
        if hz >= SAMPLE_HZ / 2:
            found = f"{harmonic.order}, which is {hz:g} Hz"
            expected = f"a harmonic under {SAMPLE_HZ / 2:g} Hz"
            yield Problem(f"{path}.harmonics[{index}].order", found, expected)


def _hooks(scenario: Scenario) -> Iterator[Problem]:
    """Only a telephone has a hook, and only an office rings."""
    for table, of in (("beyond", scenario.beyond), ("behind", scenario.behind)):
        if of.hook == "off" and of.equipment != "telephone":
            found = f"'off' of equipment {of.equipment!r}"
            yield Problem(f"{table}.hook", found, "no hook but a telephone's")
        if of.ringing and of.equipment != "office":
            found = f"true of equipment {of.equipment!r}"
            yield Problem(f"{table}.ringing", found, "no ringing but an office's")


def _meters(scenario: Scenario) -> Iterator[Problem]:
    """Steps call a meter by its name, or by its file's name without the ending."""
    names = [PurePosixPath(name).stem for name in scenario.meters]
    for index, typed in enumerate(scenario.meters):
        if names[index] in names[:index]:
            found = f"{typed!r}, a second meter named {names[index]!r}"
            yield Problem(f"meters[{index}]", found, "each name once")


def remark(path: str, value: object, beside: Mapping[str, Any]) -> str | None:
    """What a number out of its range means, where the range alone does not say it."""
    key = path.rpartition(".")[2]
    if not isinstance(value, int | float) or isinstance(value, bool):
        return None
    if key in ("length_m", "length_ft") and value < 0:
        return "a negative length"
    if key == "ohm" and value == 0 and beside.get("kind") == "leak":
        return "a leak of zero ohm: a short is 1e-3 or more"
    if key.endswith(("_m", "_ft")) and value < 0:
        return "before the near end"
    return None
