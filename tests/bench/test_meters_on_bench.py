"""Meters of every kind on the bench: real keys, a real strap, and time in any slices."""

import random
from dataclasses import replace
from pathlib import Path

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.bench.places_m import places_m
from farend_sim.files import load_meter, load_situation
from farend_sim.hold_lab.on_pair.profiles import timed
from farend_sim.situation import Situation
from line_model.meters.cycle import Reading
from line_model.meters.profile import Bridge
from line_model.plant import Plant, Section
from line_model.troubles import Leak
from line_model.worksheet.record import leg_ohms
from tests.bench.play import dial
from tests.line_model.added_up import up_to

BAD_TIP = "bad=tip good=ring"
METERS = {
    "bridge": BAD_TIP,
    "insulation": "tip-sheath",
    "swing": "tip-ring",
    "capacitance-quick": "tip-sheath",
    "noise": "tip-ring",
    "level": "tip-ring",
}


def on_plant(situation: Situation, plant: Plant, *troubles: Leak) -> Situation:
    """A situation on another plant, with every meter at hand."""
    meters = {name: load_meter(name, Path()) for name in METERS}
    scenario = replace(situation.scenario, plant=plant, trouble=troubles, record=None)
    return replace(situation, scenario=scenario, meters={**situation.meters, **meters})


def strapped(situation: Situation) -> Bench:
    """A bench on which the strap has been dialled and is on."""
    bench = Bench(situation)
    for keys in ("#*27", "18*"):
        dial(bench, keys)
    assert bench.unit.state.value == "strap"
    return bench


def bridged(bench: Bench) -> Reading:
    bench.clip_meter("bridge", BAD_TIP)
    assert bench.meter is not None
    bench.meter.zero()
    bench.start_reading()
    return bench.finish_reading()


@pytest.mark.parametrize("number", range(6))
def test_the_bridge_drill_from_end_to_end(good_pair: Situation, number: int) -> None:
    """Keys, strap and bridge on a random plant: ohms and metres within the stated accuracy."""
    rng = random.Random(number)
    gauge_awg, length_m = rng.choice((22, 24, 26)), rng.uniform(800.0, 4000.0)
    plant = Plant(
        section=(Section(gauge_awg=gauge_awg, length_m=length_m, unbalance_percent=0.0),),
        temperature_c=rng.uniform(-10.0, 40.0),
    )
    at_m = rng.uniform(0.05, 0.95) * length_m
    leak = Leak(kind="leak", between=("tip", "sheath"), at_m=at_m, ohm=10 ** rng.uniform(3, 5.3))
    bench = strapped(on_plant(good_pair, plant, leak))
    reading = bridged(bench)
    profile = load_meter("bridge", Path())
    assert isinstance(profile, Bridge)
    within_ohm = profile.within(reading)
    per_m = up_to(leg_ohms(plant), 1.0)

    assert reading.settled
    assert reading.value is not None
    assert abs(reading.value - up_to(leg_ohms(plant), at_m)) <= within_ohm
    assert abs(places_m(reading, bench)["trouble_m"] - at_m) <= within_ohm / per_m


def leaky(good_pair: Situation) -> Situation:
    plant = Plant(section=(Section(gauge_awg=24, length_m=2400.0, unbalance_percent=0.0),))
    leak = Leak(kind="leak", between=("tip", "sheath"), at_m=1000.0, ohm=40e3)
    return on_plant(good_pair, plant, leak)


def test_a_hold_that_ends_in_mid_balance(good_pair: Situation) -> None:
    """Pressed so late that the hold lets go while it seeks: no place comes of it."""
    bench = strapped(leaky(good_pair))
    ends_us = bench.unit.hold_deadline_us
    assert ends_us is not None
    bench.advance_to(ends_us - 25_000_000)
    reading = bridged(bench)

    assert (reading.value, reading.shown, reading.settled) == (None, "no loop", False)


