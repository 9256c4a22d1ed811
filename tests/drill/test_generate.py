"""Drills made by seed: the same again, fair, solvable on the bench, and sealed."""

import re
from dataclasses import asdict
from functools import cache
from pathlib import Path

import pytest

from farend_sim import shipped as of_ours
from farend_sim.drill.files import sealed_text
from farend_sim.drill.lesson.debrief import debrief, expert_attempt
from farend_sim.drill.making.calibrate import drill_row, report
from farend_sim.drill.making.curriculum import Curriculum, find_curriculum
from farend_sim.drill.making.generate import Made, guessed, level_of, missed, new_drill, right
from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.solving.solve import solve_drill
from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError
from tui.plain.drill_talk import Talk

LEVELS = (2, 5, 6, 8, 9)


@cache
def shipped() -> Curriculum:
    """The one that ships."""
    return find_curriculum("reference")


@cache
def kept(level: int, seed: int) -> Made:
    """A drill of it, made once for all that is asked of it."""
    return new_drill(shipped(), level, seed)


@pytest.fixture(scope="module")
def curriculum() -> Curriculum:
    """The one that ships."""
    return shipped()


def test_the_same_seed_gives_the_same_drill(curriculum: Curriculum) -> None:
    """Level and seed fix a drill to the byte; another seed gives another."""
    first, again, other = (
        made.drill.sealed
        for made in (kept(1, 0), new_drill(curriculum, 1, 0), new_drill(curriculum, 1, 6))
    )

    assert first == again
    assert first.source != other.source


@pytest.mark.parametrize("level", LEVELS)
def test_a_drill_of_each_level_is_fair(curriculum: Curriculum, level: int) -> None:
    """Read back from its own text, a drill is solved, is not guessed, and asks what it may."""
    made = kept(level, 11)
    solution = solve_drill(made.drill)

    assert missed(made.drill, solution) is None
    assert not guessed(made.drill)
    assert made.drill.lesson.level == level
    assert made.mix in {mix.name for mix in level_of(curriculum, level).mix}


@pytest.mark.parametrize(("level", "seed"), [(1, 0), (4, 1)])
def test_the_bench_comes_to_the_experts_readings(level: int, seed: int) -> None:
    """Keys, holds and meters in time show what the settled pair showed, within display steps."""
    made = kept(level, seed)
    done = [one.row for one in expert_attempt(made.drill).done if one.step.text == "read"]
    rows = [row for row in done if row.get("meter") != "ac-volts"]

    for look, row in zip(made.solution.looks, rows, strict=True):
        assert row.get("refused") is None
        if look.value is None:
            assert row["value"] is None
        else:
            assert row["value"] == pytest.approx(look.value, rel=2e-3, abs=0.15)


def test_a_sealed_drill_tells_nothing() -> None:
    """What a trainee is given holds neither trouble, skills, solution nor seed."""
    made = kept(4, 1)
    text = sealed_text(made.drill)

    assert "ring-sheath" in " ".join(f"{'-'.join(one.leg)}" for one in made.drill.truth)
    assert not any(word in text for word in ("trouble", "skills", "seed", 'sheath"', "answer "))


def test_what_may_be_guessed_is_told() -> None:
    """The middle of the route misses every kept place; a drill there would be dropped."""
    made = kept(4, 1)
    dropped = [one for seed in range(3) for one in kept(3, seed).tries if one.why]

    assert right(made.drill, list(made.drill.truth))
    assert all(guessed(one.drill) == (one.solution is None) for one in dropped)


def test_kinds_and_bands_of_a_few_drills(curriculum: Curriculum) -> None:
    """A sample of a level: kinds as stated, every drill solved, and places inside wide bands."""
    rows = [drill_row(curriculum, 3, seed) for seed in range(8)]
    told = report(curriculum, 3, rows)

    assert told["drills"] == 8
    assert told["kinds"]["p"] > 1e-3
    assert told["pinned_and_wrong"] == 0
    assert told["bands"][-1]["high"] > 0.95


def test_a_missing_level_and_a_guessable_share_are_told(
    curriculum: Curriculum, tmp_path: Path
) -> None:
    """A level that is not there, and an answer so common that it needs no reading."""
    with pytest.raises(BadFileError, match="--level: found 12, expected one of 1, 2"):
        new_drill(curriculum, 12, 0)
    shipped = of_ours.shipped("curricula", "reference").read_text(encoding="utf-8")
    bad = tmp_path / "bad.toml"
    bad.write_text(shipped.replace("share = 35", "share = 350", 1), encoding="utf-8")
    with pytest.raises(BadFileError, match=r"bad.toml:\d+: level\[0\].mix\[0\].share: found an"):
        find_curriculum(str(bad))


@pytest.mark.parametrize("level", LEVELS)
def test_nothing_that_a_trainee_is_given_holds_the_answer(level: int) -> None:
    """File in clear, ticket, record, help and card of a made drill: no figure of its trouble."""
    drill = kept(level, 11).drill
    told: list[str] = []
    talk = Talk(Attempt(drill), told.append)
    for word in ("ticket", "record", "card", "help", "hint", "cautions", "answers"):
        talk.take(word)
    text = sealed_text(drill).partition("[sealed]")[0] + "\n".join(told)
    scenario = drill.situation.scenario
    whole = f"{scenario.recorded.length_m:.0f}"
    values = [value for one in scenario.trouble for value in asdict(one).values()]
    figures = {f"{each:g}" for each in values if isinstance(each, float) and each > 99} - {whole}

    assert [each for each in figures if re.search(rf"\b{re.escape(each)}\b", text)] == []
    assert not any(word in text for word in ("[[trouble", "skills", "between =", "conductor ="))


@pytest.mark.parametrize(("level", "seed"), [(4, 1), (6, 11)])
def test_what_the_expert_does_earns_a_pass(level: int, seed: int) -> None:
    """The expert's own steps, on a bench where time and charge count, are marked as a pass.

    So the generator's proof and the rubric agree on what may be known from which readings.
    """
    verdict = judge(expert_attempt(kept(level, seed).drill))

    assert (verdict.failed_by, verdict.passed) == ((), True)


@pytest.mark.parametrize(("level", "seed", "doubts"), [(6, 11, False), (9, 5, True)])
def test_the_lesson_says_whether_the_record_was_doubted(
    level: int, seed: int, doubts: bool
) -> None:
    """An opinion that names what the record has wrong does not claim to have believed it."""
    told = "\n".join(debrief(expert_attempt(kept(level, seed).drill)).opinion)

    assert ("It takes the record at its word." not in told) == doubts
    assert ("The record is off (61 % likely): section 1 is some 360 m longer" in told) == doubts
