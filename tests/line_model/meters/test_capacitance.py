"""The capacitance meter: what an open line shows against frequency, and what spoils it."""

from dataclasses import replace
from math import pi

import pytest

from line_model.cable import per_metre
from line_model.meters.profile import Capacitance
from line_model.parts import Capacitor, Resistor
from line_model.plant import Plant
from line_model.route import route
from line_model.troubles import Induction, Series
from line_model.worksheet.farads import OpenPair
from tests.line_model.circuits import bare
from tests.line_model.meters.rig import reading, settled, shipped


def meter(test_hz: float = 25.0) -> Capacitance:
    profile = shipped("capacitance")
    assert isinstance(profile, Capacitance)
    return replace(profile, test_hz=test_hz)


@pytest.mark.parametrize("nf", [1.0, 15.72, 155.0, 1200.0])
def test_a_capacitor(nf: float) -> None:
    """A capacitor alone reads itself, on the range that it takes, without loss."""
    came = settled(meter(), "tip-ring", (Capacitor("tip", "ring", nf * 1e-9),))

    assert pytest.approx(nf, rel=1e-4) == came.value
    assert pytest.approx(0.0, abs=0.1) == dict(came.more)["loss_percent"]


def line_constants(plant: Plant) -> tuple[float, float]:
    """Loop ohms and mutual farads a metre."""
    per = per_metre(plant.section[0], 20.0, 0, "section 0")
    half = 1 / (1 / per.tip_sheath_farad + 1 / per.ring_sheath_farad)
    return per.tip_ohm + per.ring_ohm, per.tip_ring_farad + half


@pytest.mark.parametrize(
    ("length_m", "hz"), [(5000.0, 4.0), (5000.0, 20.0), (5000.0, 100.0), (10_000.0, 20.0)]
)
def test_an_open_line_shows_less_the_higher_the_frequency(length_m: float, hz: float) -> None:
    """C l (1 - 2/15 (w R C l2)2): the first terms of the telegrapher's equations for an RC line."""
    plant = bare(length_m)
    ohm, farad = line_constants(plant)
    came = settled(meter(hz), "tip-ring", route(plant, (), 0).parts)
    x = 2 * pi * hz * ohm * farad * length_m**2

    assert came.value is not None
    shown = came.value / (farad * length_m * 1e9)
    assert pytest.approx(1 - 2 / 15 * x**2, abs=3e-4 + x**4) == shown


def test_an_open_by_rate() -> None:
    """83 nF a mile: an open at 1500 ft reads 23.58 nF between the legs.

    Source of the rate: ICEA S-84-608 (from memory); the rest is arithmetic.
    """
    plant = bare(3000.0, mutual_nf_per_km=83 / 1.609344)
    opens = tuple(Series(kind="series", conductor=leg, at_m=457.2) for leg in ("tip", "ring"))
    came = settled(meter(), "tip-ring", route(plant, opens, 0).parts)

    assert pytest.approx(23.58, abs=0.05) == came.value


def test_one_open_leg_with_its_mate_grounded_is_found_by_the_record() -> None:
    """Ring open at 1500 m, tip grounded at this end: the worksheet's own place, within 2 m."""
    plant = bare(3000.0)
    trouble = Series(kind="series", conductor="ring", at_m=1500.0)
    came = settled(meter(), "ring-tip+sheath", route(plant, (trouble,), 0).parts)

    assert came.value is not None
    assert pytest.approx(1500.0, abs=2.0) == OpenPair(plant, "leg", 25.0).metres(came.value)


def test_a_leak_is_told_as_loss_and_then_spoils_it() -> None:
    """200 nF beside 100 kohm has 32 % of loss; beside 10 kohm there is no number any more."""
    some, much = (
        settled(
            meter(), "tip-ring", (Capacitor("tip", "ring", 200e-9), Resistor("tip", "ring", ohm))
        )
        for ohm in (100e3, 10e3)
    )
    loss = 100 / (2 * pi * 25.0 * 200e-9 * 100e3)

    assert pytest.approx(200.0, rel=1e-3) == some.value
    assert pytest.approx(loss, rel=1e-3) == dict(some.more)["loss_percent"]
    assert (much.value, much.shown) == (None, "too leaky")


def test_hum_disturbs_a_hasty_one_and_not_a_patient_one() -> None:
    """With 12 V induced the looks of whole turns stay steady; those of 0.155 s wander."""
    hum = Induction(kind="induction", rms_volt=12.0, hz=60.0)
    parts = route(bare(3000.0), (hum,), 0).parts
    patient, _ = reading(shipped("capacitance"), "tip-sheath", parts)
    hasty, _ = reading(shipped("capacitance-quick"), "tip-sheath", parts)
    quiet = settled(shipped("capacitance"), "tip-sheath", parts)

    assert (True, quiet.shown) == (patient.settled, patient.shown)
    assert ".." in hasty.shown
