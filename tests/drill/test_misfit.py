"""Where no trouble that the expert knows explains the readings, it says so and names none."""

from dataclasses import replace

import numpy as np
import pytest

from farend_sim.drill.expert.choice import Choice
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.expert import expert
from farend_sim.drill.expert.looks import TWO_ENDS, Setting
from farend_sim.drill.expert.misfit import REFUSED
from farend_sim.drill.expert.opinion import Opinion
from farend_sim.drill.making.curriculum import find_curriculum
from farend_sim.drill.making.draws import _as_it_is
from farend_sim.drill.making.generate import level_of
from farend_sim.drill.solving.settled import SettledPair
from farend_sim.drill.solving.solve import Asks, survey, what_next
from line_model.plant import Neighbour, NeighbourState, Section
from line_model.troubles import Leak, Series, Split, Trouble
from tests.drill.test_expert import AT_M, LEAK, SHUNT, known, pair

ALL = ("volts", "ohms", "capacitance")
SEEN = (
    *(Setting(meter=meter, across=each) for meter in ("volts", "ohms") for each in TWO_ENDS),
    Setting(meter="ohms", across="tip-ring", state="strap"),
    *(Setting(meter="capacitance", across=each) for each in TWO_ENDS),
)


def opinion_of(*troubles: Trouble, state: NeighbourState = "quiet") -> Opinion:
    """What the expert makes of ohms and capacitance of a pair, a neighbour beside it."""
    situation = pair(*troubles, meters=ALL)
    neighbour = (Neighbour(name="next", state=state),)
    scenario = situation.scenario
    plant = replace(scenario.plant, neighbour=neighbour)
    hands = SettledPair(replace(situation, scenario=replace(scenario, plant=plant)))
    return known(ALL).opinion([hands.look(each) for each in SEEN], True)


def cross(ohm: float) -> Leak:
    """A path to the neighbour."""
    return Leak(kind="leak", between=("tip", "next.ring"), at_m=AT_M, ohm=ohm)


@pytest.mark.parametrize(
    ("troubles", "state"),
    [
        ((Split(kind="split", conductor="ring", from_m=400.0, to_m=900.0),), "quiet"),
        ((Split(kind="split", conductor="tip", from_m=1100.0, to_m=2300.0),), "open"),
        ((Split(kind="split", conductor="ring", from_m=1000.0),), "quiet"),
        ((cross(2e3),), "quiet"),
        ((cross(2e3),), "talking"),
        (
            (
                Leak(kind="leak", between=("tip", "sheath"), at_m=800.0, ohm=4e3),
                Series(kind="series", conductor="ring", at_m=2000.0, ohm=200.0),
            ),
            "quiet",
        ),
    ],
)
def test_what_it_does_not_know_is_refused(
    troubles: tuple[Trouble, ...], state: NeighbourState
) -> None:
    """Splits, crosses to a neighbour, a leak with a bad joint: something else, and no pin."""
    said = opinion_of(*troubles, state=state)

    assert not said.misfit.explained
    assert not said.pinned(None, False)


@pytest.mark.parametrize("troubles", [(), (SHUNT,), (LEAK,)])
def test_what_it_knows_is_not_refused(troubles: tuple[Trouble, ...]) -> None:
    """A good pair and leaks, on the very same readings."""
    assert opinion_of(*troubles).misfit.explained


def test_a_trouble_that_comes_and_goes_is_refused() -> None:
    """Readings of which some were taken with a leak and some without fit no trouble at all."""
    there, away = (SettledPair(pair(*each, meters=ALL)) for each in ((SHUNT,), ()))
    looks = [(there if at % 2 else away).look(setting) for at, setting in enumerate(SEEN)]
    misfit = known(ALL).opinion(looks, True).misfit

    assert not misfit.explained
    assert misfit.worst in SEEN


def test_a_good_pair_is_called_good_after_its_capacitance() -> None:
    """Ohms alone would do, were a split not perfect in ohms."""
    hands, who = SettledPair(pair(meters=ALL)), known(ALL)
    ohms = [hands.look(each) for each in survey(who, "idle")]
    looks = [*ohms, *(hands.look(each) for each in SEEN if each.meter == "capacitance")]
    asks = Asks(None, ohm=False)
    first, last = (
        what_next(who, who.opinion(each, True), each, True, asks, "idle") for each in (ohms, looks)
    )

    assert isinstance(first, Choice)
    assert first.setting.meter == "capacitance"
    assert last is None


def test_known_troubles_miss_as_normal_deviates_do() -> None:
    """Of plants drawn as the doubt says, misses spread by one, and hardly a pair is refused."""
    situation, who, refused, misses = pair(meters=("volts", "ohms")), known(), 0, []
    curriculum = find_curriculum("reference")
    level = replace(level_of(curriculum, 1), doubt=Doubt(), hum_percent=0.0)
    draw = np.random.default_rng(3)
    settings = survey(who, "idle")[3:]
    for _ in range(14):
        plant = _as_it_is(situation.scenario.recorded, level, draw)
        scenario = replace(situation.scenario, plant=plant, trouble=(LEAK,))
        hands = SettledPair(replace(situation, scenario=scenario))
        said = who.opinion([hands.look(each) for each in settings])
        refused += not said.misfit.explained
        misses += list(said.best.beliefs[0].misses[-3:])

    assert refused <= 14 * REFUSED + 1
    assert 0.6 < float(np.std(misses)) < 1.3


def test_a_wrong_gauge_is_found() -> None:
    """Where a section is of another gauge than it says, the right one leads to the place."""
    situation = pair(SHUNT)
    laid = situation.scenario.recorded
    said = replace(
        laid, section=(laid.section[0], Section(gauge_awg=24, length_m=laid.section[1].length_m))
    )
    scenario = replace(situation.scenario, plant=laid, record=said)
    hands = SettledPair(situation)
    looks = [hands.look(each) for each in survey(known(), "idle")]
    blind, doubting = (
        expert(replace(situation, scenario=scenario), doubt=doubt).opinion(looks, True)
        for doubt in (Doubt(), Doubt(wrong_gauge_percent=30.0))
    )

    assert not blind.misfit.explained
    assert doubting.misfit.explained
    assert doubting.off[0] == "section 2 is of 26 AWG, not 24"
    place = doubting.best.place_m
    assert place is not None
    assert place.low < AT_M < place.high
