"""The worksheet against worked examples with printed answers, and answers worked by hand.

Power cables and telegraph loops stand in their own ohms a length: the sums are the same.
"""

import pytest

from line_model.plant import Plant, Section
from line_model.worksheet import both_ends, bridge, legs, loop, sections, shunt
from line_model.worksheet import open as by_farads
from line_model.worksheet.farads import OpenPair
from line_model.worksheet.record import Profile, loop_metres
from tests.oracles.published_line import OPEN_24_AWG

M_PER_FT = 0.3048
pytestmark = pytest.mark.outside


def metres(trouble_ohm: float, *sections_m_ohm: tuple[float, float]) -> float:
    """Ohms of a leg to metres over sections of (metres, ohm a metre)."""
    lengths, per_m = zip(*sections_m_ohm, strict=True)
    return Profile(lengths, per_m).metres(trouble_ohm)


def plain(length_m: float, gauge_awg: int = 24, celsius: float = 20.0) -> Plant:
    """One section without lay, so that a kilofoot is the wire table's."""
    section = Section(gauge_awg=gauge_awg, length_m=length_m, lay_percent=0.0)
    return Plant(section=(section,), temperature_c=celsius)


def test_slide_of_a_thousand() -> None:
    """Slide 332 of 1000, loop 54.07 ohm, 16.46 ohm/mile: 1.09 miles (Hawkins, vol. 3, fig. 597)."""
    ohm = bridge.murray_ohm(54.07, good_arm=668, bad_arm=332)

    assert pytest.approx(17.951, abs=5e-4) == ohm
    assert pytest.approx(1.09, abs=5e-3) == metres(ohm, (5.0, 16.46))


def test_a_hundred_ohms_unplugged() -> None:
    """Equal arms, loop 1000 ohm, 100 ohm in the dial: 450 ohm to the trouble.

    Annual Report of the American Institute, New York, p. 956; a loop of 50 miles makes it 22.5.
    """
    ohm = bridge.varley_ohm(1000.0, 100.0)

    assert pytest.approx(450.0) == ohm
    assert pytest.approx(22.5) == metres(ohm, (25.0, 20.0))


@pytest.mark.parametrize(
    ("length_m", "good_arm", "bad_arm", "at_m", "within_m"),
    [
        (600.0, 3.0, 1.0, 300.0, 1e-9),  # printed: an engineer's examination of 2021
        (300.0, 2.0, 1.0, 200.0, 1e-9),  # a published problem; worked by hand
        (500.0, 3.0, 1.0, 250.0, 1e-9),  # V. K. Mehta, Principles of Power System, from memory
        (5200.0, 100.0, 41.2, 3034.6, 0.1),  # Theraja, from memory; worked by hand
    ],
)
def test_equal_wires(
    length_m: float, good_arm: float, bad_arm: float, at_m: float, within_m: float
) -> None:
    """Two like wires: the bad arm's share of twice the length, whatever a metre has."""
    for ohm_per_m in (1.5e-3, 84e-3):
        ohm = bridge.murray_ohm(2 * length_m * ohm_per_m, good_arm, bad_arm)
        assert pytest.approx(at_m, abs=within_m) == metres(ohm, (length_m, ohm_per_m))


def test_unlike_wires() -> None:
    """520 m at 1.10 looped with 520 m at 2.29 ohm/km, arms 2.7 to 1: 433.1 m.

    Mehta and Theraja, from memory; worked by hand.
    """
    ohm = bridge.murray_ohm(0.52 * (1.10 + 2.29), good_arm=2.7, bad_arm=1.0)

    assert pytest.approx(0.47643, abs=5e-6) == ohm
    assert pytest.approx(433.1, abs=0.05) == metres(ohm, (520.0, 1.10e-3))


