"""What is fitted to a cable: load coils, earth bonds, trouble on a tap."""

from typing import Literal

import numpy as np
import pytest

from line_model.network import Mesh
from line_model.parts import Part, Resistor
from line_model.plant import Coil, Earth, Loading, Plant, Section, Tap
from line_model.route import Route, route
from line_model.troubles import BadCoil, Bond, Leak, Series, Trouble
from line_model.worksheet.record import loop_ohm, seen_from
from tests.line_model.circuits import bare

NEAR = ("tip", "ring")
FOOT_M = 0.3048
MUTUAL_FARAD_PER_M = 51.6e-12
HENRY_PER_M = 0.62e-6
Kind = Literal["H88", "D66"]
KINDS: dict[Kind, tuple[float, float]] = {
    "H88": (88e-3, 6000 * FOOT_M),
    "D66": (66e-3, 4500 * FOOT_M),
}


def _even(gauge_awg: int, length_m: float) -> tuple[Section, ...]:
    return bare(length_m, gauge_awg).section


def _load_section(kind: Kind, hz: tuple[float, ...], gauge_awg: int = 22) -> list[complex]:
    """The hyperbolic cosine of a load section's transfer constant; its coil is in its middle."""
    _, spacing_m = KINDS[kind]
    way = route(Plant(section=_even(gauge_awg, spacing_m), loading=Loading(kind=kind)), (), 0)
    mesh = Mesh(hz, way.parts)
    at_end = mesh.transfer_ohm(NEAR, (way.far[0], way.far[1]))
    return [
        seen / across
        for seen, across in zip(mesh.ohm(*NEAR), at_end, strict=True)
        if seen is not None and across is not None
    ]


# -- load coils ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("kind", "places_ft"),
    [("H88", [3000, 9000, 15000]), ("D66", [2250, 6750, 11250, 15750])],
)
def test_coils_stand_by_their_kind(kind: Kind, places_ft: list[int]) -> None:
    """88 mH every 6000 ft and 66 mH every 4500 ft, the first half a spacing from the near end."""
    plant = Plant(section=_even(22, 16000 * FOOT_M), loading=Loading(kind=kind))

    assert pytest.approx([feet * FOOT_M for feet in places_ft]) == [c.at_m for c in plant.coils]
    assert {KINDS[kind][0] * 1e3} == {coil.millihenry for coil in plant.coils}


@pytest.mark.outside
@pytest.mark.parametrize("kind", ["H88", "D66"])
def test_a_loaded_line_cuts_off_where_the_formula_says(kind: Kind) -> None:
    """Within 2 % of 1 / (pi sqrt(L C)), L and C of a load section: G. A. Campbell, from memory.

    There the phase shift of a section reaches half a turn, and above it attenuation begins.
    """
    coil_henry, spacing_m = KINDS[kind]
    henry = coil_henry + HENRY_PER_M * spacing_m
    expected_hz = 1 / (np.pi * np.sqrt(henry * MUTUAL_FARAD_PER_M * spacing_m))
    hz = tuple(np.linspace(0.9, 1.1, 401) * expected_hz)

    cosine = np.array(_load_section(kind, hz)).real
    assert pytest.approx(expected_hz, rel=0.02) == hz[int(np.argmax(cosine < -1))]


@pytest.mark.outside
@pytest.mark.parametrize("gauge_awg", [19, 22, 24, 26])
@pytest.mark.parametrize("kind", ["H88", "D66"])
def test_loss_by_loop_resistance(kind: Kind, gauge_awg: int) -> None:
    """Loaded, some 0.45 dB at 1 kHz for each 100 ohm of loop: 7 CFR 1755.403(e)(6)(i)(G), 10 %."""
    (cosine,) = _load_section(kind, (1000.0,), gauge_awg)
    plant = Plant(section=_even(gauge_awg, KINDS[kind][1]), loading=Loading(kind=kind))
    way = route(plant, (), 0)
    strapped = Mesh((0.0,), (*way.parts, Resistor(way.far[0], way.far[1], 1e-3)))
    (loop,) = strapped.ohm(*NEAR)
    assert loop is not None

    loss_db = 20 * np.log10(np.e) * abs(np.arccosh(cosine).real)
    assert pytest.approx(0.45, rel=0.1) == loss_db / loop.real * 100


def _both(way: Route, hz: float) -> complex:
    """What a source between both legs together and the sheath sees, far legs on the sheath."""
    tip, ring, sheath = way.far
    parts: tuple[Part, ...] = (
        *way.parts,
        Resistor("tip", "both", 1e-3),
        Resistor("ring", "both", 1e-3),
        Resistor(tip, sheath, 1e-3),
        Resistor(ring, sheath, 1e-3),
    )
    (seen,) = Mesh((hz,), parts).ohm("both", "sheath")
    assert seen is not None
    return seen


def test_a_coil_loads_the_loop_alone() -> None:
    """Current along both legs alike meets no inductance; with one winding turned, all of it."""
    plant = Plant(
        section=_even(19, 100.0), coil=(Coil(name="c", at_m=50.0, millihenry=88.0, ohm=8.0),)
    )
    bare = Plant(section=plant.section)
    turned = (BadCoil(kind="coil", coil="c", wrong="reversed"),)
    reactance = [
        _both(route(of, troubles, 0), 1000.0).imag
        for of, troubles in ((bare, ()), (plant, ()), (plant, turned))
    ]

    assert pytest.approx(reactance[0], abs=0.05) == reactance[1]
    # two windings of 22 mH side by side, and as much in common
    assert pytest.approx(2 * np.pi * 1000 * 22e-3, rel=0.02) == reactance[2]


