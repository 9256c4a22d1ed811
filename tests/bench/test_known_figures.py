"""What a practitioner knows by heart of 3 km of 24 gauge: ohms, farads, volts.

The figures were worked out beforehand with a ladder of its own.
"""

import pytest

from line_model.meters.profile import Bridge
from line_model.network import Mesh
from line_model.parts import Resistor
from line_model.plant import Plant, Section
from line_model.troubles import Battery, Leg
from line_model.worksheet.legs import solve
from line_model.worksheet.shunt import to_trouble_ohm
from tests.bench.known_pair import (
    RING_SHEATH,
    TIP_RING,
    TIP_SHEATH,
    circuit,
    leak,
    nanofarad,
    ohm,
    series,
)
from tests.line_model.circuits import bare
from tests.line_model.meters.rig import settled, shipped

# -- the good pair, and each trouble by ohms -------------------------------------------------------


def test_the_good_pair() -> None:
    """Strapped 505.4 ohm; each leg to ground 260.0, half a loop, the contacts and the sheath."""
    assert pytest.approx(505.4, abs=0.05) == ohm("strap", TIP_RING)
    assert pytest.approx(260.0, abs=0.05) == ohm("tip-ground", TIP_SHEATH)
    assert pytest.approx(260.0, abs=0.05) == ohm("ring-ground", RING_SHEATH)


def test_the_conductor_is_longer_than_the_sheath() -> None:
    """Pair lay adds 1 to 2 %: by default a pair of 3000 m reads as 3045 m of straight wire."""
    laid = Plant(section=(Section(gauge_awg=24, length_m=3000.0),))

    assert pytest.approx(1.015, abs=1e-4) == ohm("strap", TIP_RING, plant=laid) / 505.4


def test_two_temperatures_on_one_route() -> None:
    """Half of it in the sun at 50 C: 5.9 % more than all of it in the ground at 20 C."""
    halves = tuple(
        Section(gauge_awg=24, length_m=1500.0, lay_percent=0.0, temperature_c=celsius)
        for celsius in (20.0, 50.0)
    )
    read = ohm("strap", TIP_RING, plant=Plant(section=halves))

    assert pytest.approx(1 + 0.00393 * 30 / 2, abs=2e-4) == read / 505.4


@pytest.mark.parametrize("state", ["idle", "strap", "tip-ground", "open", "off-pair"])
def test_a_hard_short_is_the_same_in_every_state(state: str) -> None:
    """Half an ohm at 1325 m: 223.7 ohm, whatever the unit does."""
    assert pytest.approx(223.7, abs=0.05) == ohm(state, TIP_RING, leak("tip", "ring", 1325.0, 0.5))


def test_resistance_across_by_two_readings() -> None:
    """3 kilohm across at 1325 m: idle 3223, strapped 481.1; by the two-reading test 223 ohm on.

    481.1 - sqrt(24.3 x 2741.9); an ohm of error moves it some 38 m.
    """
    across = leak("tip", "ring", 1325.0, 3e3)
    idle, strapped, good = (
        ohm("idle", TIP_RING, across),
        ohm("strap", TIP_RING, across),
        ohm("strap", TIP_RING),
    )
    found = to_trouble_ohm(good, idle, strapped)

    assert pytest.approx(3223.0, abs=0.5) == idle
    assert pytest.approx(481.1, abs=0.05) == strapped
    assert pytest.approx(223.2, abs=0.5) == found
    metre_ohm = 505.4 / 3000.0
    moved_m = (to_trouble_ohm(good, idle, strapped + 1.0) - found) / metre_ohm
    assert pytest.approx(38.0, abs=3.0) == abs(moved_m)


def test_three_readings_tell_the_leg() -> None:
    """150 ohm in ring at 800 m: 655.4, 260 and 410 ohm; legs of 252.7 and 402.7; 505.4 without."""
    bad = series("ring", 800.0, 150.0)
    loop = ohm("both-ground", TIP_RING, bad)
    tip, ring = ohm("both-ground", TIP_SHEATH, bad), ohm("both-ground", RING_SHEATH, bad)

    assert pytest.approx((655.4, 260.0, 410.0), abs=0.15) == (loop, tip, ring)
    legs = solve(loop, tip, ring)
    assert pytest.approx((252.7, 402.7), abs=0.15) == legs[:2]


