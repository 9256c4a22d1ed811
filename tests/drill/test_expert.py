"""The expert: finds what is wrong from readings, says how surely, and knows what to read next."""

from dataclasses import replace
from functools import cache
from pathlib import Path

import pytest

from farend_sim.drill.expert.expert import Expert, expert
from farend_sim.drill.expert.looks import Look, Setting
from farend_sim.drill.solving.settled import SettledPair
from farend_sim.drill.solving.solve import Asks, Solution, next_best, solve
from farend_sim.drill.solving.solve_steps import steps_text
from farend_sim.errors import BadFileError
from farend_sim.files import load_meter, load_situation
from farend_sim.situation import Situation
from farend_sim.unit.table import PairState
from line_model.troubles import Battery, Leak, Reversal, Series, Trouble
from tests.drill.working import authored, worked

AT_M = 1325.0
SHORT = Leak(kind="leak", between=("tip", "ring"), at_m=AT_M, ohm=0.5)
SHUNT = Leak(kind="leak", between=("tip", "ring"), at_m=AT_M, ohm=3e3)
LEAK = Leak(kind="leak", between=("tip", "sheath"), at_m=AT_M, ohm=40e3)
JOINT = Series(kind="series", conductor="ring", at_m=AT_M, ohm=150.0)
TIP_OPEN = Series(kind="series", conductor="tip", at_m=AT_M)
RING_OPEN = Series(kind="series", conductor="ring", at_m=AT_M)
SHEATH_OPEN = Series(kind="series", conductor="sheath", at_m=AT_M)
CROSS = Battery(kind="battery", conductor="tip", at_m=AT_M, volt=-50.0, ohm=5e3)
TURNED = Reversal(kind="reversal", at_m=AT_M)


def pair(*troubles: Trouble, meters: tuple[str, ...] = ("volts", "ohms")) -> Situation:
    """The first scenario's pair with these troubles and meters."""
    shipped = load_situation("good-pair")
    scenario = replace(shipped.scenario, trouble=troubles, record=shipped.scenario.recorded)
    return replace(
        shipped, scenario=scenario, meters={name: load_meter(name, Path()) for name in meters}
    )


@cache
def known(meters: tuple[str, ...] = ("volts", "ohms")) -> Expert:
    """One expert for all pairs, since it knows nothing of their troubles."""
    return expert(pair(meters=meters))


def solved(situation: Situation, within_m: float | None, ohm: bool = True) -> Solution:
    """What the expert makes of a pair at rest."""
    who = known(tuple(situation.meters))
    return solve(who, SettledPair(situation), Asks(within_m, ohm))


@pytest.mark.parametrize(
    ("troubles", "label", "place"),
    [
        ((), "none", False),
        ((SHORT,), "leak tip-ring", True),
        ((SHUNT,), "leak tip-ring", True),
        ((LEAK,), "leak tip-sheath", False),
        ((JOINT,), "series ring", False),
        ((RING_OPEN,), "open ring", False),
        ((SHEATH_OPEN,), "open sheath", False),
        ((TURNED,), "reversal", False),
    ],
)
def test_ohms_and_volts_pin_down(troubles: tuple[Trouble, ...], label: str, place: bool) -> None:
    """What two meters can tell is pinned down, and a place that they can tell is in its band."""
    solution = solved(pair(*troubles), 123.0 if place else None)

    best = solution.opinion.best
    assert (True, label) == (solution.pinned, best.label)
    if place:
        assert best.place_m is not None
        assert best.place_m.low <= AT_M <= best.place_m.high


@pytest.mark.parametrize(
    ("troubles", "meter", "label"),
    [
        ((LEAK,), "bridge", "leak tip-sheath"),
        ((RING_OPEN,), "capacitance", "open ring"),
        ((TIP_OPEN, RING_OPEN), "capacitance", "open tip-ring"),
    ],
)
def test_a_further_meter_is_chosen_and_gives_the_place(
    troubles: tuple[Trouble, ...], meter: str, label: str
) -> None:
    """Without the meter no place is known; with it at hand it is taken up, and the place is."""
    without = solved(pair(*troubles), 123.0)
    solution = solved(pair(*troubles, meters=("volts", "ohms", meter)), 123.0)

    assert not without.pinned
    assert (True, label) == (solution.pinned, solution.opinion.best.label)
    assert meter in {look.setting.meter for look in solution.looks}
    band = solution.opinion.best.place_m
    assert band is not None
    assert abs(band.at - AT_M) < 60.0


def test_foreign_battery_ends_all_ohms() -> None:
    """Once foreign voltage is found, nothing but the voltmeter goes on the pair."""
    solution = solved(pair(CROSS), None, ohm=False)

    assert (solution.pinned, solution.opinion.best.label) == (True, "battery tip")
    assert {"volts"} == {look.setting.meter for look in solution.looks}


