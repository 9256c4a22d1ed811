"""Faults of the unit, put in and taken out: what a technician then meets."""

from dataclasses import replace

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.bench.levels import ReceiverLevel
from farend_sim.bench.pair.along import along
from farend_sim.files import load_situation
from farend_sim.unit.contacts import REST, Contact
from farend_sim.unit.table import State
from farend_sim.unit_faults import FAULTS, Fault
from tests.bench.play import CODES, SCENARIOS, rows


def bench_with(*faults: Fault) -> Bench:
    """A good pair whose unit has these faults from the start."""
    situation = load_situation(SCENARIOS / "good-pair.toml")
    return Bench(replace(situation, scenario=replace(situation.scenario, unit_faults=faults)))


def strap(bench: Bench) -> list[str]:
    """Knock, ask for the strap, and say what was heard."""
    start_us = bench.now_us
    for keys in ("#*27", f"{CODES['strap']}*"):
        bench.press(keys)
        bench.advance_to(bench.now_us + 2_500_000)
    return [one.what for one in bench.hears(start_us) if one.what != "click"]


def until(bench: Bench, strapped: bool) -> int:
    """Go on until the strap's contact is so, and say when that is, to 10 ms [us]."""
    while strapped != (Contact.STRAP in bench.unit.closed):
        bench.advance_to(bench.now_us + 10_000)
    return bench.now_us


def test_without_a_fault_nothing_is_worn() -> None:
    """Every fault put in and taken out again leaves the unit as it was."""
    bench = bench_with()
    for fault in FAULTS:
        bench.set_fault(fault, True)
        bench.set_fault(fault, False)
    plain = bench_with()

    assert strap(bench) == strap(plain) == ["reply", "reply"]
    assert bench.snapshot() == plain.snapshot()


@pytest.mark.parametrize(("fault", "percent"), [("clock-fast", 150), ("clock-slow", 67)])
def test_a_timer_that_is_off(fault: Fault, percent: int) -> None:
    """A hold of 60 s is shorter or longer by just what the timer is off."""
    bench = bench_with(fault)
    bench.press(f"#*27{CODES['strap']}*")
    began_us = until(bench, strapped=True)
    assert bench.unit.hold_deadline_us is not None
    bench.advance_to(bench.unit.hold_deadline_us - 100_000)
    ended_us = until(bench, strapped=False)

    assert ended_us - began_us == pytest.approx(60e6 * 100 / percent, abs=20_000)


def test_a_low_battery_answers_and_does_nothing() -> None:
    """It accepts, and dies as the contact is to pull in; a fresh one brings it back."""
    bench = bench_with("battery-low")

    assert strap(bench) == ["reply", "reply"]
    assert (bench.unit.state, bench.unit.closed) == (State.UNPOWERED, REST)
    bench.set_fault("battery-low", False)
    assert bench.unit.state is State.IDLE
    assert strap(bench) == ["reply", "reply"]
    assert Contact.STRAP in bench.unit.closed


def test_a_contact_that_sticks() -> None:
    """The unit says that the hold is over, and the pair is strapped still."""
    bench = bench_with("sticking")
    strap(bench)
    bench.clip_meter("ohms", "tip-ring")
    bench.advance_to(70_000_000)
    bench.start_reading()

    assert (bench.unit.state, bench.finish_reading().over) == (State.IDLE, False)
    bench.set_fault("sticking", False)
    bench.start_reading()
    assert bench.finish_reading().over


@pytest.mark.parametrize("fault", ["deaf", "lead-off"])
def test_a_unit_that_hears_nothing(fault: Fault) -> None:
    """Nothing comes back, and the receiver's own refusal is the reason."""
    bench = bench_with(fault)

    assert strap(bench) == []
    assert not ReceiverLevel().now(bench).hears
    bench.set_fault(fault, False)
    assert ReceiverLevel().now(bench).hears
    assert strap(bench) == ["reply", "reply"]


def test_a_fault_as_a_step() -> None:
    """A step puts it in; what is so already is refused."""
    told = rows("good-pair", "fault deaf on\nfault deaf on\nkeys #*27\nlisten 2\n")

    assert [row.get("refused") for row in told] == [None, "it is so already", None, None]
    assert told[-1]["heard"] == []


def test_volts_along_a_strapped_pair() -> None:
    """With a meter's battery on it, a strap's voltage falls evenly to nothing at the far end."""
    bench = bench_with()
    strap(bench)
    bench.clip_meter("ohms", "tip-ring")
    bench.start_reading()
    bench.advance_to(bench.now_us + 2_000_000)
    places = along(bench.pair.route, bench.pair.spell, bench.now_us)
    between = [
        place.tip_volt - place.ring_volt
        for place in places
        if place.tip_volt is not None and place.ring_volt is not None
    ]

    assert [place.at_m for place in places] == [0.0, 1840.0, 2460.0]
    assert between[0] > between[1] > between[2] > 0
    assert between[2] < between[0] / 1000
