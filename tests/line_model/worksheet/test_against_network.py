"""Readings computed by the exact network come back to the true place, within the band.

The record and the plant differ as far as the tolerances allow: copper as built, temperature, the
legs against each other; every reading is off by as much as its meter may be.
"""

from dataclasses import dataclass, replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Part, Resistor
from line_model.plant import Plant, Section, Tap
from line_model.route import NEAR, route
from line_model.troubles import Leak, Leg, Series, Trouble
from line_model.worksheet import both_ends, bridge, legs, loop, shunt
from line_model.worksheet import open as by_farads
from line_model.worksheet.band import Place
from line_model.worksheet.record import leg_ohms, warmed
from line_model.worksheet.tolerance import Tolerance

OF = Tolerance()
STRAP_OHM = 0.1
RECORD_LAY = 6.0
LAYS = st.floats(1.0, 11.0)
"""Copper as built against the record: 1.01 / 1.06 to 1.11 / 1.06, within 5 percent."""
ERROR = st.sampled_from((-1.0, 1.0)) | st.floats(-1.0, 1.0)
"""Of what a meter's accuracy allows."""
LEAK_ERROR = st.sampled_from((-0.85, 0.85)) | st.floats(-0.85, 0.85)
"""The cable's own insulation leaks too: beside 50 kohm it moves a balance by up to 1e-4, and beside
kilohms across the pair a reading by some of its accuracy."""


@dataclass(frozen=True)
class Job:
    """What a technician has: a record, and a plant that is not quite it."""

    record: Plant
    plant: Plant
    at_m: float
    seed: int

    def mesh(self, *troubles: Trouble, hz: float = 0.0, joined: tuple[Part, ...] = ()) -> Mesh:
        return Mesh([hz], (*route(self.plant, troubles, self.seed).parts, *joined))

    def far(self, *troubles: Trouble) -> tuple[str, str, str]:
        return route(self.plant, troubles, self.seed).far

    def strap(self, *troubles: Trouble) -> Resistor:
        tip, ring, _ = self.far(*troubles)
        return Resistor(tip, ring, STRAP_OHM)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    gauges = draw(st.lists(st.sampled_from((19, 22, 24, 26)), min_size=1, max_size=3))
    record = Plant(
        section=tuple(
            Section(
                gauge_awg=gauge,
                length_m=float(draw(st.integers(100, 2000))),
                lay_percent=RECORD_LAY,
                temperature_c=draw(st.none() | st.floats(-20.0, 40.0)),
            )
            for gauge in gauges
        )
    )
    lay = draw(LAYS)
    built = tuple(
        Section(
            gauge_awg=each.gauge_awg,
            length_m=each.length_m,
            lay_percent=lay,
            temperature_c=each.temperature_c,
        )
        for each in record.section
    )
    plant = warmed(Plant(section=built), draw(st.floats(-5.0, 5.0)))
    at_m = draw(st.integers(0, 1000)) / 1000 * record.length_m
    return Job(record, plant, at_m, draw(st.integers(0, 99)))


def across(ohm: float, at_m: float) -> Leak:
    return Leak(kind="leak", between=("tip", "ring"), at_m=at_m, ohm=ohm)


def to_sheath(ohm: float, at_m: float, leg: Leg = "tip") -> Leak:
    return Leak(
        kind="leak", between=("tip" if leg == "tip" else "ring", "sheath"), at_m=at_m, ohm=ohm
    )


def read(mesh: Mesh, a: str, b: str, error: float = 0.0) -> float:
    """What an ohmmeter reads across two nodes, as wrong as it may be."""
    (ohm,) = mesh.ohm(a, b)
    assert ohm is not None
    return shown(ohm.real, error)


def shown(true: float, error: float) -> float:
    """What is shown: accuracy is a part of the reading, not of the truth."""
    return (true + error * OF.accuracy_ohm) / (1 - error * OF.accuracy_percent / 100)