def test_mixed_sections_of_a_power_cable() -> None:
    """100 m of 120 mm2 then 100 m of 240 mm2, a third of the slide: at the joint.

    A published problem, worked by hand: 150 m from the other end, and 133.3 m for whoever takes
    the cable for one gauge.
    """
    thin, thick = (100.0, 2.0), (100.0, 1.0)
    third = bridge.murray_ohm(600.0, good_arm=2.0, bad_arm=1.0)

    assert pytest.approx(100.0) == metres(third, thin, thick)
    assert pytest.approx(150.0) == metres(third, thick, thin)
    assert pytest.approx(133.3, abs=0.04) == metres(third, (200.0, 1.5))


def test_open_by_ratio() -> None:
    """100 and 400 pF from the ends of 10 m: 2 m from the first (a public forum's example)."""
    place = both_ends.locate_open(plain(10.0), 0.1, 0.4)

    assert pytest.approx(2.0) == place.at_m


def test_open_by_rate() -> None:
    """23.58 nF at 15.72 nF/kft (83 nF/mile) is 1500 feet; worked by hand."""
    section = Section(gauge_awg=24, length_m=900.0, mutual_nf_per_km=15.72 / M_PER_FT)
    place = by_farads.locate(Plant(section=(section,)), 23.58)

    assert pytest.approx(1500.0) == place.at_m / M_PER_FT


@pytest.mark.parametrize(("celsius", "feet"), [(20.0, 1000.0), (40.0, 927.1)])
def test_strap_by_ohms(celsius: float, feet: float) -> None:
    """51.338 ohm of strapped 24 AWG: 1000 ft at 20 C, 927.1 ft at 40 C; worked by hand."""
    plant = plain(600.0, celsius=celsius)
    place = loop.locate(plant, 51.338)

    assert pytest.approx(feet, abs=0.05) == place.at_m / M_PER_FT
    assert loop_metres(51.338, plant) == place.at_m


@pytest.mark.parametrize(("miles", "megohm"), [(2.0, 250.0), (1000 * M_PER_FT / 1609.344, 2640.0)])
def test_least_insulation(miles: float, megohm: float) -> None:
    """500 megohm-mile by length: 7 CFR 1755.403(c)(4)(ii)-(iv)."""
    assert pytest.approx(megohm, rel=1e-3) == sections.least_ohm(miles * 1609.344) / 1e6


@pytest.mark.parametrize(("length_m", "hz", "part"), OPEN_24_AWG)
def test_a_long_line_shows_less(length_m: float, hz: float, part: float) -> None:
    """A long open line shows less than its capacitance, and the worksheet knows how much.

    Published constants of 24 AWG, 174.55888 ohm, 0.617 mH and 50 nF a km, to whose ohms ours are
    brought by temperature.
    """
    section = Section(gauge_awg=24, length_m=length_m, lay_percent=0.0, mutual_nf_per_km=50.0)
    hot_c = 20 + (174.55888 / (2 * 84.2146) - 1) / 0.00393
    pair = OpenPair(Plant(section=(section,), temperature_c=hot_c), hz=hz)

    assert pytest.approx(part, abs=2e-3 if hz == 1000 else 2e-5) == pair.whole_nf / (
        0.05 * length_m
    )


def test_three_kilohm_across_a_pair() -> None:
    """Idle 3223, strapped 481.1 against 505.4 ohm: x = 481.1 - sqrt(24.3 x 2741.9) = 223 ohm.

    Worked by hand, from readings of a ladder of its own; so are the legs below.
    """
    place = shunt.locate(plain(3000.0), 3223.0, 481.1, 505.4)

    assert pytest.approx(223.0, abs=0.05) == place.values["to_trouble_ohm"]
    assert pytest.approx(1324.0, abs=0.5) == place.at_m


def test_a_joint_of_150_ohm() -> None:
    """TR 655.4, TG 260, RG 410 ohm: legs 252.7 and 402.7, 150 ohm in the ring."""
    answer = legs.locate(
        plain(3000.0), legs.Readings(tip_ring=655.4, tip_ground=260.0, ring_ground=410.0)
    )

    assert pytest.approx(252.7) == answer.tip_ohm
    assert pytest.approx(402.7) == answer.ring_ohm
    assert pytest.approx(150.0) == -answer.difference_ohm
    assert answer.high_leg == "ring"
