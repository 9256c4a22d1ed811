"""Laws of neighbours: what they couple, what a cross brings, and pair by pair against all."""

from dataclasses import replace
from statistics import median

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from line_model.beside import UNBALANCE_MOST, beside, unbalance_pf_per_km
from line_model.network import Mesh
from line_model.parts import Resistor, SeriesRC
from line_model.plant import Neighbour, Plant, Section
from line_model.route import Route, route
from line_model.signal import volt_to_dbm
from line_model.spell import Spell, Topologies
from line_model.troubles import Induction, Leak, Trouble
from tests.line_model.circuits import HZ, bare, plants, sections, troubles
from tests.line_model.splits import joined, split

NEAR = ("tip", "ring")
TONE_HZ = (580.0, 1060.0)


@st.composite
def neighbourly(draw: st.DrawFn) -> Route:
    """A plant with troubles, perhaps a split, and one to three neighbours in the circuit."""
    plant = draw(plants())
    about: list[Trouble] = list(draw(troubles(plant.length_m)))
    if draw(st.booleans()):
        start_m = draw(st.integers(0, 60)) / 100 * plant.length_m
        end_m = start_m + draw(st.integers(1, 40)) / 100 * plant.length_m
        about.append(split(start_m, draw(st.sampled_from((end_m, None)))))
    asked = tuple(draw(st.lists(st.sampled_from("abc"), min_size=1, max_size=3, unique=True)))
    return route(plant, tuple(about), draw(st.integers(0, 9)), asked=asked)


@settings(max_examples=40)
@given(neighbourly())
def test_reciprocity(way: Route) -> None:
    """An ampere into the pair gives across the neighbour what one there gives across the pair."""
    mesh, there = Mesh(HZ, joined(way)), way.neighbours[0].far.pair

    one, other = mesh.transfer_ohm(NEAR, there), mesh.transfer_ohm(there, NEAR)
    own = zip(mesh.ohm(*NEAR), mesh.ohm(*there), strict=True)
    for f, a, b, (here, far) in zip(HZ, one, other, own, strict=True):
        assert a is not None
        # what two pairs have in common at 0 Hz is nothing beside what each shows of itself
        scale = abs((here or 1e15) * (far or 1e15)) ** 0.5
        assert pytest.approx(a, rel=1e-5, abs=1e-10 * scale) == b, f


@settings(max_examples=40)
@given(neighbourly())
def test_passivity(way: Route) -> None:
    """No pair of terminals, a neighbour's neither, gives power away at any frequency."""
    mesh, one = Mesh(HZ, joined(way)), way.neighbours[0].near

    for a, b in (NEAR, ("tip", "sheath"), one.pair, ("tip", one.ring)):
        assert all(z is not None and z.real >= -1e-9 * abs(z) for z in mesh.ohm(a, b))


@given(sections(), st.integers(1, 24), st.integers(0, 99))
def test_no_capacitance_is_made(section: Section, count: int, seed: int) -> None:
    """What goes to neighbours' legs is taken out of the sheath's, and never more than is there."""
    names = tuple(str(i) for i in range(count))
    along = beside(section, names, 20.0, seed, "s")

    taken = [sum(f for i, j, f in along.farad if k in (i, j)) for k in range(3 + 2 * count)]
    assert pytest.approx(taken) == list(along.taken_farad)
    assert all(farad >= 0 for _, _, farad in along.farad)
    for i, each in enumerate(along.per_metre):
        assert along.taken_farad[3 + 2 * i] <= each.tip_sheath_farad
        assert along.taken_farad[4 + 2 * i] <= each.ring_sheath_farad


def test_unbalance_is_as_specified() -> None:
    """Pair to pair its rms over a kilometre is 45 pF, never over 145, and it adds up as a root."""
    drawn = [unbalance_pf_per_km(1, "s", "", str(i), 1000.0) for i in range(4000)]
    quarter = [unbalance_pf_per_km(1, "s", "", str(i), 4000.0) for i in range(4000)]

    rms = (sum(value**2 for value in drawn) / len(drawn)) ** 0.5
    assert pytest.approx(45.3, rel=0.05) == rms
    assert max(map(abs, drawn)) <= UNBALANCE_MOST.value
    assert pytest.approx([2 * value for value in drawn]) == [4 * value for value in quarter]


@given(plants(), st.integers(0, 9))
def test_a_neighbour_nobody_asks_for_changes_nothing(plant: Plant, seed: int) -> None:
    """A plant with neighbours is the very same circuit until one of them is needed."""
    crowd = tuple(Neighbour(name=name, state="working") for name in "abc")
    more = replace(plant, neighbour=crowd)

    assert route(plant, (), seed).parts == route(more, (), seed).parts


@given(neighbourly(), plants(), st.integers(0, 9))
def test_the_pair_keeps_its_nodes(way: Route, plant: Plant, seed: int) -> None:
    """Who comes into the circuit moves no node of the pair, so that charge stays where it is."""
    alone, beside_it = route(plant, (), seed), route(plant, (), seed, asked=("a", "b"))

    assert alone.far == beside_it.far
    for one, other in zip(alone.main, beside_it.main, strict=True):
        assert (one.near, one.far) == (other.near[:3], other.far[:3])