def shown_nf(true: float, error: float) -> float:
    """The same of a capacitance, by a sharper meter; never under nothing."""
    return max((true + error * SHARP.farad_nf) / (1 - error * SHARP.farad_percent / 100), 0.0)


def balance(mesh: Mesh, bad: str, good: str) -> float:
    """The bad leg's share of a slide of 1000 ohm at which a detector across the legs is still."""
    seen = mesh.seen_from((*NEAR, "good"))

    def off(share: float) -> float:
        arms = (
            Resistor("arms", bad, 1000 * share),
            Resistor("arms", good, 1000 * (1 - share)),
        )
        (volt,) = seen.joined(arms).transfer_ohm(("arms", "sheath"), (bad, good))
        assert volt is not None
        return volt.real

    low, high = 1e-9, 1 - 1e-9
    rising = off(high) > off(low)
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if (off(middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def dial(mesh: Mesh, bad: str, good: str, loop_ohm: float) -> float:
    """The ohms in series with the bad leg at which a bridge of equal arms is still."""
    seen = mesh.seen_from(NEAR)

    def off(ohm: float) -> float:
        arms = (
            Resistor("arms", "dialled", 1000.0),
            Resistor("arms", good, 1000.0),
            Resistor("dialled", bad, ohm),
        )
        (volt,) = seen.joined(arms).transfer_ohm(("arms", "sheath"), ("dialled", good))
        assert volt is not None
        return volt.real

    low, high = 1e-6, loop_ohm
    rising = off(high) > off(low)
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if (off(middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def holds(place: Place, at_m: float) -> bool:
    """Whether a band holds the true place; two centimetres are the cable's own insulation's."""
    return place.low_m - 0.02 <= at_m <= place.high_m + 0.02


@given(jobs(), ERROR)
@settings(max_examples=100, deadline=None)
def test_a_short_by_ohms(job: Job, error: float) -> None:
    """A short is where its loop says, over mixed gauges at a temperature that is a little off."""
    ohm = read(job.mesh(across(0.05, job.at_m)), "tip", "ring", error)

    assert holds(loop.locate(job.record, ohm, contact_ohm=0.05), job.at_m)


@given(jobs(), st.floats(1e3, 5e4), LEAK_ERROR, ERROR, st.sampled_from(("tip", "ring")))
@settings(max_examples=60, deadline=None)
def test_a_leak_by_the_slide(
    job: Job, leak_ohm: float, error: float, loop_error: float, leg: Leg
) -> None:
    """A leak on either leg is where the bridge balances, by proportion and by ohms."""
    leak = to_sheath(leak_ohm, job.at_m, leg)
    mesh = job.mesh(leak, joined=(job.strap(leak),))
    good = "ring" if leg == "tip" else "tip"
    share = balance(mesh, leg, good) + error * OF.fraction
    hookup = bridge.Hookup(
        reading=bridge.Slide(fraction=share),
        loop_ohm=read(mesh, "tip", "ring", loop_error),
        strap_ohm=STRAP_OHM,
    )

    assert holds(bridge.locate(job.record, hookup), job.at_m)
    assert holds(bridge.locate(job.record, hookup, by_ohms=True), job.at_m)


@given(jobs(), st.floats(1e3, 5e4), LEAK_ERROR, ERROR)
@settings(max_examples=60, deadline=None)
def test_a_leak_by_the_dial(job: Job, leak_ohm: float, error: float, loop_error: float) -> None:
    """The same by a dial with equal arms and a loop reading."""
    leak = to_sheath(leak_ohm, job.at_m)
    mesh = job.mesh(leak, joined=(job.strap(leak),))
    loop_ohm = read(mesh, "tip", "ring")
    dialled = dial(mesh, "tip", "ring", 1.2 * loop_ohm)
    hookup = bridge.Hookup(
        reading=bridge.Dial(dial_ohm=shown(dialled, error)),
        loop_ohm=shown(loop_ohm, loop_error),
        strap_ohm=STRAP_OHM,
    )

    assert holds(bridge.locate(job.record, hookup), job.at_m)
    assert holds(bridge.locate(job.record, hookup, by_ohms=True), job.at_m)


@given(jobs(), st.floats(1e3, 5e4), st.floats(100.0, 400.0), LEAK_ERROR)
@settings(max_examples=60, deadline=None)
def test_two_bad_legs_by_a_separate_good_pair(
    job: Job, leak_ohm: float, good_ohm: float, error: float
) -> None:
    """A good leg of any ohms, strapped to the bad one, leaves the bad mate out of it."""
    leaks = (to_sheath(leak_ohm, job.at_m), to_sheath(2e5, job.record.length_m, "ring"))
    far = job.far(*leaks)
    back = (Resistor(far[0], "lead", STRAP_OHM), Resistor("lead", "good", good_ohm))
    mesh = job.mesh(*leaks, joined=back)
    hookup = bridge.Hookup(
        reading=bridge.Slide(fraction=balance(mesh, "tip", "good") + error * OF.fraction),
        loop_ohm=read(mesh, "tip", "good"),
        good_ohm=good_ohm,
        strap_ohm=STRAP_OHM,
    )

    assert holds(bridge.locate(job.record, hookup), job.at_m)


def test_a_second_bad_leg_spoils_the_single_pair() -> None:
    """40 kohm on tip at 1325 m, 200 kohm on ring at 2500: believable, and far off."""
    plain = Section(gauge_awg=24, length_m=3000.0, lay_percent=0.0, unbalance_percent=0.0)
    job = Job(Plant(section=(plain,)), Plant(section=(plain,)), 1325.0, 0)
    leaks = (to_sheath(40e3, 1325.0), to_sheath(200e3, 2500.0, "ring"))
    mesh = job.mesh(*leaks, joined=(job.strap(*leaks),))
    share = balance(mesh, "tip", "ring")

    place = bridge.locate(job.record, bridge.Hookup(reading=bridge.Slide(fraction=share)))

    assert pytest.approx(1687.0, abs=15.0) == place.at_m
    assert not holds(place, 1325.0)


@given(jobs(), st.floats(20.0, 2e4), LEAK_ERROR, LEAK_ERROR, LEAK_ERROR)
@settings(max_examples=60, deadline=None)
def test_resistance_across_by_two_readings(
    job: Job, across_ohm: float, idle_error: float, strapped_error: float, good_error: float
) -> None:
    """Idle and strapped, with a good loop read beside it or by the record."""
    leak = across(across_ohm, job.at_m)
    idle = read(job.mesh(leak), "tip", "ring", idle_error)
    strapped = read(job.mesh(leak, joined=(job.strap(leak),)), "tip", "ring", strapped_error)
    good = read(job.mesh(joined=(job.strap(),)), "tip", "ring", good_error)

    assert holds(shunt.locate(job.record, idle, strapped, good, STRAP_OHM), job.at_m)
    assert holds(shunt.locate(job.record, idle, strapped, None, STRAP_OHM), job.at_m)


@given(jobs(), st.floats(0.01, 5e3), LEAK_ERROR, LEAK_ERROR, LEAK_ERROR)
@settings(max_examples=60, deadline=None)
def test_resistance_across_from_both_ends(
    job: Job, across_ohm: float, near_error: float, far_error: float, good_error: float
) -> None:
    """Whatever the resistance, the difference of both ends' readings has it not."""
    leak = across(across_ohm, job.at_m)
    tip, ring, _ = job.far(leak)
    near = read(job.mesh(leak), "tip", "ring", near_error)
    far = read(job.mesh(leak), tip, ring, far_error)
    good_far = job.far()
    joined = (Resistor(good_far[0], good_far[1], 1e-3),)
    good = read(job.mesh(joined=joined), "tip", "ring", good_error)

    assert holds(both_ends.locate_short(job.record, near, far), job.at_m)
    assert holds(both_ends.locate_short(job.record, near, far, good), job.at_m)


def both_open(at_m: float) -> tuple[Series, Series]:
    tip = Series(kind="series", conductor="tip", at_m=at_m)
    return tip, Series(kind="series", conductor="ring", at_m=at_m)


HZ = 25.0
SHARP = Tolerance(farad_percent=0.1, farad_nf=0.01, capacitance_percent=0.5, uneven_percent=0.1)
"""The plant's capacitance is the record's, but for the unbalance of one leg."""


def nf(mesh: Mesh, a: str, b: str) -> float:
    (ohm,) = mesh.ohm(a, b)
    if ohm is None:  # the open is right at the meter
        return 0.0
    return (1 / ohm).imag / (2 * 3.141592653589793 * HZ) * 1e9


@given(jobs(), st.lists(st.integers(1, 999), max_size=2), ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_pair_by_capacitance(job: Job, taps: list[int], error: float) -> None:
    """Both legs open: cable and taps up to there, whatever the ohms."""
    length_m = job.record.length_m
    tap = tuple(Tap(gauge_awg=24, length_m=150.0, at_m=t / 1000 * length_m) for t in taps)
    job = Job(with_taps(job.record, tap), with_taps(job.plant, tap), job.at_m, job.seed)
    opens = both_open(job.at_m)
    reading = nf(job.mesh(*opens, hz=HZ), "tip", "ring")
    reading = shown_nf(reading, error)

    assert holds(by_farads.locate(job.record, reading, "pair", HZ, tolerance=SHARP), job.at_m)


def with_taps(plant: Plant, tap: tuple[Tap, ...]) -> Plant:
    return Plant(section=plant.section, tap=tap, temperature_c=plant.temperature_c)


@given(jobs(), ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_leg_by_capacitance(job: Job, error: float) -> None:
    """One leg open, its mate grounded: the mate's own length does not matter."""
    cut = Series(kind="series", conductor="ring", at_m=job.at_m)
    mesh = job.mesh(cut, hz=HZ, joined=(Resistor("tip", "sheath", 0.01),))
    reading = nf(mesh, "ring", "sheath")
    reading = shown_nf(reading, error)

    assert holds(by_farads.locate(job.record, reading, "leg", HZ, tolerance=SHARP), job.at_m)


@given(jobs(), ERROR, ERROR)
@settings(max_examples=60, deadline=None)
def test_an_open_pair_from_both_ends(job: Job, near_error: float, far_error: float) -> None:
    """The near share of both readings is the near share of the record."""
    opens = both_open(job.at_m)
    mesh = job.mesh(*opens, hz=HZ)
    tip, ring, _ = job.far(*opens)
    near, far = nf(mesh, "tip", "ring"), nf(mesh, tip, ring)
    near, far = shown_nf(near, near_error), shown_nf(far, far_error)

    place = both_ends.locate_open(job.record, near, far, tolerance=SHARP)

    assert holds(place, job.at_m)


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


@given(jobs(), st.floats(0.001, 0.999), st.lists(ERROR, min_size=3, max_size=3))
@settings(max_examples=200, deadline=None)
def test_no_unevenness_within_tolerance_leaves_the_band(
    job: Job, share: float, uneven: list[float]
) -> None:
    """Sections off against each other in any way: the band tries only tilts, and holds them all."""
    only_uneven = Tolerance(
        fraction=0.0, accuracy_percent=0.0, accuracy_ohm=0.0, unbalance_percent=0.0
    )
    hookup = bridge.Hookup(reading=bridge.Slide(fraction=share / 2), loop_ohm=500.0)
    place = bridge.locate(job.record, hookup, tolerance=only_uneven)
    warmer = replace(
        job.record,
        section=tuple(
            replace(each, temperature_c=20.0 + 5.0 * error)
            if each.temperature_c is None
            else replace(each, temperature_c=each.temperature_c + 5.0 * error)
            for each, error in zip(job.record.section, uneven, strict=False)
        ),
    )
    factors = [1 + 0.01 * error for error in uneven[: len(warmer.section)]]
    built = leg_ohms(warmer).scaled(factors)

    assert holds(place, built.metres(share * built.total))
