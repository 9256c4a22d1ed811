"""Mistakes are told: unsafe acts, spoiled readings, and wrong places that one error explains."""

import pytest

from tests.drill.marking import LIFTED, SHORT, VOLTS, given, marked, mistakes
from tests.drill.working import authored, steps_of


def test_not_lifted_fails() -> None:
    """An ohmmeter against the office's battery: failed, and told when."""
    drill = authored("mill-end-4")
    steps = [step for step in steps_of(drill) if step not in ("lift", "restore")]
    verdict = marked(drill, steps)
    assert given(verdict, "lifted before test") == (False, True)
    assert "ohms with the office not lifted" in mistakes(verdict)


def test_going_on_over_battery_fails() -> None:
    """Battery found and named, and then the ohmmeter all the same."""
    drill = authored("tannery-19")
    verdict = marked(drill, [*steps_of(drill), "meter ohms tip-ring", "read", "meter off"])
    assert given(verdict, "stopped and reported") == (False, True)
    assert "carries foreign battery" in mistakes(verdict)


def test_wrong_pair_fails() -> None:
    """Driven on the post of the old card, a working pair: failed."""
    drill = authored("corn-hall-8")
    verdict = marked(drill, ["clip 8", *VOLTS, "meter ohms tip-ring", "read", "answer none"])
    assert given(verdict, "no other pair driven") == (False, True)
    assert "on another pair than the ticket's" in mistakes(verdict)


@pytest.mark.parametrize(
    ("at_m", "words"),
    [
        ("2646", "a loop's ohms taken as one leg's"),
        ("661", "one leg's ohms taken as a loop's"),
        ("4340", "fits in feet"),
        ("403", "given as feet"),
    ],
)
def test_wrong_places_are_explained(at_m: str, words: str) -> None:
    """A place that one common error explains is told so."""
    drill = authored("mill-end-4")
    steps = [step.replace("1323", at_m) for step in steps_of(drill)]
    verdict = marked(drill, steps)
    assert given(verdict, "right place") == (False, False)
    assert words in mistakes(verdict)


def test_a_place_says_how_far_it_may_be_off() -> None:
    """A place without its error, outside its own error, or said of half the cable, is half one."""
    drill = authored("mill-end-4")
    for said in ("at_m=1323", "at_m=1363 within_m=10", "at_m=1323 within_m=900"):
        steps = [
            step.replace("at_m=1323 within_m=90", said) if step == SHORT else step
            for step in steps_of(drill)
        ]
        verdict = marked(drill, steps)
        (place,) = (one for one in verdict.given if one.name == "right place")
        assert place.most / 2 == pytest.approx(place.points)


def test_a_spoiled_reading_that_was_believed() -> None:
    """A reading that the hold's end spoiled, and that was written down, is told and costs."""
    drill = authored("foundry-yard-2")
    strap = ["keys #*27", "listen 1.5", "keys 18*", "wait 57", "meter ohms tip-ring", "zero"]
    verdict = marked(drill, [*VOLTS, *strap, "read", "log", "meter off", "answer none"])
    assert "the hold ran out under it, and was written down" in mistakes(verdict)
    assert given(verdict, "readings at rest") == (False, False)


def test_dialled_over_a_meter_and_left_strapped() -> None:
    """Keys sent over a clipped meter, and a strap that is left behind, are told."""
    steps = [*VOLTS, "keys #*27", "meter off", "keys #*27", "listen 1.5", "keys 18*", "listen 1.5"]
    verdict = marked(authored("foundry-yard-2"), steps)
    assert "a meter still on the pair" in mistakes(verdict)
    assert "strap still on the pair" in mistakes(verdict)
    assert given(verdict, "unit at rest") == (False, False)


def test_hasty_loses_marks() -> None:
    """Right, but leads in the readings, nothing written down, and left lifted."""
    loop = ["meter ohms tip-ring", "read", "meter off", SHORT]
    verdict = marked(authored("mill-end-4"), [*LIFTED, *loop])
    marks = ("leads zeroed", "readings written down", "line restored")
    assert [given(verdict, name) for name in marks] == [(False, False)] * 3
    assert "both polarities" not in [each.name for each in verdict.given]
    assert "left with the office lifted" in mistakes(verdict)
    assert not verdict.passed
    assert verdict.failed_by == ()
