"""What bands are for: which tolerance moves a place, and what falls out."""

from dataclasses import replace

import pytest

from line_model.plant import Plant, Section, Tap
from line_model.worksheet import both_ends, bridge, legs, loop, shunt
from line_model.worksheet import open as by_farads
from line_model.worksheet.farads import OpenPair
from line_model.worksheet.record import Profile, at_temperature, leg_ohms, loop_ohm
from line_model.worksheet.tolerance import Tolerance
from tests.line_model.added_up import up_to
from tests.line_model.worksheet.plants import MIXED, ONE

NOTHING_OFF = Tolerance(
    accuracy_percent=0.0,
    accuracy_ohm=0.0,
    fraction=0.0,
    farad_percent=0.0,
    farad_nf=0.0,
    gauge_percent=0.0,
    capacitance_percent=0.0,
    temperature_c=0.0,
    uneven_percent=0.0,
    unbalance_percent=0.0,
)


@pytest.mark.parametrize("at_m", [0.0, 1.0, 899.0, 1200.0, 1500.0, 2199.0, 2200.0])
def test_a_profile_runs_both_ways(at_m: float) -> None:
    """Metres to ohms and back, over every joint."""
    legs_ = leg_ohms(MIXED)

    assert pytest.approx(at_m, abs=1e-9) == legs_.metres(up_to(legs_, at_m))


def test_a_profile_runs_on_past_its_ends() -> None:
    """Past an end the section there goes on, so that a place can be said to be past it."""
    profile = Profile((100.0, 50.0), (1.0, 2.0))

    assert [profile.metres(x) for x in (-10, 100, 150, 220)] == [-10.0, 100.0, 125.0, 160.0]


def test_without_tolerance_a_band_is_its_place() -> None:
    """Nothing off, nothing open."""
    place = loop.locate(MIXED, 200.0, tolerance=NOTHING_OFF)

    assert place.low_m == place.at_m == place.high_m


def test_a_stated_temperature_moves_a_place() -> None:
    """At 40 C the same ohms are less copper: 927.1 of each 1000."""
    cold = loop.locate(at_temperature(ONE, 20.0), 200.0)
    hot = loop.locate(at_temperature(ONE, 40.0), 200.0)

    assert pytest.approx(1 / 1.0786) == hot.at_m / cold.at_m


def test_a_temperature_far_off_leaves_the_band() -> None:
    """20 degrees wrong is more than 5 degrees allowed, with the gauge known."""
    known = Tolerance(gauge_percent=0.5)
    true_m = loop.locate(at_temperature(ONE, 40.0), 200.0, tolerance=known).at_m
    place = loop.locate(at_temperature(ONE, 20.0), 200.0, tolerance=known)

    assert not place.low_m <= true_m <= place.high_m


def test_by_proportion_temperature_falls_out() -> None:
    """A bridge reading by proportion is the same in summer and winter; by ohms it is not."""
    loop_40_ohm = loop_ohm(at_temperature(ONE, 40.0))
    hookup = bridge.Hookup(reading=bridge.Dial(dial_ohm=loop_40_ohm * 0.5), loop_ohm=loop_40_ohm)
    right, wrong = at_temperature(ONE, 40.0), at_temperature(ONE, 20.0)

    assert pytest.approx(1500.0) == bridge.locate(wrong, hookup).at_m
    assert pytest.approx(1500.0) == bridge.locate(right, hookup, by_ohms=True).at_m
    assert pytest.approx(1617.9) == bridge.locate(wrong, hookup, by_ohms=True).at_m


@pytest.mark.parametrize("lead_ohm", [0.0, 0.25, 2.0])
@pytest.mark.parametrize("arms", [(1.0, 1.0), (10.0, 1.0), (1.0, 10.0)])
def test_leads_and_unequal_arms(lead_ohm: float, arms: tuple[float, float]) -> None:
    """Readings made from the law of balance come back to their ohms, leads in both ways."""
    good, bad = arms
    loop_ohms, trouble_ohm = 500.0, 40.0
    good_way = loop_ohms - trouble_ohm + lead_ohm
    dial = bad * good_way / good - trouble_ohm - lead_ohm
    share = (trouble_ohm + lead_ohm) / (loop_ohms + 2 * lead_ohm)

    assert pytest.approx(40.0) == bridge.varley_ohm(loop_ohms, dial, good, bad, lead_ohm)
    assert pytest.approx(40.0) == bridge.murray_ohm(loop_ohms, 1 - share, share, lead_ohm)


def test_an_ohm_moves_the_two_reading_test_by_tens_of_metres() -> None:
    """3 kohm across 1325 m: an ohm moves it by about 40 m; by the record alone it is hopeless."""
    near = shunt.locate(ONE, 3223.0, 481.1, 505.4, tolerance=Tolerance(accuracy_ohm=1.0))
    by_record = shunt.locate(ONE, 3223.0, 481.1)

    assert 60 <= near.shares_m["reading_strapped"] <= 80  # 1 ohm and 0.2 percent are 1.96 ohm
    assert by_record.high_m - by_record.low_m > 2000


