"""The insulation tester: the arithmetic of the rules, the climb, and what it refuses."""

from dataclasses import replace

import pytest

from line_model.meters.meter import Meter
from line_model.meters.profile import Insulation
from line_model.parts import Capacitor, Knee, Resistor, Source
from line_model.route import route
from line_model.spell import Spell, Topologies
from line_model.troubles import Induction, Leak
from tests.line_model.circuits import bare
from tests.line_model.meters.rig import reading, settled, shipped

MILE_M = 1609.344


def insulation() -> Insulation:
    profile = shipped("insulation")
    assert isinstance(profile, Insulation)
    return profile


@pytest.mark.outside
@pytest.mark.parametrize(
    ("length_m", "megohm"), [(2 * MILE_M, 250.0), (304.8, 2641.0), (805.0, 1000.0)]
)
def test_reading_times_length_is_what_the_rule_asks(length_m: float, megohm: float) -> None:
    """805 megohm km, 500 megohm miles, read 250 megohm over 2 miles and 2641 over 1000 ft.

    Source: 7 CFR 1755.403(c)(4)(i) to (iv).
    """
    way = route(bare(length_m, insulation_megohm_km=805.0), (), 0)
    came = settled(insulation(), "tip-sheath", way.parts)

    assert pytest.approx(megohm * 1e6, rel=1e-3) == came.value


def test_it_climbs_while_the_pair_charges() -> None:
    """The first look of the climb is far below, the last within accuracy of the end."""
    way = route(bare(3000.0, insulation_megohm_km=805.0), (), 0)
    came, took_us = reading(insulation(), "tip-sheath", way.parts)
    early = dict(came.more)["early_ohm"]

    assert came.settled
    assert came.value is not None
    assert isinstance(early, float)
    assert early < came.value / 4
    assert pytest.approx(268e6, rel=0.03) == came.value
    assert took_us == 22_000_000


def test_read_too_soon_it_is_wrong_by_what_is_still_charging() -> None:
    """5 uF behind a megohm, read from 2 to 2.2 s after: v / E is 1 - exp(-t / RC), and no end."""
    hasty = replace(insulation(), cycle=replace(insulation().cycle, settle_s=2.0, sample_s=0.2))
    parts = (Capacitor("tip", "sheath", 5e-6), Resistor("ring", "sheath", 1.0))
    came, _ = reading(hasty, "tip-sheath", parts)

    # the mean of 1 - exp(-t / 5 s) from 2 to 2.2 s is 0.3429; behind a megohm that reads
    assert not came.settled
    assert pytest.approx(1e6 * 0.3429 / (1 - 0.3429), rel=2e-3) == came.value


def test_it_discharges_what_it_charged() -> None:
    """Behind the reading the pair stands near nought again, and not at 250 V."""
    profile = insulation()
    parts = (Capacitor("tip", "sheath", 200e-9), Resistor("tip", "sheath", 1e12))
    shown, _ = reading(profile, "tip-sheath", parts)
    kept_s = 200e-9 * profile.discharge_ohm

    assert shown.over
    assert profile.cycle.discharge_s > 100 * kept_s


def test_no_voltage_of_its_own_stays_on_the_pair() -> None:
    """Once it has read, left clipped, it is the voltmeter that it was; so are swing and bridge."""
    for name, across in (
        ("insulation", "tip-ring"),
        ("swing", "tip-ring"),
        ("bridge", "bad=tip good=ring"),
    ):
        meter = Meter(name, shipped(name), 0.0)
        meter.clip(across)
        before, now_us = meter.parts(), 0
        meter.start(0)
        while meter.deadline_us is not None:
            wired = (Resistor("tip", "ring", 500.0), Resistor("tip", "sheath", 1e4), *meter.parts())
            spell = Spell.begin(wired, now_us, {}, Topologies("sheath"))
            if meter.attends:
                meter.take(spell, now_us, meter.deadline_us)
            now_us = meter.deadline_us
            meter.wake(now_us, spell)
        assert before == meter.parts()


def test_foreign_voltage_is_told_and_not_tested() -> None:
    """With 50 V on the leg it says so, and its own voltage never goes on."""
    parts = (Source("tip", "sheath", -50.0, 5e3), Resistor("ring", "sheath", 1.0))
    came, took_us = reading(insulation(), "tip-sheath", parts)

    assert (came.value, came.shown) == (None, "foreign voltage")
    assert took_us < 5_000_000


def test_hum_and_ringing_are_foreign_voltage_too() -> None:
    """60 V induced stand at half that to the sheath: alternating volts count as direct ones do."""
    strong, weak = (
        reading(
            insulation(),
            "tip-sheath",
            route(bare(2000.0), (Induction(kind="induction", rms_volt=volt),), 0).parts,
        )[0]
        for volt in (60.0, 20.0)
    )

    assert (strong.value, strong.shown) == (None, "foreign voltage")
    assert pytest.approx(30.0, rel=0.02) == dict(strong.more)["foreign_volt"]
    assert weak.value is not None


def test_full_scale() -> None:
    """Ten gigohm are read, more is over."""
    shown = [
        settled(insulation(), "tip-sheath", (Resistor("tip", "sheath", ohm),))
        for ohm in (9.0e9, 20e9)
    ]
    assert [came.over for came in shown] == [False, True]


def test_a_surge_protector_reads_as_a_leak() -> None:
    """What conducts above 200 V looks like a leak of a few megohm, and none at 1.5 V."""
    knee = (Knee("tip", "ring", 100e3, 200.0), Resistor("ring", "sheath", 1e9))
    leaky, fine = (settled(shipped(name), "tip-ring", knee) for name in ("insulation", "ohms"))
    # 50 V over the knee drive 45 uA through 1.1 megohm: 204.5 V / 45.5 uA
    assert pytest.approx(204.545 / 45.4545e-6, rel=1e-3) == leaky.value
    assert fine.over


def test_clean_at_ten_volts_bad_at_the_test_voltage() -> None:
    """A leak that breaks down at 150 V: the ohmmeter passes it, the tester does not."""
    trouble = Leak(
        kind="leak", between=("tip", "sheath"), at_m=500.0, ohm=50e3, breakdown_volt=150.0
    )
    way = route(bare(1000.0), (trouble,), 0)
    ohms, tested = (
        settled(shipped(name), "tip-sheath", way.parts) for name in ("ohms", "insulation")
    )

    assert ohms.over
    assert tested.value is not None
    assert tested.value < 10e6
