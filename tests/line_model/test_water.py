"""What water does to a cable: capacitance first, resistance later, and neither of them stays."""

from math import log

import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.troubles import Drift, Leak, Series, Trouble, Wet
from line_model.troubles.drift import STEP
from line_model.troubles.present import changes_us, present
from line_model.worksheet.farads import OpenPair
from tests.line_model.circuits import bare, nanofarad, strapped

drifts = st.builds(Drift, to_ohm=st.floats(1, 1e8), over_s=st.floats(1, 1e4))


def _nanofarad(plant: Plant, *troubles: Trouble) -> float:
    return nanofarad(Mesh((25.0,), route(plant, troubles, 0).parts), "tip", "ring", 25.0)


def _soaked(from_m: float, to_m: float, percent: float) -> Wet:
    return Wet(
        kind="wet",
        between=("tip", "ring"),
        from_m=from_m,
        to_m=to_m,
        ohm_km=1e6,
        capacitance_percent=percent,
    )


def test_capacitance_rises_before_resistance_falls() -> None:
    """A third more over 600 of 2000 m reads a tenth more, and the loop is what it was."""
    plant, water = bare(2000.0), _soaked(500.0, 1100.0, 100 / 3)

    assert pytest.approx(1.1, abs=1e-3) == _nanofarad(plant, water) / _nanofarad(plant)
    loops = []
    for troubles in ((), (water,)):
        way = route(plant, troubles, 0)
        loops.append(Mesh((0.0,), strapped(way)).ohm("tip", "ring")[0])
    assert pytest.approx(loops[0], rel=1e-3) == loops[1]


def test_water_puts_an_open_too_far() -> None:
    """Both legs open at 1500 m, 40 % more from 400 to 1000 m: by the record at 1740 m."""
    opens = tuple(Series(kind="series", conductor=leg, at_m=1500.0) for leg in ("tip", "ring"))
    read = _nanofarad(bare(3000.0), *opens, _soaked(400.0, 1000.0, 40.0))

    assert pytest.approx(1740.0, abs=3.0) == OpenPair(bare(3000.0), "pair", 25.0).metres(read)


def test_two_wet_stretches_add_up() -> None:
    """Where two overlap there is what both add, and dry cable beside them is as it was."""
    plant = Plant(section=(Section(gauge_awg=24, length_m=1000.0),))
    dry = _nanofarad(plant)
    each = [
        _nanofarad(plant, _soaked(*stretch, 50.0)) - dry for stretch in ((100, 500), (300, 900))
    ]
    both = _nanofarad(plant, _soaked(100, 500, 50.0), _soaked(300, 900, 50.0)) - dry

    assert pytest.approx(sum(each), rel=1e-3) == both


@given(drifts, st.floats(1, 1e8), st.integers(0, 10**10))
def test_a_leak_moves_when_it_says(drift: Drift, from_ohm: float, now_us: int) -> None:
    """Until the next step nothing moves, and then it does; at the end it stays where it went."""
    here, at_us = drift.ohm(from_ohm, now_us), drift.changes_us(from_ohm, now_us)
    if at_us is None:
        assert pytest.approx(drift.to_ohm, rel=1e-9) == here
    else:
        assert at_us > now_us
        assert here == drift.ohm(from_ohm, at_us - 1)
        assert from_ohm == drift.to_ohm or here != drift.ohm(from_ohm, at_us)


@given(drifts, st.floats(1, 1e8), st.floats(0, 1))
def test_it_keeps_to_its_course(drift: Drift, from_ohm: float, share: float) -> None:
    """It is never a step behind: even in the logarithm, from the start to the end."""
    whole = log(drift.to_ohm / from_ohm)
    step = max(STEP, abs(whole) / int(drift.over_s / 0.2))
    come = log(drift.ohm(from_ohm, round(share * drift.over_s * 1e6)) / from_ohm)

    assert abs(come - share * whole) <= step + 1e-4


def test_a_leak_that_dries_is_another_at_another_time() -> None:
    """40 kilohm at the start, 126 half-way to 400, 400 after ten minutes and for good."""
    leak = Leak(
        kind="leak",
        between=("tip", "sheath"),
        at_m=700.0,
        ohm=40e3,
        drift=Drift(to_ohm=400e3, over_s=600.0),
    )
    found = [present((leak,), 0, s * 1_000_000)[0] for s in (0, 300, 600, 9000)]
    ohms = [one.ohm for one in found if isinstance(one, Leak)]

    assert pytest.approx([40e3, 40e3 * 10**0.5, 400e3, 400e3], rel=0.02) == ohms
    assert changes_us((leak,), 0, 0) == pytest.approx(600e6 / 116, abs=1)
    assert changes_us((leak,), 0, 600_000_000) is None