def test_what_an_open_at_a_tap_reads() -> None:
    """Within the step that a tap makes, the place is its joint; past it, the tap is taken off."""
    pair = OpenPair(MIXED)
    before, after = pair.nf(900.0), pair.nf(900.0 + 1e-6)

    assert pytest.approx(0.15 * 51.6) == after - before
    assert pytest.approx(900.0) == by_farads.locate(MIXED, (before + after) / 2).at_m
    assert pytest.approx(1000.0) == by_farads.locate(MIXED, pair.nf(1000.0)).at_m


def test_an_open_in_a_tap_is_thought_of() -> None:
    """A reading short by less than a tap is told to be the tap's, perhaps."""
    whole_nf = OpenPair(MIXED).whole_nf
    notes = by_farads.locate(MIXED, whole_nf - 3.0).notes

    assert any("an open in tap T" in note for note in notes)
    assert not any("tap T" in note for note in by_farads.locate(MIXED, 20.0).notes)


def test_a_units_capacitor_makes_a_pair_longer() -> None:
    """Ten nanofarad of a receiver are some two hundred metres, taken off when named."""
    left_on = by_farads.locate(ONE, 77.4 + 10.0)
    taken_off = by_farads.locate(ONE, 77.4 + 10.0, unit_nf=10.0)

    assert pytest.approx(1500.0) == taken_off.at_m
    assert pytest.approx(10 / 0.0516) == left_on.at_m - taken_off.at_m


def test_a_legs_capacitance_is_not_the_pairs() -> None:
    """One leg to sheath and grounded mate: 90.6 nF/km, so 137 nF are 1512 m."""
    assert pytest.approx(1512.1, abs=0.1) == by_farads.locate(ONE, 137.0, "leg").at_m


def test_both_ends_warn_of_a_second_trouble() -> None:
    """Two parts that do not make up the whole are told of."""
    whole_nf = OpenPair(ONE).whole_nf

    good = both_ends.locate_open(ONE, whole_nf / 3, whole_nf * 2 / 3)
    short = both_ends.locate_open(ONE, whole_nf / 3, whole_nf / 3)

    assert (pytest.approx(1000.0), ()) == (good.at_m, good.notes)
    assert any("second open" in note for note in short.notes)


def test_a_tap_at_the_far_end_is_of_the_whole() -> None:
    """A pair that is whole shows a tap at its far end too."""
    tap = Tap(gauge_awg=24, length_m=100.0, at_m=3000.0)

    assert pytest.approx(3.1 * 51.6) == OpenPair(Plant(section=ONE.section, tap=(tap,))).whole_nf


@pytest.mark.parametrize("percent", [-1.0, 1.0])
def test_from_both_ends_sections_may_be_off_each_other(percent: float) -> None:
    """One section a percent over and the rest under: the band holds the place, and just so."""
    two = Plant(section=(Section(gauge_awg=24, length_m=1000.0),) * 2)
    uneven = replace(NOTHING_OFF, uneven_percent=1.0)
    near_nf = 51.6 * (1 + percent / 100)
    far_nf = 51.6 * (1 - percent / 100)
    place = both_ends.locate_open(two, near_nf, far_nf, tolerance=uneven)

    edge_m = place.low_m if percent > 0 else place.high_m
    assert pytest.approx(1000.0) == edge_m
    assert pytest.approx(1000.0, abs=11.0) == place.at_m != edge_m


def test_the_strap_is_no_cable() -> None:
    """Five ohm of strap stand behind the whole loop: the place does not move for it."""
    loop_ohms = loop_ohm(ONE)
    x_ohm, across_ohm = loop_ohms / 3, 2000.0
    rest_ohm = loop_ohms - x_ohm + 5.0
    strapped = x_ohm + across_ohm * rest_ohm / (across_ohm + rest_ohm)

    place = shunt.locate(ONE, x_ohm + across_ohm, strapped, loop_ohms + 5.0, strap_ohm=5.0)

    assert pytest.approx(1000.0) == place.at_m
    assert pytest.approx(across_ohm) == place.values["across_ohm"]


@pytest.mark.parametrize("which", ["loop", "reading_idle", "reading_strapped"])
def test_each_reading_of_the_shunt_moves_it(which: str) -> None:
    """The good loop is a reading like the others, and as wrong."""
    assert shunt.locate(ONE, 3223.0, 481.1, 505.4).shares_m[which] > 1.0


def test_a_loop_that_does_not_fit_the_record_is_told() -> None:
    """Proportion stands on the record's length: a loop half as long again is no record of it."""
    hookup = bridge.Hookup(reading=bridge.Slide(fraction=0.2), loop_ohm=1.5 * loop_ohm(ONE))

    assert any("off the record" in note for note in bridge.locate(ONE, hookup).notes)


def test_a_tie_is_ranged_by_the_better_leg() -> None:
    """With 150 ohm in the ring the tip still tells where the three are tied."""
    readings = legs.Readings(tip_ring=655.4, tip_ground=260.0, ring_ground=410.0)
    answer = legs.locate(ONE, readings, contact_ohm=0.1)

    assert pytest.approx(2999.5, abs=0.1) == answer.tie.at_m