def test_a_wet_joints_own_volts_are_no_battery() -> None:
    """A leak with half a volt of its own is a leak, with its ohms."""
    wet = Leak(kind="leak", between=("tip", "sheath"), at_m=AT_M, ohm=40e3, emf_volt=0.5)
    best = solved(pair(wet), None).opinion.best

    assert best.label == "leak tip-sheath"
    assert best.ohm is not None
    assert best.ohm.low < 40e3 < best.ohm.high


def test_a_silent_unit_is_told_nothing() -> None:
    """Over a hard short no knock is answered, so no reading needs a state."""
    solution = solved(pair(SHORT), 123.0)

    assert not solution.heard
    assert {"idle"} == {look.setting.state for look in solution.looks}


def test_silence_tells() -> None:
    """That a knock died tells a metal short from dirt a little nearer."""
    situation = pair(SHORT)
    look = SettledPair(situation).look(Setting(meter="ohms", across="tip-ring"))

    deaf, told = (known().opinion([look], heard).best for heard in (None, False))
    assert deaf.place_m is not None
    assert told.place_m is not None
    assert told.place_m.half < deaf.place_m.half / 2


def test_what_nothing_tells_stays_open() -> None:
    """A series joint cannot be ranged by DC from one end: its place stays spread over the route."""
    band = solved(pair(JOINT), None).opinion.best.place_m

    assert band is not None
    assert band.high - band.low > 0.8 * 2460.0


def test_without_an_ohmmeter_there_is_no_beginning() -> None:
    """A drill that leaves the expert nothing to begin with is told so."""
    with pytest.raises(BadFileError, match="found no ohmmeter"):
        solved(pair(SHORT, meters=("capacitance",)), None)


def test_a_display_that_wanders_counts_for_less() -> None:
    """Two ends of a display are known by half of what lies between them, at best."""
    situation = pair(SHUNT)
    look = SettledPair(situation).look(Setting(meter="ohms", across="tip-ring", state="strap"))
    assert look.value is not None
    wandered = replace(look, low=look.value - 4.0, high=look.value + 4.0)
    law = known().forecast.meters["ohms"]

    still, wide = law.seen(look), law.seen(wandered)
    assert still is not None
    assert wide is not None
    assert wide.value == still.value
    assert wide.sd > 10 * still.sd


def test_two_wet_legs_are_told_from_one_path_across() -> None:
    """Both legs leaking at one joint are two answers, each with its ohms, at one place."""
    wet = (
        Leak(kind="leak", between=("tip", "sheath"), at_m=AT_M, ohm=300.0),
        Leak(kind="leak", between=("ring", "sheath"), at_m=AT_M, ohm=900.0),
    )
    solution = solved(pair(*wet), 123.0)
    said = solution.opinion.best.answers()

    assert solution.pinned
    assert [one.leg for one in said] == [("tip", "sheath"), ("ring", "sheath")]
    assert [one.ohm for one in said] == pytest.approx([300.0, 900.0], rel=0.05)
    assert said[0].at_m == pytest.approx(AT_M, abs=123.0)


def test_two_wet_legs_at_two_places_are_not_taken_for_one_joint() -> None:
    """A bridge reads a place between them, where nothing is: so both are told wide, and no pin."""
    wet = (
        Leak(kind="leak", between=("tip", "sheath"), at_m=AT_M, ohm=40e3),
        Leak(kind="leak", between=("ring", "sheath"), at_m=2200.0, ohm=200e3),
    )
    solution = solved(pair(*wet, meters=("volts", "ohms", "bridge")), 123.0)
    best = solution.opinion.best

    assert not solution.pinned
    assert best.label == "leak tip-sheath and ring-sheath"
    assert best.place_m is not None
    assert best.second_m is not None
    assert best.place_m.low < AT_M < best.place_m.high
    assert best.second_m.low < 2200.0 < best.second_m.high
    assert [one.ohm for one in best.answers()] == pytest.approx([40e3, 200e3], rel=0.02)


def test_its_steps_confirm_what_a_scheme_wants_confirmed() -> None:
    """On the bench each of its readings is taken in the state that it was taken in."""
    situation = pair(JOINT)
    command = tuple(
        replace(each, confirmed=not each.argument_digits) for each in situation.scheme.command
    )
    twice = replace(situation, scheme=replace(situation.scheme, command=command))
    solution = solved(twice, None)
    drill = replace(authored("tannery-19"), situation=twice)
    attempt = worked(drill, steps_text(solution, drill).splitlines())

    read = [done.before.far.state.value for done in attempt.done if done.step.text == "read"]
    assert [look.setting.state for look in solution.looks] == read
    assert "strap" in read


def test_the_next_reading_is_one_that_tells() -> None:
    """With a strap's loop off by a joint's ohms, each leg to ground is what sorts the legs."""
    situation = pair(JOINT)
    hands = SettledPair(situation)
    states: tuple[PairState, ...] = ("idle", "strap")
    looks: list[Look] = [
        hands.look(Setting(meter="ohms", across="tip-ring", state=state)) for state in states
    ]
    who = known()
    best = next_best(who, who.opinion(looks), looks, True, Asks(None, True))

    assert best is not None
    assert best.setting.state in ("tip-ground", "ring-ground")
