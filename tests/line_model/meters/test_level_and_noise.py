"""Loss, noise, power influence and balance against the rules' numbers.

Sources: 7 CFR 1755.403; Fed-Std-1037C, term dBrn; the C-message table of ITU-T O.41, restated in a
filter-design toolbox.
"""

from dataclasses import dataclass
from math import log10, sqrt

import pytest

from line_model.meters.cycle import Own
from line_model.meters.leads import PLUS
from line_model.meters.noise import CENTRE, acceptable, white_share
from line_model.meters.profile import Level, Noise
from line_model.meters.settled import came_at_rest
from line_model.parts import Resistor
from line_model.plant import Plant
from line_model.route import route
from line_model.sender import parts as sender
from line_model.standing import Steady
from line_model.troubles import Induction, Series
from tests.line_model.circuits import bare
from tests.line_model.meters.rig import reading, settled, shipped

pytestmark = pytest.mark.outside
LOSS_DB = {(26, 5000.0): 8.521, (24, 3000.0): 3.570}
"""Insertion loss at 1 kHz between 600 and 600 ohm, computed from other primary constants: the
0.4 and 0.5 mm sets of three public line models, whose origin is ANSI T1.413 (from memory)."""


def level(name: str = "level") -> Level:
    profile = shipped(name)
    assert isinstance(profile, Level)
    return profile


def loss_db(plant: Plant) -> float:
    way = route(plant, (), 0)
    came, _ = reading(level(), "tip-ring", (*way.parts, *sender(*way.far[:2])))
    loss = dict(came.more)["loss_db"]
    assert isinstance(loss, float)
    return loss


@pytest.mark.parametrize(("gauge_awg", "length_m"), LOSS_DB)
def test_loss_of_a_pair(gauge_awg: int, length_m: float) -> None:
    """Within 10 % of what other constants come to: 7 CFR 1755.403(e)(6)(i)(C), at 1000 Hz."""
    expected = LOSS_DB[gauge_awg, length_m]

    assert pytest.approx(expected, rel=0.10) == loss_db(bare(length_m, gauge_awg))


def test_no_pair_no_loss() -> None:
    """A sender of 600 ohm right at the meter is 0 dBm, 1004 Hz, and no loss."""
    came, _ = reading(level(), "tip-ring", tuple(sender("tip", "ring")))

    assert came.value is not None
    assert pytest.approx(0.0, abs=0.02) == came.value
    assert pytest.approx(1004.0) == dict(came.more)["hz"]


@pytest.mark.parametrize(
    ("noise", "influence", "good"),
    [(18, 50, True), (25, 90, True), (25, 80, False), (25, 84.9, False), (31, 90, False)],
)
def test_what_noise_is_acceptable(noise: float, influence: float, good: bool) -> None:
    """20 dBrnC at most, or more with a balance of 60 dB under at least 85 dBrnC of influence.

    Source: 7 CFR 1755.403(e)(6)(ii).
    """
    assert good == acceptable(noise, influence)


def test_a_milliwatt_of_white_noise() -> None:
    """A milliwatt over 3 kHz is about 88 dBrnC: Fed-Std-1037C; 87.91 by hand from the table."""
    dbrnc = 90 + 10 * log10(white_share(3000.0))

    assert pytest.approx(88.0, abs=0.5) == dbrnc
    assert pytest.approx(87.91, abs=0.02) == dbrnc


@dataclass(frozen=True)
class Sounding:
    """What stands at a noise meter's terminals, said outright: it asks for nothing else."""

    sines: tuple[Steady, ...] = ()
    longitudinal: tuple[Steady, ...] = ()
    volt: float = 0.0

    def mean(self, a: str, b: str, from_us: int, to_us: int) -> float | None:
        return None

    def settled(self, a: str, b: str) -> float | None:
        return None

    def alternating(self, a: str, b: str, from_us: int, to_us: int) -> tuple[Steady, ...]:
        return self.longitudinal if a == CENTRE else self.sines

    def noise_volt(self, a: str, b: str) -> float:
        return self.volt if a == PLUS else 0.0

    def impedance(self, a: str, b: str, hz: float) -> complex | None:
        return None


def noise() -> Noise:
    profile = shipped("noise")
    assert isinstance(profile, Noise)
    return profile


def read_of(standing: Sounding) -> tuple[float, dict[str, object]]:
    """What the meter makes of what stands, without error."""
    came = came_at_rest(noise(), "tip-ring", lambda _: standing, Own(across="tip-ring"))
    assert came.value is not None
    return came.value, dict(came.more)


def test_a_milliwatt_at_a_thousand_hertz_is_ninety() -> None:
    """0 dBm of 1000 Hz is +90 dBrnC: Fed-Std-1037C, term dBrn."""
    milliwatt = Steady("hum", 1000.0, complex(sqrt(0.6)))

    assert pytest.approx(90.0, abs=0.01) == read_of(Sounding((milliwatt,)))[0]


HARMONICS_DB = {180: -27.74, 300: -16.30, 420: -10.43, 540: -6.56, 660: -3.64, 1020: -0.04}
"""Worked by hand from the table, even in log frequency between its rows."""


@pytest.mark.parametrize(("hz", "weight_db"), HARMONICS_DB.items())
def test_hum_is_weighted(hz: float, weight_db: float) -> None:
    """Harmonics of 60 Hz count by the C-message table, to its hundredth of a dB."""
    milliwatt = Steady("hum", hz, complex(sqrt(0.6)))

    assert pytest.approx(90.0 + weight_db, abs=0.01) == read_of(Sounding((milliwatt,)))[0]


def test_balance_is_the_difference() -> None:
    """Power influence less circuit noise: 7 CFR 1755.403(d)(2)(iii)."""
    across = (Steady("hum", 1000.0, complex(sqrt(0.6) * 10 ** (-66 / 20))),)
    along = (Steady("hum", 1000.0, complex(sqrt(0.6) * 10 ** (-2 / 20))),)
    value, more = read_of(Sounding(across, along))

    assert pytest.approx(24.0, abs=0.01) == value
    assert pytest.approx((88.0, 64.0, True), abs=0.01) == (
        more["power_influence_dbrnc"],
        more["balance_db"],
        more["acceptable"],
    )


def test_a_joint_in_one_leg_costs_balance() -> None:
    """150 ohm in ring, a quiet termination's 900 ohm at the far end: noise up, influence not."""
    hum = Induction(kind="induction", rms_volt=40.0, hz=540.0)
    joint = Series(kind="series", conductor="ring", at_m=100.0, ohm=150.0)
    found = []
    for troubles in ((hum,), (hum, joint)):
        way = route(bare(3000.0), troubles, 0)
        quiet = (Resistor(*way.far[:2], 900.0),)
        came = settled(noise(), "tip-ring", (*way.parts, *quiet))
        assert came.value is not None
        found.append((came.value, dict(came.more)["power_influence_dbrnc"]))

    assert found[1][0] > found[0][0] + 10
    assert isinstance(found[0][1], float)
    assert pytest.approx(found[0][1], abs=1.0) == found[1][1]
