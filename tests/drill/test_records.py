"""A record with something wrong: what is drawn, what is weighed, and where a place then is."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim.drill.expert.axes import axes
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.expert import Expert
from farend_sim.drill.expert.forecast import Forecast
from farend_sim.drill.expert.heard import Ear
from farend_sim.drill.expert.hypothesis import suspects
from farend_sim.drill.expert.laws import Asked, laws
from farend_sim.drill.expert.likelihood import Belief, Weighing
from farend_sim.drill.expert.looks import Setting
from farend_sim.drill.expert.measured import measured, off, route_m
from farend_sim.drill.expert.misfit import REFUSED
from farend_sim.drill.expert.records import Record, lengthened, records
from farend_sim.drill.expert.sight import Sight
from farend_sim.drill.making.calibrate import rank
from farend_sim.drill.making.curriculum import Level, find_curriculum
from farend_sim.drill.making.draws import _as_it_is, _laid
from farend_sim.drill.making.generate import level_of
from farend_sim.drill.solving.settled import SettledPair
from farend_sim.drill.solving.solve import solve_drill, survey
from farend_sim.unit.table import PairState
from line_model.plant import Plant, Section, Tap
from line_model.troubles import Leak
from tests.drill.test_expert import pair
from tests.drill.working import authored

GIVEN = Plant(
    section=(Section(gauge_awg=24, length_m=1500.0), Section(gauge_awg=26, length_m=600.0)),
    tap=(
        Tap(name="T1", at_m=750.0, length_m=100.0, gauge_awg=24),
        Tap(name="T2", at_m=1800.0, length_m=100.0, gauge_awg=24),
    ),
)
DOUBT = Doubt(wrong_length_percent=60.0)
METERS = ("volts", "ohms", "bridge", "capacitance")
LEAK = next(each for each in suspects() if each.label == "leak ring-sheath")


def level_8() -> Level:
    """The level whose records have most wrong."""
    return level_of(find_curriculum("reference"), 8)


@given(index=st.integers(0, 1), by_m=st.floats(-250.0, 2000.0))
def test_a_longer_section_moves_what_lies_behind_it(index: int, by_m: float) -> None:
    """Taps before it stay, those on it move in proportion, those behind it by all of it."""
    laid = lengthened(GIVEN, index, by_m)
    on, behind = ((0.5, 1.0), (0.0, 0.5))[index]

    assert GIVEN.length_m + by_m == pytest.approx(laid.length_m)
    assert [750.0 + on * by_m, 1800.0 + behind * by_m] == pytest.approx(
        [tap.at_m for tap in laid.tap]
    )


def test_shares_of_records_are_as_stated() -> None:
    """Gauges as often as they are said to be wrong; metres so often of what is left."""
    known = records(GIVEN, Doubt(wrong_gauge_percent=20.0, wrong_length_percent=50.0))
    metres = sum(one.share for one in known if one.stretched is not None)

    assert pytest.approx([known[0].share, sum(one.share for one in known)]) == [0.4, 1.0]
    assert metres == pytest.approx(0.4)
    assert (Record(GIVEN, 1.0),) == records(GIVEN, Doubt())


def test_one_section_is_drawn_wrong_within_its_span() -> None:
    """Of many plants of one record: one section or none is off, by what the doubt says."""
    doubt = Doubt(wrong_gauge_percent=30.0, wrong_length_percent=30.0)
    draw, found = np.random.default_rng(5), []
    for _ in range(300):
        laid = _laid(GIVEN, doubt, draw)
        pairs = list(zip(laid.section, GIVEN.section, strict=True))
        assert sum(is_so != said for is_so, said in pairs) <= 1
        found += [a.length_m - b.length_m for a, b in pairs if a.length_m != b.length_m]

    mean_m, sd_m = doubt.longer_m
    assert pytest.approx(len(found), abs=25) == 0.7 * 0.3 * 300
    assert mean_m == pytest.approx(float(np.mean(found)), abs=4 * sd_m / len(found) ** 0.5)
    assert min(found) >= -300.0
    assert sum(by_m < 0 for by_m in found) < len(found) / 6


@pytest.mark.parametrize("state", ["idle", "strap", "ring-ground"])
@pytest.mark.parametrize("meter", ["ohms", "capacitance"])
@pytest.mark.parametrize("at_m", [400.0, 1700.0])
def test_open_metres_are_the_plant_with_these_metres(
    meter: str, state: PairState, at_m: float
) -> None:
    """A record stretched by its last column reads as one drawn so long, the place where it is."""
    open_ = records(GIVEN, DOUBT)[2]
    nu = np.zeros((1, axes(open_, DOUBT).count))
    nu[0, -1] = 1.2
    by_m = 300.0 + 1.2 * 200.0
    drawn = Record(lengthened(GIVEN, 1, by_m), 1.0)
    asked = Asked(Setting(meter=meter, across="ring-sheath", state=state), 3)
    belief = believed(open_, at_m, nu[0])
    where_m = float(measured(belief, 0)[0][0])

    assert drawn.plant.length_m == pytest.approx(float(route_m(belief)[0]))
    assert read(open_, at_m, nu, asked) == pytest.approx(
        read(drawn, where_m, nu[:, :-1], asked), rel=1e-9
    )


def read(record: Record, at_m: float, nu: np.ndarray, asked: Asked) -> complex:
    """What a meter observes of a leak on a record."""
    forecast = forecast_of(record)
    theta = np.array([[[at_m, np.log(5e3), 0.0, 0.0]]])
    pairs = forecast.pairs(LEAK, theta, nu, [forecast.channel(asked.setting)])
    return complex(np.ravel(forecast.observed(pairs, asked))[0])


def forecast_of(record: Record) -> Forecast:
    """Of a record with all meters."""
    situation = pair(meters=METERS)
    unit = situation.unit.electrical
    sight = Sight(record.plant, unit, situation.scenario.beyond, axes(record, DOUBT))
    # at rest meters round
    meters = {name: replace(one, accuracy_counts=0) for name, one in situation.meters.items()}
    return Forecast(sight, laws(meters, unit))


def believed(record: Record, at_m: float, nu: np.ndarray) -> Belief:
    """A leak at one place, known to a metre, the metres of its record likewise to a tenth."""
    mean = np.concatenate([[at_m, np.log(5e3), 0.0, 0.0], nu])[None]
    spread = np.diag(np.r_[1.0, np.zeros(mean.size - 2), 0.01])[None]
    weighing = Weighing(forecast_of(record), (LEAK,), record)
    return Belief(LEAK, weighing, 0.0, np.ones(1), mean, spread, np.zeros(1))


def test_a_place_is_counted_in_metres_of_the_plant() -> None:
    """Before the wrong section it stays where it is; behind it all of its metres count."""
    open_ = records(GIVEN, DOUBT)[1]
    nu = np.zeros(axes(open_, DOUBT).count)
    nu[-1] = 1.0
    found = [measured(believed(open_, at_m, nu), 0) for at_m in (0.0, 900.0, 1900.0)]

    assert pytest.approx([float(at_m[0]) for at_m, _ in found]) == [0.0, 1000.0, 2100.0]
    # along it 10 m for each tenth of a standard deviation, behind it 20
    assert pytest.approx([float(variance[0]) for _, variance in found[1:]]) == [
        (10 / 9) ** 2 + 10.0**2,
        1.0 + 20.0**2,
    ]
    assert off(believed(open_, 0.0, nu), GIVEN.length_m) == (
        "section 1 is some 500 m longer than the record says"
    )
    assert off(believed(open_, 0.0, -2 * nu), GIVEN.length_m) == (
        "section 1 is some 100 m shorter than the record says"
    )


def test_a_lengthened_section_is_found() -> None:
    """The drill with the new houses: the leak, its place before them, and what the record lacks."""
    drill = authored("terrace-17")
    solution = solve_drill(drill)
    best = solution.opinion.best

    assert (solution.pinned, best.label) == (True, "leak ring-sheath")
    assert best.place_m is not None
    assert best.place_m.low < 1100.0 < best.place_m.high
    assert best.place_m.half < 50.0
    assert solution.opinion.off[0] == "section 2 is some 500 m longer than the record says"
    assert solution.opinion.off[1] > 0.9


def test_without_that_doubt_it_is_something_else() -> None:
    """Who takes the record's metres for certain is told that nothing explains the readings."""
    drill = authored("terrace-17")
    sure = replace(drill, lesson=replace(drill.lesson, doubt=Doubt()))

    assert not solve_drill(sure).opinion.misfit.explained