def test_a_missing_coil_is_the_cable_without_it() -> None:
    """A coil that was never put in leaves the pair as if the plant had none there."""
    coils = Loading(kind="H88").coils(4000.0)
    loaded = Plant(section=_even(24, 4000.0), loading=Loading(kind="H88"))
    lacking = Plant(section=loaded.section, coil=coils[1:])
    hz = (0.0, 300.0, 1000.0, 3000.0)

    with_trouble = Mesh(hz, route(loaded, (BadCoil(kind="coil", coil="coil 1"),), 0).parts)
    assert pytest.approx(Mesh(hz, route(lacking, (), 0).parts).ohm(*NEAR)) == with_trouble.ohm(
        *NEAR
    )


def test_the_record_counts_its_coils() -> None:
    """By the record, a loop over three coils is the strapped pair's; from midway, what is left."""
    plant = Plant(section=_even(22, 5486.4), loading=Loading(kind="H88", ohm=9.0))
    way = route(plant, (), 0)
    (seen,) = Mesh((0.0,), (*way.parts, Resistor(way.far[0], way.far[1], 1e-3))).ohm(*NEAR)
    assert seen is not None
    midway = seen_from(plant, 2743.2 + 1.0, "far")
    assert midway is not None

    assert pytest.approx(seen.real, rel=1e-4) == loop_ohm(plant)
    copper_ohm = seen.real - 3 * 9.0
    assert pytest.approx(copper_ohm / 2 + 9.0, rel=1e-2) == loop_ohm(midway)


# -- earths ----------------------------------------------------------------------------------------

_HALVES = _even(24, 2000.0)


def _volt(plant: Plant, *troubles: Trouble) -> float:
    """Tip to the near sheath, with tip on the sheath at the far end."""
    way = route(plant, troubles, 0)
    tip, _, sheath = way.far
    volt = Mesh((0.0,), (*way.parts, Resistor(tip, sheath, 0.1))).volt("tip", "sheath")
    assert volt is not None
    return volt


def test_earth_potential_stands_along_the_sheath() -> None:
    """Far earth of 6 V through 5, 6 and 25 ohm: a sixth of it is along 2 km of sheath, 1 V."""
    plant = Plant(section=_HALVES, far_earth_volt=6.0)

    assert pytest.approx(6.0 * 6.0 / 36.0, rel=1e-3) == _volt(plant)


def test_an_open_sheath_shows_all_of_it() -> None:
    """Nothing flows, so a grounded far leg brings the whole difference of both earths home."""
    plant = Plant(section=_HALVES, far_earth_volt=6.0)
    sheath_open = Series(kind="series", conductor="sheath", at_m=1000.0)

    assert pytest.approx(6.0, rel=1e-3) == _volt(plant, sheath_open)


def test_a_bond_that_is_missing_no_longer_holds_the_sheath() -> None:
    """Behind an open sheath a bond of 1 ohm holds it near its own earth; without it the far one."""
    bond = Earth(name="mid", at_m=1500.0, ohm=1.0, volt=0.0)
    plant = Plant(section=_HALVES, earth=(bond,), far_earth_volt=6.0)
    sheath_open = Series(kind="series", conductor="sheath", at_m=1000.0)

    held = _volt(plant, sheath_open)
    poor = _volt(plant, sheath_open, Bond(kind="bond", earth="mid", ohm=24.0))
    gone = _volt(plant, sheath_open, Bond(kind="bond", earth="mid"))
    assert held < 0.6
    # 25 ohm at 0 V, 1.5 ohm of sheath, 25 ohm at 6 V; the far sheath
    assert pytest.approx(6.0 * 26.5 / 51.5, rel=1e-2) == poor
    assert pytest.approx(6.0, rel=1e-3) == gone


# -- taps ------------------------------------------------------------------------------------------


def test_a_leak_at_the_end_of_a_tap_reads_where_the_tap_is() -> None:
    """By the bridge's proportion a leak at the end of a 150 m tap at 900 m is at 900 m."""
    plant = Plant(
        section=_even(24, 3000.0), tap=(Tap(name="T", gauge_awg=24, length_m=150.0, at_m=900.0),)
    )
    leak = Leak(kind="leak", between=("tip", "sheath"), on="T", at_m=150.0, ohm=40e3)
    way = route(plant, (leak,), 0)
    mesh = Mesh((0.0,), (*way.parts, Resistor(way.far[0], way.far[1], 1e-3)))
    loop, to_tip, to_ring = (
        mesh.ohm(a, b)[0] for a, b in (NEAR, ("tip", "sheath"), ("ring", "sheath"))
    )
    assert loop is not None
    assert to_tip is not None
    assert to_ring is not None

    fraction = (loop + to_tip - to_ring).real / 2 / loop.real
    assert pytest.approx(900.0, abs=2.0) == fraction * 2 * 3000.0


def test_a_place_on_a_tap_counts_from_its_start() -> None:
    """A short at the start of a tap is one on the route; at its end the tap's copper is more."""
    tap = Tap(name="T", gauge_awg=24, length_m=150.0, at_m=900.0, lay_percent=0.0)
    plant = Plant(section=_even(24, 3000.0), tap=(tap,))
    on_route, at_start, at_end = (
        Mesh((0.0,), route(plant, (leak,), 0).parts).ohm(*NEAR)[0]
        for leak in (
            Leak(kind="leak", between=NEAR, at_m=900.0, ohm=1.0),
            Leak(kind="leak", between=NEAR, on="T", at_m=0.0, ohm=1.0),
            Leak(kind="leak", between=NEAR, on="T", at_m=150.0, ohm=1.0),
        )
    )
    assert on_route is not None
    assert at_end is not None

    assert pytest.approx(on_route) == at_start
    assert pytest.approx(on_route.real + 2 * 0.150 * 84.215, abs=0.05) == at_end.real
