"""The grammar of a steps file."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim import shipped
from farend_sim.bench import steps as s
from farend_sim.bench.steps.grammar import VERBS, parse
from farend_sim.errors import BadFileError
from farend_sim.files import load_situation


@pytest.mark.parametrize(
    ("text", "step"),
    [
        ("unit wake", s.UnitWake(line=1, text="unit wake")),
        ("unit off", s.UnitOff(line=1, text="unit off")),
        ("unit clip", s.UnitClip(line=1, text="unit clip")),
        ("unit ground off", s.UnitGround(line=1, text="unit ground off", on=False)),
        (
            "unit clip no-ground reversed",
            s.UnitClip(line=1, text="unit clip no-ground reversed", reversed=True, ground=False),
        ),
        ("unit battery out", s.UnitBattery(line=1, text="unit battery out", present=False)),
        ("lift", s.Lift(line=1, text="lift")),
        ("restore", s.Restore(line=1, text="restore")),
        ("meter off", s.MeterOff(line=1, text="meter off")),
        (
            "meter bridge good=ring bad=tip",
            s.MeterOn(
                line=1,
                text="meter bridge good=ring bad=tip",
                meter="bridge",
                across="bad=tip good=ring",
            ),
        ),
        (
            "meter bridge bad=tip good=spare.ring",
            s.MeterOn(
                line=1,
                text="meter bridge bad=tip good=spare.ring",
                meter="bridge",
                across="bad=tip good=spare.ring",
            ),
        ),
        (
            "meter capacitance tip-ring+sheath",
            s.MeterOn(
                line=1,
                text="meter capacitance tip-ring+sheath",
                meter="capacitance",
                across="tip-ring+sheath",
            ),
        ),
        ("near loop", s.Near(line=1, text="near loop", lead="loop")),
        ("keys #*27,18*", s.Keys(line=1, text="keys #*27,18*", digits="#*27,18*")),
        ("wait 1.5", s.Wait(line=1, text="wait 1.5", duration_us=1_500_000)),
        ("listen 0", s.Listen(line=1, text="listen 0", duration_us=0)),
        ("read", s.Read(line=1, text="read")),
        ("zero", s.Zero(line=1, text="zero")),
        ("note  pair # 4", s.Note(line=1, text="note  pair # 4", note="pair # 4")),
    ],
)
def test_each_verb_is_a_step(text: str, step: s.Step) -> None:
    """A line is read into the step that its verb says."""
    assert (step,) == parse(text, "x.steps")


def test_keys_may_have_their_own_timing_and_level() -> None:
    """Options of keys come in any order."""
    text = "keys 1D level=-20.5 off=45 on=60"

    (step,) = parse(text, "x.steps")

    assert step == s.Keys(
        line=1, text=text, digits="1D", on_us=60_000, off_us=45_000, level_dbm=-20.5
    )


@pytest.mark.parametrize(
    "across",
    [
        "tip-ring",
        "ring-tip",
        "tip-sheath",
        "sheath-tip",
        "ring-sheath",
        "sheath-ring",
        "tip+ring-sheath",
        "sheath-tip+ring",
    ],
)
def test_meter_goes_across_any_two_terminals(across: str) -> None:
    """The two leads are told apart: plus first."""
    (step,) = parse(f"meter ohms {across}", "x.steps", ("ohms",))

    assert isinstance(step, s.MeterOn)
    assert ("ohms", across) == (step.meter, step.across)


def test_comments_and_blank_lines_are_no_steps() -> None:
    """A `#` begins a comment only where nothing stands before it."""
    read = parse("\ufeff# one\r\n\r\n  # two\r\n\tkeys #\r\n", "x.steps")

    assert [(step.line, step.text) for step in read] == [(4, "keys #")]


def test_all_mistakes_are_told_at_once() -> None:
    """Each mistaken line of a file is named."""
    with pytest.raises(BadFileError) as caught:
        parse("raed\nwait 1\nwait x\n#\nkeys z\n", "x.steps")

    lines = str(caught.value).split("\n")
    assert [line.rpartition(": ")[0] for line in lines] == ["x.steps:1", "x.steps:3", "x.steps:5"]


@given(text=st.lists(st.sampled_from([*VERBS, "\n", "#", "1", "=", "off", "clip"])).map(" ".join))
def test_no_text_breaks_the_grammar(text: str) -> None:
    """Words in any order are steps, or a bad file."""
    try:
        read = parse(text, "x.steps", ("ohms",))
    except BadFileError:
        return
    assert all(step.text for step in read)


@pytest.mark.parametrize("name", shipped.names("scenarios"))
def test_shipped_steps_are_sound(name: str) -> None:
    """Every shipped scenario has steps beside it that its meters allow."""
    situation = load_situation(name)
    steps = Path(situation.path).with_suffix(".steps")

    assert parse(steps.read_text(encoding="utf-8"), steps.name, tuple(situation.meters))
