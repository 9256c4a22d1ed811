"""Marks that are fair: recorded attempts, good, hasty, lucky and unsafe, and what each is worth."""

from typing import get_args

import pytest

from farend_sim.drill.drill import Skill
from farend_sim.drill.marks.rubric import MARKS, WEIGHTS
from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.marks.verdict_text import next_words
from farend_sim.drill.solving.solve import asks_of
from farend_sim.drill.work.attempt import Attempt
from tests.drill.marking import LIFTED, SHORT, VOLTS, given, marked, mistakes
from tests.drill.working import NAMES, authored, by_expert, steps_of, worked


@pytest.mark.parametrize("name", NAMES)
def test_the_expert_passes(name: str) -> None:
    """The steps beside every author's drill earn a pass with nine tenths of the marks or more."""
    attempt, verdict = by_expert(name)
    assert [done.row for done in attempt.done if "refused" in done.row] == []
    assert verdict.failed_by == ()
    assert verdict.passed
    assert verdict.score >= 90


def test_the_drills_are_in_order() -> None:
    """Each has a number of its own in its level, and every skill is taught by one of them."""
    lessons = [authored(name).lesson for name in NAMES]
    assert len(NAMES) == len({(one.level, one.order) for one in lessons})
    assert set(range(1, 10)) == {one.level for one in lessons}
    assert {skill for one in lessons for skill in one.skills} == set(get_args(Skill))
    assert len(NAMES) >= 15


def test_the_weights_are_a_hundred() -> None:
    """The groups weigh a hundred, and every mark is of a group."""
    assert sum(WEIGHTS.values()) == 100
    assert set(WEIGHTS) == {mark.group for mark in MARKS}


def test_marks_add_up_to_a_hundred() -> None:
    """Whatever a drill cannot ask, what it asks is scaled to a hundred."""
    for name in ("tannery-19", "corn-hall-8", "moat-gate-16"):
        verdict = marked(authored(name), ["answer none"])
        assert sum(one.most for one in verdict.given) == pytest.approx(100)


def test_lucky_does_not_pass() -> None:
    """The right answer to the metre, with nothing read: no marks for it, and no pass."""
    verdict = marked(authored("mill-end-4"), [*LIFTED, SHORT, "restore"])
    assert not verdict.passed
    assert given(verdict, "right trouble") == (False, True)
    assert given(verdict, "right place") == (False, False)
    assert "no reading that came to rest shows it" in verdict.failed_by[0]


def test_lucky_with_the_wrong_readings_does_not_pass() -> None:
    """Readings that cannot show it do not help: legs to the sheath tell nothing of a short."""
    legs = ["meter ohms tip-sheath", "zero", "read", "log", "meter ohms ring-sheath", "read", "log"]
    verdict = marked(authored("mill-end-4"), [*LIFTED, *legs, "meter off", SHORT, "restore"])
    assert given(verdict, "right trouble") == (False, True)
    assert not verdict.passed


def test_a_leg_must_be_told_apart() -> None:
    """The loop alone shows that a joint is bad, and not in which leg."""
    drill = authored("vicarage-5")
    loop = ["keys #*27", "listen 1.5", "keys 18*", "listen 1.5", "meter ohms tip-ring", "zero"]
    end = ["read", "log", "meter off", "wait 60", "listen 3", "restore"]
    said = ["answer kind=joint leg=ring ohm=165 action=repair"]
    verdict = marked(drill, [*LIFTED, *loop, *end, *said])
    assert given(verdict, "right trouble") == (True, False)
    assert given(verdict, "right leg") == (False, True)
    assert not verdict.passed


def test_a_good_pair_must_be_surveyed() -> None:
    """Called good after one look across it: what such a look misses is named."""
    look = ["meter ohms tip-ring", "zero", "read", "log", "meter off", "answer none"]
    verdict = marked(authored("foundry-yard-2"), [*VOLTS, *look])
    assert not verdict.passed
    assert "would have missed a leak tip-sheath" in verdict.failed_by[0]


def test_unsafe_fails_whatever_the_answer() -> None:
    """Right in all, but the ohmmeter came first: that alone fails it."""
    drill = authored("mill-end-4")
    verdict = marked(drill, [step for step in steps_of(drill) if "volts" not in step])
    assert not verdict.passed
    assert given(verdict, "foreign DC first") == (False, True)
    assert given(verdict, "foreign AC first") == (False, True)
    assert given(verdict, "right trouble") == (True, False)


def test_two_of_three_pairs_are_not_three() -> None:
    """Foreign voltage looked for across the pair alone is not looked for."""
    drill = authored("mill-end-4")
    steps = [step for step in steps_of(drill) if step != "meter volts ring-sheath"]
    verdict = marked(drill, steps)
    assert given(verdict, "foreign DC first") == (False, True)
    assert "ring-sheath" in verdict.failed_by[0]


