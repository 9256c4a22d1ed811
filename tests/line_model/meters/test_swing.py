"""The swing meter: its kick follows the charge and doubles on reversal; a ringer dwarfs a cable."""

from math import atan2, exp, pi, sqrt

import pytest

from line_model.equipment import Equipment
from line_model.meters.profile import Swing
from line_model.parts import Capacitor, Resistor
from line_model.route import route
from line_model.troubles import Leak, Series
from tests.line_model.circuits import bare
from tests.line_model.meters.rig import reading, settled, shipped


def swing() -> Swing:
    profile = shipped("swing")
    assert isinstance(profile, Swing)
    return profile


def figure(came_more: tuple[tuple[str, object], ...], key: str) -> float:
    value = dict(came_more)[key]
    assert isinstance(value, float)
    return value


@pytest.mark.parametrize("nf", [50.0, 155.0, 400.0])
def test_the_kick_doubles_on_reversal(nf: float) -> None:
    """Battery put on moves C E, the key reversed moves 2 C E: twice the kick."""
    parts = (Capacitor("tip", "ring", nf * 1e-9), Resistor("ring", "sheath", 1.0))
    came, _ = reading(swing(), "tip-ring", parts)

    assert came.value is not None
    assert pytest.approx(2.0, rel=2e-3) == came.value / figure(came.more, "first_kick_division")
    assert came.settled


def test_the_kick_follows_the_charge() -> None:
    """Thrice the capacitance, thrice the kick, as long as it charges well within a period."""
    kicks = []
    for nf in (50.0, 150.0):
        came, _ = reading(swing(), "tip-ring", (Capacitor("tip", "ring", nf * 1e-9),))
        kicks.append(came.value)

    assert kicks[0] is not None
    assert kicks[1] is not None
    assert pytest.approx(3.0, rel=0.01) == kicks[1] / kicks[0]


def test_legs_are_compared() -> None:
    """Ring open at 1500 of 3000 m kicks half as far as tip: the open is halfway."""
    trouble = Series(kind="series", conductor="ring", at_m=1500.0)
    way = route(bare(3000.0), (trouble,), 0)
    tip, ring = (reading(swing(), f"{leg}-sheath", way.parts)[0] for leg in ("tip", "ring"))

    assert tip.value is not None
    assert ring.value is not None
    # the whole mate lies beside the one, and half of it beside the other
    assert 0.45 < ring.value / tip.value < 0.55


def test_a_ringer_dwarfs_the_cable() -> None:
    """A telephone's half microfarad kicks three times as far as 3 km of pair."""
    way = route(bare(3000.0), (), 0)
    phone = Equipment(equipment="telephone").parts(*way.far)
    alone, _ = reading(swing(), "tip-ring", way.parts)
    both, _ = reading(swing(), "tip-ring", (*way.parts, *phone))

    assert alone.value is not None
    assert both.value is not None
    assert 3.0 < both.value / alone.value < 5.0


def test_a_leak_holds_the_needle_up() -> None:
    """40 kohm behind 100 kohm rest at 71.4 divisions, which reads 40 kohm again."""
    leak = Leak(kind="leak", between=("tip", "ring"), at_m=1000.0, ohm=40e3)
    way = route(bare(2000.0), (leak,), 0)
    came, _ = reading(swing(), "tip-ring", way.parts)

    assert pytest.approx(71.4, abs=0.2) == figure(came.more, "rest_division")
    assert pytest.approx(40e3, rel=0.01) == figure(came.more, "rest_ohm")


def test_a_short_holds_it_at_full_scale() -> None:
    """The battery throws it past the end; it rests at 100, and a reversal does not move it."""
    came, _ = reading(swing(), "tip-ring", (Resistor("tip", "ring", 1.0),))

    assert came.shown == "100.0"
    assert figure(came.more, "first_kick_division") > 120


def test_four_microfarad_throw_it_off_the_scale() -> None:
    """More charge than the scale has divisions for."""
    came, _ = reading(swing(), "tip-ring", (Capacitor("tip", "ring", 4e-6),))

    assert (came.value, came.over, came.shown) == (None, True, "off the scale")


def test_at_rest_it_foretells_the_kick() -> None:
    """The law at rest knows the charge that is to come: within a hundredth of the kick in time."""
    way = route(bare(2500.0), (), 0)
    came, _ = reading(swing(), "tip-ring", way.parts)

    assert pytest.approx(came.value, rel=0.01) == settled(swing(), "tip-ring", way.parts).value


def test_the_kick_is_the_ballistic_throw() -> None:
    """2 C E through the coil, short beside the period: the closed form, within a fiftieth."""
    profile = swing()
    came, _ = reading(profile, "tip-ring", (Capacitor("tip", "ring", 20e-9),))
    root = sqrt(1 - profile.damping**2)
    area = 100.0 * 2 * 20e-9 * profile.coil_ohm
    free = 2 * pi / profile.period_s
    throw = area * free * exp(-profile.damping / root * atan2(root, profile.damping))

    assert came.value is not None
    assert pytest.approx(throw, rel=0.02) == came.value
