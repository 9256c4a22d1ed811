"""What keys and pauses mean in the shipped scheme."""

from dataclasses import replace

import pytest

from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme, damm
from farend_sim.unit.decoder import Decoder, Meant
from farend_sim.unit.scheme import Lockout, Scheme
from farend_sim.unit.table import Input, State
from tests.unit.story import KEY_US, listen

KNOCK = [Meant(Input.KNOCK)]
REFUSE = [Meant(Input.REFUSE)]
LAPSE = [Meant(Input.LAPSE)]
RESTART = [Meant(Input.RESTART)]
STRAP = [Meant(Input.STRAP, "accepted", 60_000_000)]
STATUS = [Meant(Input.STATUS, "status")]


def test_the_check_digit_of_the_published_example(compiled: CompiledScheme):
    """The example usually given. Source: H. M. Damm, dissertation 2004, from memory."""
    assert damm(compiled.check_table, "572") == 4


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ("18*", []),
        ("#*28", []),
        ("#*27", KNOCK + LAPSE),
        ("###*27", KNOCK + LAPSE),
        ("1#*2#*27", KNOCK + LAPSE),
        ("#*2718*", KNOCK + STRAP),
        ("#*2718", KNOCK + LAPSE),
        ("#*27*", KNOCK + REFUSE),
        ("#*27118*18*", KNOCK + REFUSE),
        ("#*2719*18*", KNOCK + REFUSE),
        ("#*27A18*", KNOCK + REFUSE),
        ("#*27#18*", KNOCK + RESTART),
        ("#*27#*2718*", KNOCK + RESTART + KNOCK + STRAP),
        ("#*2718*29*", KNOCK + STRAP),
        ("#*2774*74*18*", KNOCK + STATUS + STATUS + STRAP),
        ("#*277418*", KNOCK + REFUSE),
        ("#*2785004*", KNOCK + REFUSE),
        ("#*2785abcd*", KNOCK + REFUSE),
    ],
)
def test_keys_mean(compiled: CompiledScheme, keys: str, expected: list[Meant]):
    """Knock, command, end key: anything else is nothing, or refused."""
    assert expected == listen(compiled, keys, State.IDLE)[0]


@pytest.mark.parametrize(("seconds", "taken"), [(0, False), (4, False), (5, True), (120, True)])
def test_a_hold_is_set_within_its_bounds(compiled: CompiledScheme, seconds: int, taken: bool):
    """A hold too short to be of use, or too long to be borne, is refused."""
    digits = f"{seconds:03}"
    keys = f"#*2785{digits}{damm(compiled.check_table, digits)}*"
    heard = listen(compiled, keys, State.IDLE)[0][1]

    assert (Input.SET_HOLD if taken else Input.REFUSE) == heard.input
    assert (seconds * 1_000_000 if taken else None) == heard.hold_us


def test_the_gap_counts_from_the_last_key(compiled: CompiledScheme):
    """A pause of the whole gap is borne between any two keys; one longer is not."""
    decoder = Decoder(compiled)
    now_us = 0
    for key in "#*2718*":
        assert decoder.wake(now_us - 1) is None
        heard = decoder.hear(key, now_us, State.ATTENTIVE)
        now_us += compiled.gap_us

    assert [heard] == STRAP


def test_an_unfinished_knock_is_forgotten_silently(compiled: CompiledScheme):
    """A subscriber's own digits that happen to begin the knock cause nothing."""
    decoder = Decoder(compiled)
    decoder.hear("#", 0, State.IDLE)
    decoder.hear("*", KEY_US, State.IDLE)

    assert compiled.gap_us + KEY_US == decoder.deadline_us
    assert decoder.wake(compiled.gap_us + KEY_US) is None
    assert decoder.deadline_us is None


@pytest.mark.parametrize(
    ("keys", "expected"),
    [
        ("*27#182*", KNOCK + STRAP),
        ("*27#185*", KNOCK + REFUSE),
        ("*27182*", KNOCK + REFUSE),
        ("*27#18#182*", KNOCK + REFUSE),
    ],
)
def test_a_framed_scheme_is_data(scheme: Scheme, keys: str, expected: list[Meant]):
    """Start key, function, check, end key: a start key inside a frame refuses, never restarts."""
    framed = codes.compiled(replace(scheme, knock="*", start="#", restart=False, check="command"))
    assert damm(scheme.check_table, "18") == 2  # the check digit of the strap in these keys

    assert expected == listen(framed, keys, State.IDLE)[0]


def test_a_scheme_without_end_key_is_data(scheme: Scheme):
    """A command acts at its last key, and what begins no command is refused there and then."""
    terse = codes.compiled(replace(scheme, end=""))

    assert listen(terse, "#*2718", State.IDLE)[0] == KNOCK + STRAP
    assert listen(terse, "#*2719", State.IDLE)[0] == KNOCK + REFUSE
    digits = f"120{damm(scheme.check_table, '120')}"
    assert listen(terse, f"#*2785{digits}", State.IDLE)[0][1].hold_us == 120_000_000


def test_a_lockout_is_deaf_for_its_time(scheme: Scheme):
    """So many refusals in a row, and the unit hears nothing, not even its knock, for a while."""
    locking = codes.compiled(replace(scheme, lockout=Lockout(refusals=2, lock_s=60.0)))
    decoder = Decoder(locking)

    def heard(keys: str, now_us: int) -> list[Input]:
        got = [decoder.hear(key, now_us, State.ATTENTIVE) for key in keys]
        return [one.input for one in got if one is not None]

    assert heard("#*27*", 0) == [Input.KNOCK, Input.REFUSE]
    assert heard("#*2774*", 0) == [Input.KNOCK, Input.STATUS]
    assert heard("*#*27*", 0) == [Input.REFUSE, Input.KNOCK, Input.REFUSE]
    assert heard("#*27", 59_999_999) == []
    assert heard("#*27", 60_000_000) == [Input.KNOCK]


def test_a_confirmed_command_is_keyed_twice(scheme: Scheme):
    """The first time is silent; the same again acts; another one in between is refused."""
    command = tuple(replace(each, confirmed=each.does == "strap") for each in scheme.command)
    confirmed = codes.compiled(replace(scheme, command=command))

    assert listen(confirmed, "#*2718*", State.IDLE)[0] == KNOCK + LAPSE
    assert listen(confirmed, "#*2718*18*", State.IDLE)[0] == KNOCK + STRAP
    assert listen(confirmed, "#*2718*74*18*", State.IDLE)[0] == KNOCK + REFUSE


@pytest.mark.parametrize(
    ("leftover", "expected"), [("close", LAPSE), ("drop", REFUSE), ("keep", STRAP)]
)
def test_too_long_a_gap_does_what_the_scheme_says(
    scheme: Scheme, leftover: str, expected: list[Meant]
):
    """A code torn in two: attention is over, or its end stands alone, or it is whole after all."""
    decoder = Decoder(codes.compiled(replace(scheme, leftover=leftover)))
    decoder.open(0)
    assert decoder.hear("1", KEY_US, State.ATTENTIVE) is None
    late_us = KEY_US + 4_000_000
    heard = [decoder.wake(late_us)]
    heard += [decoder.hear(key, late_us + KEY_US, State.ATTENTIVE) for key in "8*"]

    assert [one for one in heard if one is not None] == expected