@cache
def doubting() -> Expert:
    """One expert for all plants of one record, who suspects nothing but one leak."""
    each = [Weighing(forecast_of(one), (LEAK,), one) for one in records(GIVEN, DOUBT)]
    return Expert(each, Ear(pair(meters=METERS), GIVEN))


def test_bands_hold_where_a_section_is_longer() -> None:
    """Of thirty plants with a wrong record, places lie in the bands as often as these say."""
    situation, level = pair(meters=METERS), replace(level_8(), doubt=DOUBT, hum_percent=0.0)
    draw = np.random.default_rng(17)
    settings = [
        *survey(doubting(), "idle")[5:],
        Setting(meter="bridge", across="bad=ring good=tip", state="strap"),
        Setting(meter="capacitance", across="tip-ring"),
    ]
    ranks, refused = [], 0
    for _ in range(30):
        laid = _laid(GIVEN, replace(DOUBT, wrong_length_percent=99.0), draw)
        at_m = float(draw.uniform(0.06, 0.94)) * laid.length_m
        leak = Leak(kind="leak", between=("ring", "sheath"), at_m=at_m, ohm=5e3)
        plant = _as_it_is(laid, level, draw)
        scenario = replace(situation.scenario, plant=plant, record=GIVEN, trouble=(leak,))
        hands = SettledPair(replace(situation, scenario=scenario))
        said = doubting().opinion([hands.look(each) for each in settings])
        refused += not said.misfit.explained
        ranks.append(rank(said.best, at_m))
    inside = [sum(abs(each - 0.5) <= band / 2 for each in ranks) for band in (0.5, 0.95)]

    assert refused <= 30 * REFUSED + 1
    # three standard deviations of a count of thirty
    assert 7 <= inside[0] <= 23
    assert inside[1] >= 25
