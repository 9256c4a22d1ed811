"""Opens and bad joints, read on the exact network: back to the true place and leg, in the band."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from line_model.parts import Resistor
from line_model.plant import Plant, Tap
from line_model.troubles import Leg, Series, Trouble
from line_model.worksheet import both_ends, legs
from line_model.worksheet import open as by_farads
from line_model.worksheet.tolerance import Tolerance
from tests.line_model.circuits import nanofarad
from tests.line_model.worksheet.jobs import ERROR, Job, holds, jobs, read

HZ = 25.0
SHARP = Tolerance(farad_percent=0.1, farad_nf=0.01, capacitance_percent=0.5, uneven_percent=0.1)
"""The plant's capacitance is the record's, but for the unbalance of one leg."""


def shown_nf(true: float, error: float) -> float:
    """What a sharp meter shows: accuracy is a part of the reading; never under nothing."""
    return max((true + error * SHARP.farad_nf) / (1 - error * SHARP.farad_percent / 100), 0.0)


def both_open(at_m: float) -> tuple[Series, Series]:
    tip = Series(kind="series", conductor="tip", at_m=at_m)
    return tip, Series(kind="series", conductor="ring", at_m=at_m)


def with_taps(plant: Plant, tap: tuple[Tap, ...]) -> Plant:
    return Plant(section=plant.section, tap=tap, temperature_c=plant.temperature_c)


@given(jobs(), st.lists(st.integers(1, 999), max_size=2), ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_pair_by_capacitance(job: Job, taps: list[int], error: float) -> None:
    """Both legs open: cable and taps up to there, whatever the ohms."""
    length_m = job.record.length_m
    tap = tuple(Tap(gauge_awg=24, length_m=150.0, at_m=t / 1000 * length_m) for t in taps)
    job = Job(with_taps(job.record, tap), with_taps(job.plant, tap), job.at_m, job.seed)
    opens = both_open(job.at_m)
    reading = nanofarad(job.mesh(*opens, hz=HZ), "tip", "ring", HZ)
    reading = shown_nf(reading, error)

    assert holds(by_farads.locate(job.record, reading, "pair", HZ, tolerance=SHARP), job.at_m)


@given(jobs(), ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_leg_by_capacitance(job: Job, error: float) -> None:
    """One leg open, its mate grounded: the mate's own length does not matter."""
    cut = Series(kind="series", conductor="ring", at_m=job.at_m)
    mesh = job.mesh(cut, hz=HZ, joined=(Resistor("tip", "sheath", 0.01),))
    reading = nanofarad(mesh, "ring", "sheath", HZ)
    reading = shown_nf(reading, error)

    assert holds(by_farads.locate(job.record, reading, "leg", HZ, tolerance=SHARP), job.at_m)


@given(jobs(), ERROR, ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_pair_from_both_ends(job: Job, near_error: float, far_error: float) -> None:
    """The near share of both readings is the near share of the record."""
    opens = both_open(job.at_m)
    mesh = job.mesh(*opens, hz=HZ)
    tip, ring, _ = job.far(*opens)
    near, far = nanofarad(mesh, "tip", "ring", HZ), nanofarad(mesh, tip, ring, HZ)
    near, far = shown_nf(near, near_error), shown_nf(far, far_error)

    place = both_ends.locate_open(job.record, near, far, tolerance=SHARP)

    assert holds(place, job.at_m)


def three(
    job: Job, troubles: tuple[Trouble, ...], tr_error: float, tg_error: float, rg_error: float
) -> legs.Readings:
    tip, ring, sheath = job.far(*troubles)
    tied = (Resistor(tip, sheath, 0.1), Resistor(ring, sheath, 0.1))
    mesh = job.mesh(*troubles, joined=tied)
    return legs.Readings(
        tip_ring=read(mesh, "tip", "ring", tr_error),
        tip_ground=read(mesh, "tip", "sheath", tg_error),
        ring_ground=read(mesh, "ring", "sheath", rg_error),
    )


@given(jobs(), st.floats(20.0, 500.0), st.sampled_from(("tip", "ring")), ERROR, ERROR, ERROR)
@settings(max_examples=60, deadline=None)
def test_which_leg_and_how_many_ohms(
    job: Job, joint_ohm: float, leg: Leg, tr_error: float, tg_error: float, rg_error: float
) -> None:
    """A bad joint is in the leg that is named, with its ohms; a good pair has none.

    One that unbalance and accuracy may hide is not named, and the wrong leg never is.
    """
    joint = Series(
        kind="series", conductor="tip" if leg == "tip" else "ring", at_m=job.at_m, ohm=joint_ohm
    )
    answer = legs.locate(job.record, three(job, (joint,), tr_error, tg_error, rg_error), 0.1)
    good = legs.locate(job.record, three(job, (), tr_error, tg_error, rg_error), 0.1)

    off_ohm = answer.difference_off_ohm + answer.allowed_ohm
    assert leg == answer.high_leg or (joint_ohm < 2 * off_ohm and answer.high_leg is None)
    assert pytest.approx(joint_ohm, abs=off_ohm) == abs(answer.difference_ohm)
    assert good.high_leg is None
    assert holds(answer.tie, job.record.length_m)
