"""What a split leaves alone, what it costs, and what is heard over it."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Resistor
from line_model.route import Route, route
from line_model.signal import volt_to_dbm
from line_model.troubles import Leg, Reversal
from tests.line_model.circuits import bare, nanofarad, strapped
from tests.line_model.splits import joined, split

NEAR = ("tip", "ring")


@given(st.integers(0, 99), st.integers(1, 100), st.sampled_from(("tip", "ring")))
def test_a_mended_split_is_perfect_to_direct_current(start: int, length: int, leg: Leg) -> None:
    """Strapped, the loop of a pair that is split and mended is that of one that never was."""
    plant = bare(2000.0)
    bad = (split(20.0 * start, min(2000.0, 20.0 * (start + length)), leg),)

    whole = Mesh((0.0,), strapped(route(plant, (), 0))).ohm(*NEAR)[0]
    mended = Mesh((0.0,), strapped(route(plant, bad, 0))).ohm(*NEAR)[0]
    assert whole is not None
    assert pytest.approx(whole.real, rel=1e-6) == (mended or 0).real


def test_a_split_to_the_end_reads_open() -> None:
    """Strapped at the far end, the two legs there are not of one pair: no loop but insulation."""
    way = route(bare(2000.0), (split(700.0, None),), 0)

    (ohm,) = Mesh((0.0,), (*strapped(way), *joined(way)[len(way.parts) :])).ohm(*NEAR)
    assert ohm is not None
    assert ohm.real > 100e6


def test_mended_about_a_reversal_is_not_mended() -> None:
    """Legs exchanged inside a split: who mends `ring` takes the wrong leg, and the loop is gone."""
    swapped = Reversal(kind="reversal", at_m=1000.0)
    way = route(bare(2000.0), (split(500.0, 1500.0), swapped), 0)

    (ohm,) = Mesh((0.0,), strapped(way)).ohm(*NEAR)
    assert ohm is not None
    assert ohm.real > 100e6


def test_two_splits_undo_each_other() -> None:
    """Mended and split again at one place is never mended there: the loop is whole at its ends."""
    both = (split(500.0, 1000.0), split(1000.0, 1500.0))
    way, whole = route(bare(2000.0), both, 0), route(bare(2000.0), (), 0)

    one, other = (Mesh((0.0,), strapped(each)).ohm(*NEAR)[0] for each in (way, whole))
    assert one is not None
    assert pytest.approx((other or 0).real, rel=1e-6) == one.real


def _nanofarad(way: Route) -> float:
    return nanofarad(Mesh((10.0,), joined(way)), *NEAR, 10.0)


def test_a_split_costs_capacitance() -> None:
    """By 500 m of split 3 km of pair lack some nanofarads; ohms see nothing of it."""
    whole = _nanofarad(route(bare(3000.0), (), 0))
    less = whole - _nanofarad(route(bare(3000.0), (split(1000.0, 1500.0),), 0))

    assert pytest.approx(155.0, rel=0.01) == whole
    assert 2.5 < less < 7.0


def test_a_split_hears_the_other_pair() -> None:
    """Over 500 m of split the other pair is 35 to 50 dB down; beside it, far more."""
    plant = bare(3000.0)
    split_dbm = _crosstalk_db(route(plant, (split(1000.0, 1500.0),), 0))
    beside_dbm = _crosstalk_db(route(plant, (), 0, asked=("a",)))

    assert -50 < split_dbm < -33
    assert beside_dbm < -70


def _crosstalk_db(way: Route) -> float:
    """Of what stands across the neighbour's near end, what stands across the pair's [dB]."""
    ended = (Resistor(*NEAR, 600.0), Resistor(way.far[0], way.far[1], 600.0))
    mesh, there = Mesh((2000.0,), (*joined(way), *ended)), ("a.tip", "a.ring")
    here, own = (mesh.transfer_ohm(there, across)[0] for across in (NEAR, there))
    assert here is not None
    assert own is not None
    return volt_to_dbm(abs(here / own)) - volt_to_dbm(1.0)