@pytest.mark.parametrize(
    ("hands", "right"),
    [
        (["unit unclip", "unit clip"], True),
        (["unit unclip", "unit ground on", "unit clip"], True),
        (["unit ground off", "unit unclip", "unit clip"], False),
        (["unit unclip", "unit clip no-ground", "unit ground on"], False),
    ],
)
def test_ground_first_on_last_off(hands: list[str], right: bool) -> None:
    """The unit's legs never on the pair while its ground lead goes on or off; or all is failed."""
    drill = authored("mill-end-4")
    verdict = marked(drill, [*hands, *steps_of(drill)])
    assert given(verdict, "ground first on, last off") == (right, not right)
    assert ("ground first on" in mistakes(verdict)) == (not right)


def test_two_troubles_want_two_answers() -> None:
    """One of two is not all, and a third answer is too many."""
    drill = authored("crooked-chapel-10")
    said = [step for step in steps_of(drill) if step.startswith("answer")]
    one = marked(drill, said[:1])
    assert "right trouble: not all that is wrong was found" in one.failed_by
    more = marked(drill, [*said, "answer kind=open leg=tip"])
    assert "right trouble: more was answered than is wrong" in more.failed_by


def test_hints_cost() -> None:
    """A hint takes its marks."""
    drill = authored("mill-end-4")
    attempt = worked(drill, steps_of(drill))
    attempt.ask_hint()
    assert by_expert("mill-end-4")[1].score - 3 == pytest.approx(judge(attempt).score)


def test_each_lost_mark_says_what_to_practise() -> None:
    """The dearest first, none for what was done well; who has passed is told what comes next."""
    drill = authored("mill-end-4")
    hasty = marked(drill, [*LIFTED, "meter ohms tip-ring", "read", "meter off", SHORT])
    lost = [one for one in hasty.given if one.fails or one.most - one.points > 0.5]
    named = [text.partition(":")[0] for text in hasty.practise]

    assert sorted(named) == sorted(one.name for one in lost)
    assert all(mark.practise for mark in MARKS)
    assert "drill again" in next_words(hasty)
    assert next_words(by_expert("mill-end-4")[1]) == drill.lesson.practice.strip()


def test_a_hold_is_counted_when_it_begins() -> None:
    """One hold with a reading in it, one without: half are wasted, whenever contacts moved."""
    used = ["keys #*27", "listen 2", "keys 18*", "listen 3", "meter ohms tip-ring", "read"]
    wasted = ["meter off", "wait 60", "keys #*27", "listen 2", "keys 18*", "listen 3"]
    verdict = marked(authored("foundry-yard-2"), [*VOLTS, "meter off", *used, *wasted])
    (one,) = (each for each in verdict.given if each.name == "holds used")

    assert one.why == "1 of 2 holds ran without a reading"


def test_a_good_pair_and_a_trouble_cannot_both_be() -> None:
    """The later answer stands; troubles stand beside each other."""
    drill = authored("foundry-yard-2")
    both = worked(drill, [SHORT, "answer kind=joint leg=tip ohm=9", "answer none"])
    turned = worked(drill, ["answer none", SHORT])

    assert [one.kind for one in both.answers] == ["none"]
    assert [one.kind for one in turned.answers] == ["leak"]


def test_the_same_hint_again_costs_nothing() -> None:
    """Asked three times with nothing done between, a hint counts once; after a step, once more."""
    attempt = Attempt(authored("mill-end-4"))
    counts = [attempt.ask_hint() for _ in range(3)]
    attempt.do("lift")

    assert [*counts, attempt.ask_hint()] == [1, 1, 1, 2]


def test_volts_under_an_office_are_not_foreign_ones() -> None:
    """Who looks before lifting reads the office, and is told so."""
    verdict = marked(authored("mill-end-4"), [*VOLTS, "lift", "meter ohms tip-ring", "read"])
    (one,) = (each for each in verdict.given if each.name == "foreign DC first")

    assert one.fails
    assert "with the office lifted, whose own volts hide it, before ohms" in one.why


def test_near_enough_is_the_records() -> None:
    """A record may be wrong about the length, and all that anybody knows is the record."""
    drill = authored("terrace-17")
    far_off = [step.replace("at_m=1100", "at_m=9") for step in steps_of(drill)]
    why = [one.why for one in marked(drill, far_off).given if one.name == "right place"]

    assert (drill.situation.scenario.plant.length_m, asks_of(drill).within_m) == (2600.0, 105.0)
    assert why == ["1091 m off, and 105 m is what it may be"]
