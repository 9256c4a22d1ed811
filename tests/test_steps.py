"""The grammar of a steps file."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim.bench import steps as s
from farend_sim.bench.steps.grammar import VERBS, parse
from farend_sim.errors import BadFileError


@pytest.mark.parametrize(
    ("text", "of", "fields"),
    [
        ("unit wake", s.UnitWake, {}),
        ("unit off", s.UnitOff, {}),
        ("unit clip", s.UnitClip, {}),
        ("unit ground off", s.UnitGround, {"on": False}),
        ("unit clip no-ground reversed", s.UnitClip, {"reversed": True, "ground": False}),
        ("unit battery out", s.UnitBattery, {"present": False}),
        ("lift", s.Lift, {}),
        ("restore", s.Restore, {}),
        ("meter off", s.MeterOff, {}),
        (
            "meter bridge good=ring bad=tip",
            s.MeterOn,
            {"meter": "bridge", "across": "bad=tip good=ring"},
        ),
        (
            "meter bridge bad=tip good=spare.ring",
            s.MeterOn,
            {"meter": "bridge", "across": "bad=tip good=spare.ring"},
        ),
        (
            "meter capacitance tip-ring+sheath",
            s.MeterOn,
            {"meter": "capacitance", "across": "tip-ring+sheath"},
        ),
        ("near loop", s.Near, {"lead": "loop"}),
        ("keys #*27,18*", s.Keys, {"digits": "#*27,18*"}),
        ("wait 1.5", s.Wait, {"duration_us": 1_500_000}),
        ("listen 0", s.Listen, {"duration_us": 0}),
        ("read", s.Read, {}),
        ("zero", s.Zero, {}),
        ("note  pair # 4", s.Note, {"note": "pair # 4"}),
    ],
)
def test_each_verb_is_a_step(text: str, of: type[s.Step], fields: dict[str, object]) -> None:
    """A line is read into the step that its verb says."""
    assert (of(line=1, text=text, **fields),) == parse(text, "x.steps")


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
