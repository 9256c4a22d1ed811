"""The law at rest and the meter in time: one cycle, and where it settles they agree."""

import pytest

from line_model.meters.cycle import Reading
from line_model.meters.settled import Joins, came_at_rest
from line_model.parts import Resistor
from line_model.route import route
from line_model.troubles import Battery, Induction, Leak
from tests.line_model.circuits import bare, strapped
from tests.line_model.meters.rig import reading, settled, shipped

LEAK = Leak(kind="leak", between=("tip", "sheath"), at_m=700.0, ohm=60e3)
CROSS = Battery(kind="battery", conductor="ring", at_m=300.0, volt=-4.0, ohm=20e3)
CASES = [
    ("ohms", "tip-sheath"),
    ("ohms", "sheath-tip"),
    ("volts", "tip-ring"),
    ("volts", "tip+ring-sheath"),
    ("ac-volts", "tip-sheath"),
    ("insulation", "tip-sheath"),
    ("swing", "tip-ring"),
    ("swing", "ring-sheath"),
    ("capacitance", "ring-tip+sheath"),
    ("bridge", "bad=tip good=ring"),
    ("bridge-slow", "bad=tip good=ring"),
]


@pytest.mark.parametrize(("name", "across"), CASES)
def test_time_comes_to_rest(name: str, across: str) -> None:
    """A patient reading of a leak is the reading at rest, within the meter's stated accuracy."""
    profile = shipped(name)
    parts = strapped(route(bare(2000.0), (LEAK,), 0)) if "=" in across else None
    circuit = parts or route(bare(2000.0), (LEAK,), 0).parts
    in_time, _ = reading(profile, across, circuit)
    at_rest = settled(profile, across, circuit)

    assert at_rest.value is not None
    assert in_time.value is not None
    of = Reading("", across, at_rest.value, profile.UNIT, False, "", True, at_rest.more)
    assert abs(in_time.value - at_rest.value) <= profile.within(of)


def test_a_cross_is_the_same_at_rest_and_in_time() -> None:
    """Foreign battery, both ways round: the same nonsense."""
    circuit = route(bare(2000.0), (LEAK, CROSS), 0).parts
    for across in ("ring-sheath", "sheath-ring"):
        in_time, _ = reading(shipped("ohms"), across, circuit)
        assert settled(shipped("ohms"), across, circuit).value == pytest.approx(in_time.value)


def test_hum_is_the_same_at_rest_and_in_time() -> None:
    """What alternates by itself stands on a circuit at rest too."""
    circuit = route(bare(2000.0), (Induction(kind="induction", rms_volt=12.0),), 0).parts
    in_time, _ = reading(shipped("ac-volts"), "tip-sheath", circuit)
    at_rest = settled(shipped("ac-volts"), "tip-sheath", circuit).value

    assert at_rest is not None
    assert at_rest > 1.0
    assert pytest.approx(at_rest) == in_time.value


def test_what_has_no_value() -> None:
    """Over range there is no number, nor where words stand in its place."""
    parts = route(bare(2000.0), (), 0).parts
    over, words = (
        settled(shipped(name), across, parts)
        for name, across in (("ohms", "tip-ring"), ("bridge", "bad=tip good=ring"))
    )
    assert [(came.value, came.over) for came in (over, words)] == [(None, True), (None, False)]


def test_a_perfect_instrument_has_bare_leads() -> None:
    """Nothing said, the leads are in the reading, as on an instrument that was not zeroed."""
    join = Joins((Resistor("tip", "ring", 100.0), Resistor("ring", "sheath", 1.0)))

    assert pytest.approx(100.5) == came_at_rest(shipped("ohms"), "tip-ring", join).value
