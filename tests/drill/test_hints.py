"""Hints: what a careful worker would do next, never what is wrong."""

from dataclasses import replace

import pytest

from farend_sim.bench.steps.grammar import parse
from farend_sim.bench.steps.transcript import play
from farend_sim.drill.lesson.hints import hint
from farend_sim.drill.solving.second_opinion import SecondOpinion
from farend_sim.drill.solving.solve import solve_drill
from farend_sim.drill.work.attempt import Attempt
from farend_sim.drill.work.story import Story
from line_model.troubles import Leak
from tests.drill.marking import LIFTED
from tests.drill.working import authored, steps_of, worked


def test_hints_go_before_the_work() -> None:
    """Lift, foreign voltage DC and AC, leads, the survey, the logbook, the answer, the rest."""
    attempt = Attempt(authored("mill-end-4"))
    told = [hint(attempt)]
    for step in steps_of(authored("mill-end-4")):
        attempt.do(step)
        if (now := hint(attempt)) != told[-1]:
            told.append(now)
    firsts = [text.split()[0] for text in told]
    assert firsts[:2] == ["Lift", "Look"]
    assert "AC first: across tip-ring" in " ".join(told)
    assert "leads off" in " ".join(told)
    assert "Still to be read" in " ".join(told)
    assert told[-1].startswith("Put everything back")
    assert not any(word in " ".join(told) for word in ("1322", "short", "leak", "wrong"))
    assert "have the unit" not in " ".join(told[2:])  # it left the knock unanswered


def test_a_hint_over_foreign_voltage_is_to_stop() -> None:
    """Where battery was read, nothing else is to be read."""
    drill = authored("tannery-19")
    steps = [step for step in steps_of(drill) if not step.startswith("answer")]
    assert "stop, back off" in hint(worked(drill, steps))


def test_a_leak_that_is_a_cell_is_no_foreign_voltage() -> None:
    """What a hint calls foreign is what the expert does: a wet leak's own volt or two is not."""
    drill = authored("mill-end-4")
    cell = Leak(kind="leak", between=("tip", "sheath"), at_m=500.0, ohm=20e3, emf_volt=2.0)
    scenario = replace(drill.situation.scenario, trouble=(cell,))
    drill = replace(drill, situation=replace(drill.situation, scenario=scenario))
    done = worked(drill, LIFTED)
    solution = solve_drill(drill)

    assert max(abs(each.row["value"]) for each in done.done if each.is_reading) > 1.5
    assert "foreign" not in hint(done)
    assert {"ohms", "volts"} == {look.setting.meter for look in solution.looks}


def test_the_expert_reads_what_the_trainee_read() -> None:
    """From a trainee's own readings the expert comes to the trouble, and knows it pinned down."""
    drill = authored("ferry-road-12")
    opinion = SecondOpinion(Story(worked(drill, steps_of(drill))))
    assert opinion.heard
    assert opinion.opinion is not None
    best = opinion.opinion.best
    assert (best.suspect.kind, best.suspect.leg) == ("leak", ("tip", "sheath"))
    assert opinion.next() is None


def test_nothing_read_is_no_opinion() -> None:
    """Without a reading there is nothing to weigh."""
    assert SecondOpinion(Story(Attempt(authored("ferry-road-12")))).opinion is None


def test_a_unit_that_does_not_answer_is_told_nothing() -> None:
    """Once a knock was left unanswered no hint asks for a strap; before it, one does."""
    drill = authored("kiln-lane-7")
    ohms = ("tip-ring", "tip-sheath", "ring-sheath")
    steps = [*LIFTED, "meter ohms tip-ring", "zero"]
    steps += [step for across in ohms for step in (f"meter ohms {across}", "wait 12", "read")]
    before = worked(drill, steps)
    after = worked(drill, [*steps, "meter off", "keys #*27", "listen 3"])

    assert [SecondOpinion(Story(each)).heard for each in (before, after)] == [None, False]
    assert ["strap" in hint(each) for each in (before, after)] == [True, False]


@pytest.mark.parametrize(
    ("level_dbm", "wait_s", "next_is"), [(0, 0, "tip"), (-70, 0, "tip"), (0, 90, "unit strap")]
)
def test_what_was_asked_for_counts(level_dbm: int, wait_s: int, next_is: str) -> None:
    """A state is read once it was keyed, heard or not; after its hold it is read no more."""
    drill = authored("foundry-yard-2")
    ohms = ("tip-ring", "tip-sheath", "ring-sheath")
    steps = [*LIFTED, "meter ohms tip-ring", "zero"]
    steps += [step for across in ohms for step in (f"meter ohms {across}", "wait 12", "read")]
    steps += ["meter off", "keys #*27", "listen 2", f"keys 18* level={level_dbm}"]
    strapped = worked(drill, [*steps, "listen 2", f"wait {wait_s}", "meter ohms tip-ring", "read"])

    assert f"have the {next_is}" in hint(strapped)


def test_a_bridge_without_a_loop_is_no_opinion() -> None:
    """A display that says words alone gives the expert nothing to weigh, and a hint goes on."""
    drill = authored("ferry-road-12")
    attempt = worked(drill, [*LIFTED, "meter bridge bad=tip good=ring", "read", "meter off"])
    words = worked(drill, ["meter bridge bad=tip good=ring", "lift", "read"])

    assert "zero" in hint(attempt)
    assert words.done[-1].row["shown"] == "no loop"
    assert SecondOpinion(Story(words)).opinion is None


def test_a_run_knows_log_and_answer() -> None:
    """`run` has the same verbs; a display with nothing on it cannot be written down."""
    situation = authored("mill-end-4").situation
    steps = parse("log\nmeter volts tip-ring\nlog\nread\nlog\nanswer none\nanswer drop", "typed")
    rows = list(play(situation, steps))
    nothing = "there is no reading on the display"
    assert [row.get("refused") for row in rows] == [nothing, None, nothing, *[None] * 4]
    shown = {"meter": "volts", "across": "tip-ring", "shown": rows[3]["shown"]}
    assert rows[4]["logged"] == shown
    assert rows[5]["answered"]["kind"] == "none"
    assert rows[6]["answered"] is None
