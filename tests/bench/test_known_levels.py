"""What a practitioner knows by heart of a key's level at the far end, and of an office.

Levels are over the keypad's own. The figures were worked out beforehand with a ladder of its own.
"""

import pytest

from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.parts import Resistor
from tests.bench.known_pair import HIGH, LOW, TIP_RING, leak, level_db, ohm, series
from tests.line_model.circuits import bare

RING_OPEN = series("ring", 1500.0)

# -- levels ----------------------------------------------------------------------------------------


def test_an_open_leg_is_not_silence() -> None:
    """With one leg open at mid-length tones still arrive, some 6 dB down, by capacitance."""
    assert pytest.approx(-6.0, abs=0.5) == level_db("idle", LOW, RING_OPEN)


@pytest.mark.parametrize(("value", "db"), [(0.5, -59.0), (10.0, -33.0), (100.0, -14.0)])
def test_a_short_is(value: float, db: float) -> None:
    """Across the middle of the pair half an ohm leaves -59 dB, 10 ohm -33, 100 ohm -14."""
    assert pytest.approx(db, abs=0.8) == level_db("idle", LOW, leak("tip", "ring", 1325.0, value))


def test_twist_and_level_go_with_the_state() -> None:
    """Over 5.5 km at 1477 Hz -2.7 dB idle and -8.7 with tip grounded; 4.7 to 5.6 dB of twist."""
    long = bare(5500.0)
    idle, grounded = (level_db(state, HIGH, plant=long) for state in ("idle", "tip-ground"))
    twists = [
        level_db(state, LOW, plant=long) - high
        for state, high in (("idle", idle), ("tip-ground", grounded))
    ]

    assert pytest.approx((-2.7, -8.7), abs=0.1) == (idle, grounded)
    assert pytest.approx((4.7, 5.6), abs=0.1) == tuple(twists)


def test_an_office_across_costs_five_db() -> None:
    """900 ohm and 2.16 uF beyond the unit: a knock is heard worse than the commands after it."""
    office = Equipment(equipment="office")
    costs = [level_db("idle", hz) - level_db("idle", hz, beyond=office) for hz in (LOW, HIGH)]

    assert pytest.approx(5.0, abs=1.2) == sum(costs) / 2
    assert level_db("open", LOW) == level_db("open", LOW, beyond=office)


@pytest.mark.parametrize(("across_ohm", "db"), [(100.0, 16.0), (1e3, 3.6), (1e4, 0.4)])
def test_a_meter_left_on_costs(across_ohm: float, db: float) -> None:
    """At 697 Hz a meter of 100 ohm costs 16 dB, 1 kilohm 3.6, 10 kilohm 0.4."""
    cost = level_db("idle", LOW) - level_db("idle", LOW, across_ohm=across_ohm)

    assert pytest.approx(db, abs=0.2) == cost


def test_open_with_nothing_beyond_is_as_idle() -> None:
    """The series contacts part the pair from nothing: ohms and what the unit hears stay."""
    assert ohm("idle", TIP_RING) == ohm("open", TIP_RING)
    assert level_db("idle", HIGH) == level_db("open", HIGH)


# -- an office ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("loop_ohm", "milliampere"), [(1000.0, 34.29), (1500.0, 25.26), (1900.0, 20.87)]
)
def test_loop_current_of_an_office(loop_ohm: float, milliampere: float) -> None:
    """48 V through twice 200 ohm: 20.87 mA are left over 1900 ohm, near the least there may be.

    Source of the 48 V, and of the least, 20 mA: 83 Ill. Adm. Code 730.525; the 200 ohm from memory.
    """
    office = Equipment(equipment="office").parts("tip", "ring", "sheath")
    volt = Mesh((0.0,), (*office, Resistor("tip", "ring", loop_ohm))).volt("tip", "ring")

    assert volt is not None
    assert pytest.approx(milliampere, abs=0.005) == volt / loop_ohm * 1e3


@pytest.mark.parametrize(("hz", "value"), [(1004.0, 903.0), (20.0, 3792.5)])
def test_impedance_of_an_office(hz: float, value: float) -> None:
    """900 ohm and 2.16 uF (from memory): 903 ohm at 1004 Hz, 3793 at 20, by arithmetic."""
    office = Equipment(equipment="office").parts("tip", "ring", "sheath")
    (seen,) = Mesh((hz,), office).ohm("tip", "ring")

    assert seen is not None
    assert pytest.approx(value, abs=0.5) == abs(seen)
