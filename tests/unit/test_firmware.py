"""What the unit does and when, told as stories of a technician who dials."""

from dataclasses import replace

import pytest

from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme, damm
from farend_sim.unit.contacts import REST, Contact
from farend_sim.unit.effects import Sound
from farend_sim.unit.events import ButtonPressed, DigitHeard, PowerBack, PowerLost, SwitchedOff
from farend_sim.unit.firmware import Unit
from farend_sim.unit.scheme import Scheme
from farend_sim.unit.table import HOLDS, SETTLED, State
from farend_sim.unit_file import UnitFile
from tests.unit.story import KEY_US, contacts, dial, happen, live

S = 1_000_000
CODES = {
    State.STRAP: "18",
    State.TIP_GROUND: "29",
    State.RING_GROUND: "30",
    State.BOTH_GROUND: "41",
    State.OPEN: "52",
    State.TONE: "63",
    State.OFF_PAIR: "07",
}


def hold(unit: Unit, state: State, from_us: int = 0) -> int:
    """Dial a function in one go, and live until its hold has begun; return that moment."""
    at_us = dial(unit, f"#*27{CODES[state]}*", from_us)
    while unit.hold_deadline_us is None:
        assert unit.deadline_us is not None
        at_us = unit.deadline_us
        unit.wake(at_us)
    return at_us


def sounds(lived) -> list[tuple[int, str]]:
    sounding = [(at_us, effect) for at_us, effect in lived if isinstance(effect, Sound)]
    return [(at_us, "tone" if sound.repeat else "reply") for at_us, sound in sounding]


def test_a_strap_from_knock_to_home(unit: Unit):
    """Reply, contact, hold, contact, reply: each in its turn, to the microsecond."""
    last_us = dial(unit, "#*2718*", 0)
    lived = live(unit, last_us + 70 * S)
    made_us = last_us + 200_000 + 240_000 + 5_000
    over_us = made_us + 60 * S

    assert contacts(lived) == [
        (last_us + 200_000, ["tone"]),
        (last_us + 440_000, []),
        (made_us, ["strap"]),
        (over_us, []),
        (over_us + 5_000, ["series"]),
        (over_us + 205_000, ["series", "tone"]),
        (over_us + 385_000, ["series"]),
    ]
    assert sounds(lived) == [(last_us + 200_000, "reply"), (over_us + 205_000, "reply")]
    assert unit.state == State.IDLE


@pytest.mark.parametrize("state", HOLDS)
def test_every_function_holds_what_it_says_as_long_as_it_says(unit: Unit, state: State):
    """The hold runs from contact close, and ends by itself."""
    made_us = hold(unit, state)

    assert SETTLED[state] == unit.closed
    assert made_us + 60 * S == unit.hold_deadline_us
    live(unit, made_us + 60 * S - 1)
    assert state == unit.state
    live(unit, made_us + 61 * S)
    assert (unit.state, unit.closed, unit.hold_deadline_us) == (State.IDLE, REST, None)


def test_a_knock_opens_the_series_contacts_at_once_and_answers_late(unit: Unit):
    """The office is off before the command is dialled; the reply waits for fingers in a hurry."""
    last_us = dial(unit, "#*27", 0)

    assert (State.ATTENTIVE, frozenset()) == (unit.state, unit.closed)
    assert sounds(live(unit, last_us + 2 * S)) == [(last_us + 700_000, "reply")]


def test_keys_in_one_go_drop_the_knock_s_reply(unit: Unit):
    """The unit does not talk over the one who dials."""
    last_us = dial(unit, "#*271", 0)

    assert sounds(live(unit, last_us + 2 * S)) == []


def test_attention_runs_out(unit: Unit):
    """Nobody dialled a command: the office comes back, and the unit says so."""
    last_us = dial(unit, "#*27", 0)
    lived = live(unit, last_us + 31 * S)

    assert (last_us + 30 * S, ["series"]) in contacts(lived)
    assert [last_us + 700_000, last_us + 30 * S + 200_000] == [at for at, _ in sounds(lived)]
    assert unit.state == State.IDLE


def test_a_refusal_is_heard_before_the_office_comes_back(unit: Unit):
    """One long tone, then home."""
    last_us = dial(unit, "#*2719*", 0)
    lived = live(unit, last_us + 2 * S)

    assert contacts(lived)[0] == (last_us + 200_000, ["tone"])
    assert contacts(lived)[-1] == (last_us + 555_000, ["series"])
    assert unit.state == State.IDLE


@pytest.mark.parametrize("state", HOLDS)
def test_a_knock_in_a_hold_keeps_it(unit: Unit, state: State):
    """Whoever makes himself heard is answered, and the hold runs on as if nothing had been."""
    made_us = hold(unit, state)
    last_us = dial(unit, "#*27", made_us + 5 * S)
    lived = live(unit, last_us + 2 * S)

    assert sounds(lived)[0] == (
        last_us + 700_000 + (0 if SETTLED[state] <= {Contact.TONE} else 5_000),
        "reply",
    )
    assert (state, SETTLED[state], True) == (unit.state, unit.closed, unit.attentive)
    assert made_us + 60 * S == unit.hold_deadline_us


