"""A kick and a charge against ngspice: the pair as a ladder, the needle as two integrators."""

from dataclasses import replace
from math import pi
from pathlib import Path

import pytest

from line_model.meters.profile import Insulation, Swing
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.troubles import Leak, Trouble
from tests.line_model.meters.rig import reading, shipped
from tests.oracles import ngspice
from tests.oracles.ladder import Ladder

pytestmark = pytest.mark.outside

PLANT = Plant(
    section=(
        Section(gauge_awg=24, length_m=1500.0, absorption_percent=0.0),
        Section(gauge_awg=26, length_m=1200.0, absorption_percent=0.0),
    )
)
TROUBLES: dict[str, tuple[Trouble, ...]] = {
    "good": (),
    "leak": (Leak(kind="leak", between=("tip", "ring"), at_m=900.0, ohm=200e3),),
}


def ladder(name: str) -> Ladder:
    return Ladder(PLANT, TROUBLES[name], lumps_per_km=10, inductance=False)


@pytest.mark.parametrize("name", TROUBLES)
def test_the_kick_and_the_rest(name: str, tmp_path: Path) -> None:
    """First kick, kick on reversal and rest, within half a percent of full scale."""
    swing = shipped("swing")
    assert isinstance(swing, Swing)
    volt, free = swing.battery_volt, 2 * pi / swing.period_s
    turn_s = swing.cycle.settle_s
    circuit = ladder(name)
    ohm = swing.coil_ohm + 2 * swing.lead_ohm
    deflection = f"100 * v(key) * (v(src) - v(neartip,nearring)) / {volt}"
    cards = [
        str(circuit),
        f"vsrc src nearring pwl(0 0 1u {volt} {turn_s} {volt} {turn_s + 1e-6} {-volt})",
        f"vkey key 0 pwl(0 1 {turn_s} 1 {turn_s + 1e-6} -1)",
        f"rcoil src neartip {ohm}",
        "cat at 0 1",
        "bat 0 at i=v(speed)",
        "cspeed speed 0 1",
        f"bspeed 0 speed i={free**2} * ({deflection.replace('v(src)', 'v(src,nearring)')} - v(at))"
        f" - {2 * swing.damping * free} * v(speed)",
    ]
    commands = [
        "tran 5m 7 0 5m uic",
        f"meas tran first max v(at) from=0 to={turn_s}",
        f"meas tran kick max v(at) from={turn_s} to=7",
        "let a = first",
        "let b = kick",
        "let c = v(at)[length(v(at)) - 1]",
        "print a",
        "print b",
        "print c",
    ]
    told = ngspice.run([("\n".join(cards), commands)], tmp_path)
    came, _ = reading(swing, "tip-ring", route(PLANT, TROUBLES[name], 0).parts)
    more = dict(came.more)

    assert came.value is not None
    ours = (more["first_kick_division"], came.value, more["rest_division"])
    assert ours == pytest.approx([each.real for each in told[-3:]], abs=0.5)


def test_charging_at_the_test_voltage(tmp_path: Path) -> None:
    """The volts that a megohm's reading is made of, early and late, within 0.1 % of 250 V."""
    tester = shipped("insulation")
    assert isinstance(tester, Insulation)
    circuit = ladder("good")
    cards = "\n".join(
        (
            str(circuit),
            f"vtest src 0 pwl(0 0 1u {tester.test_volt})",
            f"rtest src neartip {tester.limit_ohm}",
        )
    )
    moments_s = (0.4, 0.8, 1.6, 3.0)
    commands = ["tran 1m 3.2 0 1m uic"]
    for i, at_s in enumerate(moments_s):
        commands += [f"meas tran m{i} find v(neartip) at={at_s}", f"let v{i} = m{i}", f"print v{i}"]
    told = ngspice.run([(cards, commands)], tmp_path)
    parts = route(PLANT, (), 0).parts
    for at_s, volt in zip(moments_s, told[-len(moments_s) :], strict=True):
        cycle = replace(tester.cycle, settle_s=at_s - 0.005, sample_s=0.01, looks=1)
        came, _ = reading(replace(tester, cycle=cycle, accuracy_counts=0), "tip-sheath", parts)
        assert came.value is not None
        ours = tester.test_volt * came.value / (came.value + tester.limit_ohm)
        assert ours == pytest.approx(volt.real, abs=1e-3 * tester.test_volt)