@pytest.mark.parametrize("name", METERS)
def test_slicing_time_changes_no_reading(good_pair: Situation, name: str) -> None:
    """In slices of 40 ms, as a screen has them, a meter reads the same as in one go."""
    readings = []
    for slice_us in (None, 40_000, 7_777):
        bench = strapped(leaky(good_pair))
        bench.clip_meter(name, METERS[name])
        bench.start_reading()
        while slice_us and bench.meter and bench.meter.deadline_us is not None:
            bench.advance_to(bench.now_us + slice_us)
        assert bench.meter is not None
        readings.append(bench.meter.reading or bench.finish_reading())

    assert readings[0] == readings[1] == readings[2]


@pytest.mark.parametrize(
    ("meter", "times"), [("bridge", "bridge-timed"), ("bridge-slow", "bridge-slow-timed")]
)
def test_hold_lab_agrees_with_its_own_timings(tmp_path: Path, meter: str, times: str) -> None:
    """A bridge played on a leak takes as long as the lab's file of timings says, within a sixth."""
    plant = tmp_path / "leaky.toml"
    plant.write_text(
        "format = 1\nseed = 4\n[[plant.section]]\ngauge_awg = 24\nlength_m = 2900.0\n"
        '[[trouble]]\nkind = "leak"\nbetween = ["tip", "sheath"]\nat_m = 1325.0\nohm = 40e3\n',
        encoding="utf-8",
    )
    situation = load_situation(plant)
    played, known = (timed(name, situation, "strap") for name in (meter, times))

    middle_s = played.law.median_s + played.law.shift_s
    assert pytest.approx(known.law.median_s, rel=1 / 6) == middle_s


def test_what_a_meter_cannot_do_is_refused(good_pair: Situation) -> None:
    """A bridge across two terminals, a voltmeter on bad and good: told why, and the run goes on."""
    profiles = {name: load_meter(name, Path()) for name in ("bridge", "volts")}

    assert "bad=tip good=ring" in (profiles["bridge"].refuses("tip-ring") or "")
    assert "tip-ring" in (profiles["volts"].refuses(BAD_TIP) or "")
    assert [profiles["bridge"].refuses(BAD_TIP), profiles["volts"].refuses("tip-ring")] == [
        None,
        None,
    ]


TALK = """format = 1
seed = 3
meters = ["noise"]
[beyond]
equipment = "quiet"
[[plant.section]]
gauge_awg = 24
length_m = 2000.0
[[plant.neighbour]]
name = "inn"
state = "{state}"
[[trouble]]
kind = "split"
conductor = "ring"
from_m = 400.0
to_m = 900.0
neighbour = "inn"
"""


def test_talk_over_a_split_is_noise(tmp_path: Path) -> None:
    """Half a kilometre of split beside a pair in use: 17 dBrnC become some 30."""
    values = []
    for state in ("quiet", "talking"):
        file = tmp_path / f"{state}.toml"
        file.write_text(TALK.format(state=state), encoding="utf-8")
        bench = Bench(load_situation(file))
        bench.clip_meter("noise", "tip-ring")
        bench.start_reading()
        values.append(bench.finish_reading().value)

    # -70 dBm of white noise over 4 kHz are 20 dBrn, and C-weighted 2.9 dB less
    assert values[0] == pytest.approx(17.1, abs=0.6)
    assert values[1] == pytest.approx(30.0, abs=2.0)


def test_the_units_tone_has_a_level(good_pair: Situation) -> None:
    """A tone with gaps reads as loud as its bursts: looks are shorter, the loudest is shown."""
    plant = Plant(section=(Section(gauge_awg=24, length_m=2400.0),))
    bench = Bench(on_plant(good_pair, plant))
    for keys in ("#*27", "63*"):
        dial(bench, keys)
    found = []
    for wait_us in (0, 230_000, 610_000):
        bench.advance_to(bench.now_us + wait_us)
        bench.clip_meter("level", "tip-ring")
        bench.start_reading()
        found.append(bench.finish_reading().value)

    assert found[0] is not None
    assert found == pytest.approx([found[0]] * 3, abs=0.05)
