"""Shorts, leaks and paths across, read on the exact network: back to the true place, in band."""

from collections.abc import Callable
from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Resistor
from line_model.terminals import CONDUCTORS
from line_model.troubles import Leak, Leg
from line_model.worksheet import both_ends, bridge, loop, shunt
from line_model.worksheet.record import leg_ohms
from line_model.worksheet.tolerance import Tolerance
from tests.line_model.worksheet.jobs import (
    ERROR,
    LEAK_ERROR,
    OF,
    STRAP_OHM,
    Job,
    holds,
    jobs,
    read,
    shown,
)


def across(ohm: float, at_m: float) -> Leak:
    return Leak(kind="leak", between=("tip", "ring"), at_m=at_m, ohm=ohm)


def to_sheath(ohm: float, at_m: float, leg: Leg = "tip") -> Leak:
    return Leak(
        kind="leak", between=("tip" if leg == "tip" else "ring", "sheath"), at_m=at_m, ohm=ohm
    )


def still(off: Callable[[float], float], low: float, high: float) -> float:
    """Where a detector is still, by halves."""
    rising = off(high) > off(low)
    for _ in range(50):
        middle = (low + high) / 2
        low, high = (low, middle) if (off(middle) > 0) == rising else (middle, high)
    return (low + high) / 2


def detector(mesh: Mesh, arms: tuple[Resistor, ...], a: str, b: str) -> float:
    """What stands across it while the battery is between arms and sheath."""
    (volt,) = mesh.each((arms,)).transfer_ohm(("arms", "sheath"), (a, b))
    assert volt is not None
    return volt.real


def balance(mesh: Mesh, bad: str, good: str) -> float:
    """The bad leg's share of a slide of 1000 ohm at which a detector across the legs is still."""
    seen = mesh.seen_from((*CONDUCTORS, "good"))

    def off(share: float) -> float:
        slide = (
            Resistor("arms", bad, 1000 * share),
            Resistor("arms", good, 1000 * (1 - share)),
        )
        return detector(seen, slide, bad, good)

    return still(off, 1e-9, 1 - 1e-9)


def dial(mesh: Mesh, bad: str, good: str, loop_ohm: float) -> float:
    """The ohms in series with the bad leg at which a bridge of equal arms is still."""
    seen = mesh.seen_from(CONDUCTORS)

    def off(ohm: float) -> float:
        arms = (
            Resistor("arms", "dialled", 1000.0),
            Resistor("arms", good, 1000.0),
            Resistor("dialled", bad, ohm),
        )
        return detector(seen, arms, "dialled", good)

    return still(off, 1e-6, loop_ohm)


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