@pytest.mark.parametrize("old", HOLDS)
@pytest.mark.parametrize("new", HOLDS)
def test_from_hold_to_hold(unit: Unit, old: State, new: State):
    """A new function needs no release, and has a hold of its own."""
    hold(unit, old)
    made_us = hold(unit, new, 20 * S)

    assert (new, SETTLED[new]) == (unit.state, unit.closed)
    assert made_us + 60 * S == unit.hold_deadline_us


@pytest.mark.parametrize("state", HOLDS)
def test_a_release_that_is_heard_releases(unit: Unit, state: State):
    """Deafness is the line's doing: a strapped unit that hears, obeys."""
    hold(unit, state)
    last_us = dial(unit, "#*2796*", 10 * S)
    live(unit, last_us + S)

    assert (unit.state, unit.closed, unit.hold_deadline_us) == (State.IDLE, REST, None)


def test_an_attention_that_runs_out_in_a_hold_disturbs_nothing(unit: Unit):
    """A half-dialled command must not spoil a reading ten seconds later."""
    hold(unit, State.TIP_GROUND)
    last_us = dial(unit, "#*271", 5 * S)
    lived = live(unit, last_us + 10 * S)

    assert (lived, unit.attentive) == ([], False)


def test_the_tone_has_gaps_and_takes_up_again_after_a_reply(unit: Unit):
    """One effect for the whole tone state; a reply interrupts it."""
    made_us = hold(unit, State.TONE)
    tone = unit.sound
    assert tone is not None
    heard = [tone.hz_at(made_us + at_ms * 1000) for at_ms in (0, 599, 600, 999, 1000, 1600, 2000)]
    assert heard == [580.0, 580.0, 0.0, 0.0, 1060.0, 0.0, 580.0]

    last_us = dial(unit, "#*27", made_us + 5 * S)
    lived = live(unit, last_us + 2 * S)
    assert [(last_us + 700_000, "reply"), (last_us + 880_000, "tone")] == sounds(lived)
    assert contacts(lived) == []


def set_hold(compiled: CompiledScheme, seconds: int) -> str:
    digits = f"{seconds:03}"
    return f"#*2785{digits}{damm(compiled.check_table, digits)}*"


@pytest.mark.parametrize(
    ("event", "kept"),
    [(None, True), (ButtonPressed(), True), (SwitchedOff(), False), (PowerLost(), False)],
)
def test_a_set_hold_lasts_until_sleep_or_power_end_it(unit: Unit, compiled, event, kept: bool):
    """It is for all later functions, asleep or without power forgotten."""
    at_us = dial(unit, set_hold(compiled, 120), 0) + S
    if event is not None:
        happen(unit, at_us, event)
        happen(unit, at_us + S, PowerBack())
        happen(unit, at_us + S, ButtonPressed())
    made_us = hold(unit, State.OPEN, at_us + 40 * S)

    assert made_us + (120 if kept else 60) * S == unit.hold_deadline_us


@pytest.mark.parametrize("state", HOLDS)
def test_the_button_ends_any_hold(unit: Unit, state: State):
    """A helper at the far end can always bring the unit home, and hears that it is awake."""
    hold(unit, state)
    at_us = 10 * S
    lived = happen(unit, at_us, ButtonPressed()) + live(unit, at_us + S)

    assert (unit.state, unit.closed) == (State.IDLE, REST)
    assert len(sounds(lived)) == 1


def test_the_unit_sleeps_after_its_time_and_only_the_button_wakes_it(unit: Unit, profile: UnitFile):
    """A battery lasts, because nobody is listened to for ever."""
    sleep_us = dial(unit, "#*2796*", 0) + profile.timing.sleep_after_us
    live(unit, sleep_us - 1)
    assert unit.state == State.IDLE
    assert live(unit, sleep_us) == []
    assert unit.state == State.ASLEEP

    dial(unit, "#*2718*", sleep_us + S)
    assert (unit.state, unit.closed) == (State.ASLEEP, REST)
    happen(unit, sleep_us + 10 * S, ButtonPressed())
    assert unit.state == State.IDLE


def test_half_a_knock_is_not_kept_over_the_button(unit: Unit):
    """What was dialled before somebody stood at the unit is forgotten."""
    dial(unit, "#*2", 0)
    happen(unit, S, ButtonPressed())
    happen(unit, S + KEY_US, DigitHeard("7"))

    assert unit.state == State.IDLE


def test_a_hold_without_a_new_knock(scheme: Scheme, profile: UnitFile):
    """In a scheme that says so, the unit attends again when a hold is over."""
    kind = codes.compiled(replace(scheme, knock_after_hold=False))
    unit = Unit(kind, profile.timing, profile.electrical.tone_hz)
    made_us = hold(unit, State.STRAP)
    live(unit, made_us + 62 * S)
    assert unit.state == State.ATTENTIVE
    dial(unit, "29*", made_us + 63 * S)

    assert unit.state == State.TIP_GROUND


def test_status_tells_states_apart(compiled: CompiledScheme):
    """No two states that can be asked for sound alike."""
    asked = (State.ATTENTIVE, *HOLDS)

    assert len({compiled.voice("status", state) for state in asked}) == len(asked)


def test_no_reply_is_mistaken_for_another(compiled: CompiledScheme):
    """Patterns are short, and no two are the same."""
    assert len(set(compiled.replies.values())) == len(compiled.replies)
    assert all(reply.duration_us < 800_000 for reply in compiled.replies.values())
