"""What is wrong with a pair, in a trainee's words."""

import math
from pathlib import Path

import pytest

from farend_sim.bench import steps as s
from farend_sim.bench.answer import (
    CLASS_LIMITS_OHM,
    GOOD_PAIR,
    Action,
    Answer,
    resistance_class,
    same_resistance,
)
from farend_sim.bench.steps.grammar import parse
from farend_sim.drill.truth import truth
from farend_sim.errors import BadFileError
from line_model.terminals import Conductor
from tests.bench.written import KILOMETRE, situation

SHORT = '[[trouble]]\nkind = "leak"\nbetween = ["tip", "ring"]\nat_m = 400.0\nohm = 0.5\n'
OPEN = '[[trouble]]\nkind = "series"\nconductor = "tip"\nat_m = 700.0\n'
REVERSED = '[[trouble]]\nkind = "reversal"\nat_m = 300.0\n'
TAP = '[[plant.tap]]\nname = "T"\nat_m = 250.0\ngauge_awg = 24\nlength_m = 90.0\n'
ON_TAP = (
    '[[trouble]]\nkind = "leak"\nbetween = ["tip", "sheath"]\non = "T"\nat_m = 80.0\nohm = 9e3\n'
)
WET = (
    '[[trouble]]\nkind = "wet"\nbetween = ["ring", "sheath"]\nfrom_m = 100.0\nto_m = 200.0\n'
    "ohm_km = 5e3\n"
)


def lies(
    leg: tuple[Conductor, ...], at_m: float, within_m: float, ohm: float, kind: str, action: Action
) -> Answer:
    return Answer(leg=leg, at_m=at_m, within_m=within_m, ohm=ohm, kind=kind, action=action)


@pytest.mark.parametrize(
    ("body", "answers"),
    [
        ("", (GOOD_PAIR,)),
        (
            OPEN + SHORT,
            (
                lies(("tip", "ring"), 400.0, 0.0, 0.5, kind="leak", action="repair"),
                lies(("tip",), 700.0, 0.0, math.inf, kind="series", action="repair"),
            ),
        ),
        (WET, (lies(("ring", "sheath"), 150.0, 50.0, 5e4, kind="wet", action="replace"),)),
    ],
)
def test_truth_is_near_to_far(tmp_path: Path, body: str, answers: tuple[Answer, ...]) -> None:
    """The truth tells of every trouble in its order along the route, whatever the file's order."""
    assert answers == truth(situation(tmp_path, KILOMETRE + body).scenario)


def test_legs_are_the_near_end_s(tmp_path: Path) -> None:
    """Behind a reversal the cable's tip is the meter's ring, and so it is to be answered."""
    found = truth(situation(tmp_path, KILOMETRE + REVERSED + OPEN).scenario)
    assert [one.leg for one in found] == [(), ("ring",)]


def test_a_tap_lies_where_it_is_joined(tmp_path: Path) -> None:
    """A trouble on a tap is answered at the tap's joint: no reading here is past it."""
    (found,) = truth(situation(tmp_path, KILOMETRE + TAP + ON_TAP).scenario)
    assert found.at_m == 250.0


@pytest.mark.parametrize(
    ("typed", "answer"),
    [
        ("none", GOOD_PAIR),
        ("kind=short at_m=5", Answer(kind="leak", leg=("tip", "ring"), at_m=5.0)),
        ("kind=ground leg=ring", Answer(kind="leak", leg=("ring", "sheath"))),
        ("kind=open leg=tip", Answer(kind="series", leg=("tip",), ohm=math.inf)),
        (
            "kind=leak leg=sheath-tip at_ft=1000 within_ft=10 ohm=high",
            Answer(kind="leak", leg=("tip", "sheath"), at_m=304.8, within_m=3.048, ohm=1e7),
        ),
    ],
)
def test_words_of_an_answer(typed: str, answer: Answer) -> None:
    """Trade words, feet and classes of ohms are read into the same answer."""
    (step,) = parse(f"answer {typed}", "typed")
    assert isinstance(step, s.Say)
    said = step.answer
    assert said is not None
    assert (answer.kind, answer.leg, answer.ohm) == (said.kind, said.leg, said.ohm)
    assert answer.at_m == pytest.approx(said.at_m)
    assert answer.within_m == pytest.approx(said.within_m)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ("answer", "answer none"),
        ("answer kind=shrt", "did you mean 'short'"),
        ("answer leg=tip", "no kind="),
        ("answer kind=open leg=tap", "one of tip, ring, sheath"),
        ("answer kind=open within_m=4", "at_m=M or at_ft=FT"),
        ("answer kind=open at_m=4 at_ft=4", "one of them"),
        ("answer kind=open at_m=-4", "metres from 0"),
        ("answer kind=leak ohm=lots", "ohms from 0"),
        ("answer kind=none at_m=5", "of a good pair"),
    ],
)
def test_a_bad_answer_is_told(typed: str, words: str) -> None:
    """Each mistake in an answer is told with what was expected."""
    with pytest.raises(BadFileError, match=words):
        parse(typed, "typed")


def test_classes_of_resistance() -> None:
    """A class holds up to its limit; figures close beside a limit are of one class."""
    limits = [limit for limit, _ in CLASS_LIMITS_OHM[:-1]]
    below = [resistance_class(limit * 0.999) for limit in limits]
    assert below == ["short", "low", "middle", "high"]
    assert [resistance_class(limit) for limit in limits] == ["low", "middle", "high", "open"]
    assert same_resistance(9.0, 11.0)
    assert not same_resistance(5.0, 15.0)
    assert not same_resistance(9e4, math.inf)
