"""Plants drawn at random for the line's laws, and short words for what is joined to them."""

from math import pi
from typing import Any

from hypothesis import strategies as st

from line_model.cable import DIAMETERS_MM, GAUGES_AWG
from line_model.network import Mesh
from line_model.parts import Part, Resistor
from line_model.plant import Coil, Earth, Gauge, Plant, Section, Tap
from line_model.route import Route, route
from line_model.troubles import Battery, Conductor, Leak, Leg, Reversal, Series, Trouble

HZ = (0.0, 25.0, 697.0, 1633.0, 3400.0)
KINDS = ("leak", "series", "battery", "reversal")
LEGS: tuple[Leg, ...] = ("tip", "ring")
CONDUCTORS: tuple[Conductor, ...] = ("tip", "ring", "sheath")


@st.composite
def sections(draw: st.DrawFn) -> Section:
    metric = draw(st.booleans())
    return Section(
        gauge_awg=None if metric else draw(st.sampled_from(GAUGES_AWG)),
        diameter_mm=draw(st.sampled_from(DIAMETERS_MM)) if metric else None,
        length_m=draw(st.integers(5, 3000)) * 1.0,
        temperature_c=draw(st.none() | st.floats(-30, 60)),
        unbalance_percent=draw(st.none() | st.floats(0, 5)),
        unbalance_pf_per_km=draw(st.none() | st.floats(0, 2625)),
    )


@st.composite
def plants(draw: st.DrawFn) -> Plant:
    route_sections = tuple(draw(st.lists(sections(), min_size=1, max_size=3)))
    length_m = sum(section.length_m for section in route_sections)
    taps = draw(st.lists(st.integers(0, 100), max_size=2))
    bonds, coils = (draw(st.lists(st.integers(0, 100), max_size=2)) for _ in range(2))
    return Plant(
        section=route_sections,
        earth=tuple(
            Earth(name=f"{i}", at_m=share / 100 * length_m, ohm=draw(st.floats(0.5, 500)))
            for i, share in enumerate(bonds)
        ),
        coil=tuple(
            Coil(
                name=f"{i}",
                at_m=share / 100 * length_m,
                millihenry=draw(st.floats(1, 200)),
                reversed=draw(st.booleans()),
            )
            for i, share in enumerate(coils)
        ),
        tap=tuple(
            Tap(name=f"{i}", gauge_awg=24, length_m=150.0, at_m=share / 100 * length_m)
            for i, share in enumerate(taps)
        ),
        temperature_c=draw(st.floats(-30, 60)),
    )


@st.composite
def troubles(draw: st.DrawFn, length_m: float, taps: tuple[str, ...] = ()) -> tuple[Trouble, ...]:
    out: list[Trouble] = []
    for kind in draw(st.lists(st.sampled_from(KINDS), max_size=3)):
        on = draw(st.sampled_from((None, *taps)))
        at_m = draw(st.integers(0, 100)) / 100 * (length_m if on is None else 150.0)
        ohm = 10 ** draw(st.floats(-2, 8))
        if kind == "leak":
            a, b = draw(st.permutations(CONDUCTORS))[:2]
            out.append(Leak(kind="leak", between=(a, b), at_m=at_m, ohm=ohm, on=on))
        elif kind == "series":
            conductor = draw(st.sampled_from(CONDUCTORS))
            out.append(Series(kind="series", conductor=conductor, at_m=at_m, ohm=ohm, on=on))
        elif kind == "battery":
            leg = draw(st.sampled_from(LEGS))
            volt = draw(st.floats(-100, 100))
            out.append(Battery(kind="battery", conductor=leg, at_m=at_m, volt=volt, ohm=ohm, on=on))
        else:
            out.append(Reversal(kind="reversal", at_m=at_m, on=on))
    return tuple(out)


@st.composite
def routes(draw: st.DrawFn) -> Route:
    plant = draw(plants())
    return route(
        plant,
        draw(troubles(plant.length_m, tuple(tap.name or "" for tap in plant.tap))),
        draw(st.integers(0, 9)),
    )


def strapped(way: Route, ohm: float = 0.1) -> tuple[Part, ...]:
    """The route with its far end strapped."""
    tip, ring, _ = way.far
    return (*way.parts, Resistor(tip, ring, ohm))


def bare(length_m: float, gauge_awg: Gauge = 24, **more: float) -> Plant:
    """A single section at 20 C without lay or unbalance."""
    even: dict[str, Any] = {
        "lay_percent": 0.0,
        "unbalance_percent": 0.0,
        "unbalance_pf_per_km": 0.0,
    }
    return Plant(section=(Section(gauge_awg=gauge_awg, length_m=length_m, **(even | more)),))


def nanofarad(mesh: Mesh, a: str, b: str, hz: float) -> float:
    """What a capacitance meter at that frequency makes of two terminals; nothing of an island."""
    (ohm,) = mesh.ohm(a, b)
    return 0.0 if ohm is None else (1 / ohm).imag / (2 * pi * hz) * 1e9
