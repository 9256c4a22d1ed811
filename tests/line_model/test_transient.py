"""Laws of the circuit in time: its end is the exact DC, charge stays, means are means."""

from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Capacitor, Part, Resistor, Source
from line_model.plant import Plant
from line_model.route import Route, route
from line_model.spell import Spell, Topologies
from line_model.transient import Modes
from tests.line_model.circuits import plants, routes, strapped

PAIRS = (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath"))


def _metered(way: Route, volt: float = 10.0, ohm: float = 1e4) -> tuple[Part, ...]:
    return (*way.parts, Source("tip", "ring", volt, ohm))


@given(routes())
def test_settled_is_the_exact_direct_current(way: Route) -> None:
    """When all has settled, the lumped circuit stands at the exact network's volts."""
    parts = _metered(way)
    modes, mesh = Modes(parts, "sheath"), Mesh((0.0,), parts)

    for a, b in PAIRS:
        row = modes.row(a, b)
        assert row is not None
        assert pytest.approx(mesh.volt(a, b), rel=1e-6, abs=1e-5) == float(row @ modes.settled())


@given(routes())
def test_starting_from_rest_nothing_moves(way: Route) -> None:
    """A circuit begun from its own settled voltages stays there."""
    modes = Modes(_metered(way), "sheath")
    start = modes.start(modes.rest())

    for a, b in PAIRS:
        row = modes.row(a, b)
        assert row is not None
        for seconds in (1e-3, 1.0, 1e3):
            moved = float(row @ (modes.after(start, seconds) - modes.settled()))
            assert pytest.approx(0.0, abs=1e-5) == moved


@given(plants())
def test_charge_carries_over_a_switch(plant: Plant) -> None:
    """Opening the strap moves no charge: every capacitor keeps its voltage in that moment."""
    way = route(plant, (), 0)
    meter = Source("tip", "ring", 10.0, 1e4)
    closed, opened = Modes((*strapped(way), meter), "sheath"), Modes((*way.parts, meter), "sheath")
    before = closed.rest()

    after = opened.capacitors(opened.after(opened.start(before), 0.0))
    assert list(before) == list(after)
    assert pytest.approx(list(before.values()), rel=1e-3, abs=1e-2) == list(after.values())


def test_charge_is_shared_and_none_is_lost() -> None:
    """A charged capacitor that is joined to an empty one shares its charge, and no more."""
    apart = (Capacitor("a", "0", 3e-6), Capacitor("b", "0", 1e-6))
    modes = Modes((*apart, Resistor("a", "b", 1e3)), "0")
    start = modes.start({("a", "0"): 8.0, ("b", "0"): 0.0})

    for seconds in (0.0, 1e-4, 1e-3, 1.0, 1e6):
        volt = modes.capacitors(modes.after(start, seconds))
        charge = 3e-6 * volt["a", "0"] + 1e-6 * volt["b", "0"]
        assert pytest.approx(24e-6) == charge
    assert pytest.approx(6.0) == modes.capacitors(modes.after(start, 1.0))["b", "0"]


def test_one_time_constant() -> None:
    """A resistance charges a capacitor by 1 - exp(-t / RC)."""
    parts = (Source("a", "0", 5.0, 2e3), Capacitor("a", "0", 1e-6))
    spell = Spell.begin(parts, 1_000, {}, Topologies("0"))

    for at_us in (1_000, 1_500, 3_000, 9_000):
        expected = 5.0 * (1 - np.exp(-(at_us - 1_000) / 2_000))
        assert pytest.approx(expected, abs=1e-9) == spell.volt("a", "0", at_us)


@given(routes(), st.integers(0, 20_000), st.integers(1, 50_000))
def test_mean_is_the_mean(way: Route, from_us: int, span_us: int) -> None:
    """The closed form of a mean is the average of many looks."""
    spell = Spell.begin(_metered(way), 0, {}, Topologies("sheath"))
    modes = spell.solved.modes(spell.parts)
    looks, weights = np.polynomial.legendre.leggauss(12)
    edges = from_us + span_us * np.concatenate([[0.0], np.geomspace(1e-5, 1.0, 60)])

    total = 0.0
    row = modes.row("tip", "ring")
    assert row is not None
    for low, high in pairwise(edges.tolist()):
        for x, w in zip(looks, weights, strict=True):
            at_s = ((high - low) * x + high + low) / 2 * 1e-6
            total += float(row @ modes.after(spell.amplitude, at_s)) * w * (high - low) / 2
    mean = spell.mean("tip", "ring", from_us, from_us + span_us)
    assert pytest.approx(total / span_us, rel=1e-5, abs=1e-5) == mean


@given(routes(), st.integers(1, 100_000))
def test_a_spell_may_be_cut_anywhere(way: Route, cut_us: int) -> None:
    """Begun again from its own capacitors, the same circuit goes on as if nothing had been."""
    solved, parts = Topologies("sheath"), _metered(way)
    whole = Spell.begin(parts, 0, {}, solved)
    second = Spell.begin(parts, cut_us, whole.capacitors(cut_us), solved)

    for at_us in (cut_us + 1, cut_us + 3_000, cut_us + 1_000_000):
        there = whole.volt("tip", "ring", at_us)
        assert pytest.approx(there, rel=1e-6, abs=1e-5) == second.volt("tip", "ring", at_us)


def test_islands_keep_their_charge_and_read_none() -> None:
    """An island keeps its charge for ever; between islands there are no volts."""
    parts = (Capacitor("a", "b", 1e-6), Resistor("c", "0", 50.0))
    spell = Spell.begin(parts, 0, {("a", "b"): 7.0}, Topologies("0"))

    assert pytest.approx(7.0) == spell.volt("a", "b", 3_600_000_000)
    assert None is spell.volt("a", "0", 10)
    assert None is spell.mean("b", "c", 0, 10)
    assert None is spell.settled("a", "c")
