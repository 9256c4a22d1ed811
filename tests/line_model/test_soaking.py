"""Insulation that soaks up charge: what a test reads climbs, and a frequency sees the same."""

import numpy as np
import pytest

from line_model.network import Mesh
from line_model.parts import Source
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.spell import Spell, Topologies


def _insulation_ohm(absorption_percent: float, seconds: float) -> float:
    section = Section(gauge_awg=24, length_m=2000.0, absorption_percent=absorption_percent)
    meter_ohm = 1e6
    way = route(Plant(section=(section,)), (), 0)
    parts = (*way.parts, Source("tip", "sheath", 250.0, meter_ohm))
    spell = Spell.begin(parts, 0, {}, Topologies("sheath"))
    volt = spell.volt("tip", "sheath", round(seconds * 1e6))
    assert volt is not None
    return meter_ohm * volt / (250.0 - volt)


def test_an_insulation_reading_climbs_for_a_minute() -> None:
    """Where insulation soaks, a reading after a minute is well over that after ten seconds."""
    ten, minute, end = (_insulation_ohm(100.0, seconds) for seconds in (10.0, 60.0, 600.0))
    plain = [_insulation_ohm(0.0, seconds) for seconds in (10.0, 60.0)]

    assert minute > 1.3 * ten
    assert pytest.approx(1600e6 / 2, rel=0.02) == end
    assert pytest.approx(plain[0], rel=1e-2) == plain[1]


def test_what_soaks_is_the_same_at_a_frequency() -> None:
    """At a thousandth of a hertz the capacitance is the cable's and most of what it soaks up."""
    hz = 0.001
    farads = []
    for percent in (0.0, 100.0):
        soaking = Section(
            gauge_awg=24,
            length_m=2000.0,
            absorption_percent=percent,
            unbalance_pf_per_km=0.0,
            insulation_megohm_km=1e6,
        )
        (seen,) = Mesh((hz,), route(Plant(section=(soaking,)), (), 0).parts).ohm("tip", "sheath")
        assert seen is not None
        farads.append((1 / seen).imag / (2 * np.pi * hz))

    parts = [1 / (1 + (2 * np.pi * hz * seconds) ** 2) for seconds in (2.0, 10.0, 45.0)]

    # ring floats, and lends both its capacitance to the sheath and what it soaks up
    def to_sheath(leg_nf: float) -> float:
        return leg_nf + 1 / (1 / leg_nf + 1 / 12.6)

    soaked_nf = 78.0 * (1 + sum(parts) / 3)
    assert pytest.approx(to_sheath(78.0) * 2e-9, rel=1e-3) == farads[0]
    assert pytest.approx(to_sheath(soaked_nf) * 2e-9, rel=2e-2) == farads[1]
