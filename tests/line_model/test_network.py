"""Laws of the exact network: what holds of every passive circuit, and of islands."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Resistor, Source
from line_model.plant import Plant, Section
from line_model.route import Route, route
from line_model.troubles import Conductor, Series
from tests.line_model.circuits import HZ, bare, routes, strapped

NEAR = ("tip", "ring")
PAIRS = (NEAR, ("tip", "sheath"), ("ring", "sheath"))


def _ohms(mesh: Mesh, a: str, b: str) -> list[complex]:
    out = mesh.ohm(a, b)
    assert None not in out
    return [value for value in out if value is not None]


@given(routes())
def test_reciprocity(way: Route) -> None:
    """An ampere here gives there the volts that an ampere there gives here."""
    mesh, far = Mesh(HZ, way.parts), (way.far[0], way.far[1])

    there, here = mesh.transfer_ohm(NEAR, far), mesh.transfer_ohm(far, NEAR)
    for f, one, other in zip(HZ, there, here, strict=True):
        assert one is not None
        assert pytest.approx(one, rel=1e-6, abs=1e-9) == other, f


@given(routes())
def test_passivity(way: Route) -> None:
    """No pair of terminals gives power away at any frequency."""
    mesh = Mesh(HZ, way.parts)

    for a, b in PAIRS:
        assert all(z.real >= 0 for z in _ohms(mesh, a, b))


@given(routes(), st.floats(1e-2, 1e9), st.sampled_from(PAIRS), st.integers(0, 3))
def test_a_leak_never_raises_a_resistance(
    way: Route, ohm: float, pair: tuple[str, str], where: int
) -> None:
    """Whatever is joined anywhere, no driving-point resistance rises."""
    nodes = (*way.far, "earth")
    leak = Resistor(nodes[where], nodes[where - 1], ohm)
    without, with_leak = Mesh((0.0,), way.parts), Mesh((0.0,), (*way.parts, leak))

    for a, b in PAIRS:
        before, after = _ohms(without, a, b)[0].real, _ohms(with_leak, a, b)[0].real
        assert after <= before * (1 + 1e-9)


@given(st.floats(1, 8000), st.floats(1, 8000))
def test_a_longer_pair_never_reads_fewer_ohms(one_m: float, other_m: float) -> None:
    """Strapped, the longer of two pairs reads at least as much."""
    short_m, long_m = sorted((one_m, other_m))
    short, long = (
        _ohms(Mesh((0.0,), strapped(route(bare(m), (), 0))), *NEAR)[0].real
        for m in (short_m, long_m)
    )

    assert short <= long


@pytest.mark.outside
@pytest.mark.parametrize("length_m", [304.8, 3218.688])
def test_insulation_times_length_is_constant(length_m: float) -> None:
    """Megohms fall as length grows: 1600 megohm km a leg (7 CFR 1755.860(m)(6)), any length."""
    (ohm,) = _ohms(Mesh((0.0,), route(bare(length_m), (), 0).parts), "tip", "sheath")

    assert pytest.approx(1600e9, rel=1e-4) == ohm.real * length_m


def test_a_strapped_pair_reads_its_copper() -> None:
    """1 km of 24 AWG without lay, strapped by 0.1 ohm, is twice 84.215 ohm and the strap."""
    (ohm,) = _ohms(Mesh((0.0,), strapped(route(bare(1000.0), (), 0))), *NEAR)

    assert pytest.approx(2 * 84.215 + 0.1, abs=2e-3) == ohm.real


def _open(*conductors: Conductor, at_m: float = 0.0) -> Route:
    cuts = tuple(Series(kind="series", conductor=c, at_m=at_m) for c in conductors)
    return route(bare(800.0), cuts, 0)


def test_islands_read_none() -> None:
    """Cut off at the near end, the legs are islands: no ohms and no volts, at any frequency."""
    both, one = Mesh(HZ, _open("tip", "ring").parts), Mesh(HZ, _open("tip").parts)

    assert [None] * len(HZ) == both.ohm("tip", "ring")
    assert [None] * len(HZ) == both.ohm("ring", "sheath")
    assert None is both.volt("tip", "sheath")
    assert [None] * len(HZ) == one.ohm("tip", "ring")
    assert None not in one.ohm("ring", "sheath")
    assert [None] * len(HZ) == one.transfer_ohm(("tip", "ring"), ("ring", "sheath"))


def test_an_island_is_whole_in_itself() -> None:
    """What is joined to the cut-off legs reads as if nothing else were there."""
    way = _open("tip", "ring")
    mesh = Mesh((0.0,), (*way.parts, Source("tip", "ring", 9.0, 470.0)))

    assert pytest.approx([470.0]) == mesh.ohm("tip", "ring")
    assert pytest.approx(9.0) == mesh.volt("tip", "ring")
    assert None is mesh.volt("tip", "sheath")


def test_a_source_of_no_volts_is_zero_and_not_none() -> None:
    """Within an island without sources the volts are 0."""
    mesh = Mesh((0.0,), route(Plant(section=(Section(gauge_awg=26, length_m=50.0),)), (), 0).parts)

    assert mesh.volt("tip", "sheath") == 0.0


@given(routes(), st.floats(0.1, 1e6))
def test_a_plant_seen_from_its_ends_is_the_plant(way: Route, ohm: float) -> None:
    """Reduced to its ends and then joined, a plant reads as when it is solved whole.

    What is joined leaves no trace on what it is joined to.
    """
    load = Resistor(way.far[0], way.far[1], ohm)
    whole = Mesh(HZ, (*way.parts, load))
    seen = Mesh(HZ, way.parts).seen_from(("tip", "ring", "sheath", *way.far))
    bare, joined = seen.ohm(*NEAR), seen.each(((load,),))

    assert bare == seen.ohm(*NEAR)
    for a, b in PAIRS:
        assert pytest.approx(whole.ohm(a, b), rel=1e-9) == joined.ohm(a, b)
        # a source behind milliohms drives amperes, whose rounding stands across megohms
        assert pytest.approx(whole.volt(a, b), rel=1e-9, abs=2e-4) == joined.volt(a, b)