def test_an_open_sheath() -> None:
    """Open at 1800 m: both legs return through both electrodes, 283.0; the loop is as ever."""
    bad = series("sheath", 1800.0)

    assert pytest.approx(283.0, abs=0.1) == ohm("tip-ground", TIP_SHEATH, bad)
    assert pytest.approx(283.0, abs=0.1) == ohm("ring-ground", RING_SHEATH, bad)
    assert pytest.approx(505.4, abs=0.05) == ohm("strap", TIP_RING, bad)


def test_a_leak_by_the_bridge() -> None:
    """40 kilohm on tip at 1325 m: 0.2208 of the loop by slide; 282.2 of 505.4 on the dial."""
    bridge = shipped("bridge")
    assert isinstance(bridge, Bridge)
    parts, _ = circuit("strap", (leak("tip", "sheath", 1325.0, 40e3),))
    came = settled(bridge, "bad=tip good=ring", parts)
    loop = 505.4

    assert came.value is not None
    assert pytest.approx(0.2208, abs=2e-4) == came.value / loop
    # equal arms balance at the loop less twice the way to the trouble
    assert pytest.approx(282.2, abs=0.2) == loop - 2 * came.value


# -- opens, by capacitance -------------------------------------------------------------------------

RING_OPEN = series("ring", 1500.0)


def test_an_open_leg() -> None:
    """Ring open at 1500 m: the strap over a gigohm, tip to ground 260, ring alone 136 nF."""
    assert ohm("strap", TIP_RING, RING_OPEN) > 1e9
    assert pytest.approx(260.0, abs=0.05) == ohm("tip-ground", TIP_SHEATH, RING_OPEN)
    read = nanofarad("off-pair", RING_SHEATH, RING_OPEN, grounded=True)
    assert pytest.approx(137.0, abs=1.5) == read
    assert pytest.approx(1500.0, abs=2.0) == read / (78.0 + 12.6) * 1000


def test_the_unit_loads_what_it_measures() -> None:
    """0.1 uF is nearly two kilometres more of pair; off the pair nothing is left of it."""
    with_it, without = nanofarad("idle", TIP_RING), nanofarad("off-pair", TIP_RING)

    assert pytest.approx(155.0, abs=0.5) == without
    assert pytest.approx(248.0, abs=4.0) == with_it
    assert pytest.approx(1.8, abs=0.1) == (with_it - without) / 51.6


@pytest.mark.parametrize(("state", "expected_m"), [("idle", 1322.0), ("off-pair", 1510.0)])
def test_the_units_share_moves_an_open(state: str, expected_m: float) -> None:
    """Leg against leg an open at 1500 m seems near 1320 m with the unit on, and 1510 without."""
    ring = nanofarad(state, RING_SHEATH, RING_OPEN)
    tip = nanofarad(state, TIP_SHEATH, RING_OPEN)

    assert pytest.approx(expected_m, abs=12.0) == 3000.0 * ring / tip


def test_the_units_leak_fails_a_good_pair() -> None:
    """20 megohm across 3 km are under the 268 that 805 megohm km ask; off the pair 1067 are left.

    Source of the rule: 7 CFR 1755.403(c)(4).
    """
    assert ohm("idle", TIP_RING) / 1e6 < 805 / 3.0 < ohm("off-pair", TIP_RING) / 1e6


# -- foreign battery -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("leg", "inside_ohm", "volt"),
    [("tip", 10e6, -49.97), ("tip", 100e3, -47.6), ("ring", 10e6, -16.6), ("ring", 100e3, -0.25)],
)
def test_two_voltmeters_over_foreign_battery(leg: Leg, inside_ohm: float, volt: float) -> None:
    """-50 V behind 5 kilohm on tip: 10 megohm and 100 kilohm disagree, and ring's is a ghost."""
    battery = Battery(kind="battery", conductor="tip", at_m=500.0, volt=-50.0, ohm=5e3)
    parts, _ = circuit("idle", (battery,), plant=bare(1000.0))
    read = Mesh((0.0,), (*parts, Resistor(leg, "sheath", inside_ohm))).volt(leg, "sheath")

    assert pytest.approx(volt, rel=0.006) == read