def test_a_cross_brings_the_other_pairs_battery() -> None:
    """Through the leak the working pair's battery stands on the leg; on the other leg none does."""
    plant = Plant(section=bare(2000.0).section, neighbour=(Neighbour(name="a", state="working"),))
    cross = Leak(kind="leak", between=("tip", "a.ring"), at_m=900.0, ohm=1e4)
    mesh = Mesh((0.0,), joined(route(plant, (cross,), 0)))

    assert pytest.approx(-48.0, abs=0.05) == mesh.volt("tip", "sheath")
    assert pytest.approx(0.0, abs=0.05) == mesh.volt("ring", "sheath")
    (ohm,) = mesh.ohm("tip", "sheath")
    assert ohm is not None
    assert pytest.approx(10e3 + 200 + 76 + 76, rel=0.01) == ohm.real


def test_in_time_a_neighbour_settles_at_its_exact_volts() -> None:
    """The ladder of lumps with a neighbour comes to rest where the exact network is."""
    plant = Plant(section=bare(2000.0).section, neighbour=(Neighbour(name="a", state="working"),))
    cross = Leak(kind="leak", between=("tip", "a.ring"), at_m=900.0, ohm=1e4)
    parts = (*joined(route(plant, (cross,), 0)), Resistor("tip", "sheath", 1e5))
    spell = Spell.begin(parts, 0, {}, Topologies("sheath"))

    exact = Mesh((0.0,), parts)
    for a, b in (("tip", "sheath"), ("ring", "sheath"), ("a.ring", "a.tip")):
        assert pytest.approx(exact.volt(a, b), rel=1e-6, abs=1e-6) == spell.settled(a, b)


def _toned(asked: tuple[str, ...], seed: int, one_leg: bool) -> tuple[Mesh, tuple[str, str]]:
    """A tone at the far end of the pair, with these neighbours in the circuit."""
    plant = Plant(section=(Section(gauge_awg=24, length_m=2400.0),))
    way = route(plant, (), seed, asked=asked)
    legs = (way.far[0], way.far[2] if one_leg else way.far[1])
    return Mesh(TONE_HZ, (*joined(way), SeriesRC(*legs, 600.0, 1e-6, "tone"))), legs


def _level_dbm(mesh: Mesh, legs: tuple[str, str], across: tuple[str, str]) -> float:
    volt = max(abs(z or 0) for z in mesh.transfer_ohm(legs, across)) / 600.0
    return volt_to_dbm(volt)


def test_pair_by_pair_is_near_all_pairs_at_once() -> None:
    """A tone between the legs, at 24 posts: one neighbour at a time, or all of 51 conductors.

    Between a neighbour's legs within 0.02 dB in the median; where a coupling nulls, more.
    """
    names = tuple(str(i) for i in range(1, 25))
    off_db = []
    for seed in (1, 2):
        crowd, legs = _toned(names, seed, one_leg=False)
        for name in names:
            across = f"{name}.tip", f"{name}.ring"
            alone, own = _toned((name,), seed, one_leg=False)
            levels = _level_dbm(crowd, legs, across), _level_dbm(alone, own, across)
            off_db.append(abs(levels[0] - levels[1]))

    assert median(off_db) < 0.02
    assert max(off_db) < 8.0


def test_tone_along_one_leg_bleeds() -> None:
    """Between the legs a tone hardly leaves its pair; from a leg to the sheath it does, 40 dB more.

    There all pairs at once give another 2 dB at most than one at a time.
    """
    names = tuple(str(i) for i in range(1, 25))
    crowd, legs = _toned(names, 1, one_leg=True)
    for name in ("1", "7", "24"):
        to_sheath = f"{name}.tip", "sheath"
        alone, own = _toned((name,), 1, one_leg=True)
        between, own_between = _toned((name,), 1, one_leg=False)
        one = _level_dbm(alone, own, to_sheath)

        assert one > _level_dbm(between, own_between, to_sheath) + 35
        assert abs(one - _level_dbm(crowd, legs, to_sheath)) < 2.0


def test_hum_is_along_every_leg_alike() -> None:
    """What is induced stands on a neighbour as on the pair, and so hardly between the two.

    So does it on a pair that is split, whichever neighbour's leg it has.
    """
    induced = Induction(kind="induction", rms_volt=10.0, hz=60.0)
    alone = replace(bare(2000.0), neighbour=(Neighbour(name="a", state="open"),))
    for about in ((induced,), (split(600.0, None), induced)):
        parts, solved = joined(route(alone, about, 0, asked=("a",))), Topologies("sheath")
        to_sheath, there, between = (
            abs(solved.still(parts).hum_volt(across)[60.0])
            for across in (("tip", "sheath"), ("a.ring", "sheath"), ("tip", "a.ring"))
        )

        assert to_sheath > 1.0
        assert pytest.approx(to_sheath, rel=0.02) == there
        assert between < 0.02 * to_sheath
