"""Whatever is keyed, pressed and cut, whenever: legal contacts, and a pair that comes back."""

import copy

from hypothesis import example, given, settings
from hypothesis import strategies as st

from farend_sim import files
from farend_sim.unit import codes
from farend_sim.unit.contacts import REST, Closed, legal
from farend_sim.unit.effects import ContactsSet, Effect
from farend_sim.unit.events import (
    ButtonPressed,
    DigitHeard,
    Event,
    PowerBack,
    PowerLost,
    SwitchedOff,
)
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import AT_REST, HOLDS, SETTLED, State
from tests.unit.conftest import SCENARIOS
from tests.unit.story import Timed, happen, listen, live

S = 1_000_000
SCHEME = codes.compiled(files.load_scheme("offset", SCENARIOS))
PROFILE = files.load_unit("reference", SCENARIOS)
LONGEST_US = max(command.longest_us or 0 for command in SCHEME.commands)

Story = list[tuple[int, Event]]

_words = st.sampled_from(
    [
        "#*27",
        "#*2718*",
        "#*2763*",
        "#*2729*",
        "41*",
        "07*",
        "52*",
        "74*",
        "850084*",
        "96*",
        "#*2796*",
    ]
)
_keys = st.text("0123456789*#", min_size=1, max_size=4)
_acts = st.sampled_from([ButtonPressed(), SwitchedOff(), PowerLost(), PowerBack()])
_pause_us = st.sampled_from([0, 1, 4_999, 5_000, 100_000, 200_000, 700_000, 4 * S, 31 * S]) | (
    st.integers(0, 70 * S)
)


@st.composite
def stories(draw: st.DrawFn) -> Story:
    """Draw keys, words of the scheme and acts, close together or far apart."""
    happened: Story = []
    at_us = 0
    for _ in range(draw(st.integers(1, 8))):
        at_us += draw(_pause_us)
        if draw(st.integers(0, 4)) == 0:
            happened.append((at_us, draw(_acts)))
            continue
        key_us = draw(st.sampled_from([160_000, 160_000, 1, 80_000, 4 * S]))
        for key in draw(_words | _words | _keys):
            happened.append((at_us, DigitHeard(key)))
            at_us += key_us
    return happened


def fresh() -> Unit:
    return Unit(SCHEME, PROFILE.timing, PROFILE.electrical.tone_hz)


def check_moment(unit: Unit) -> None:
    """Assert what holds at every moment."""
    assert legal(unit.closed)
    assert unit.sound is None or SETTLED[State.TONE] <= unit.closed
    assert unit.state in HOLDS or unit.hold_deadline_us is None
    assert unit.state in (State.UNPOWERED, State.ASLEEP) or unit.deadline_us is not None


def check_contacts(lived: list[Timed], cuts_us: set[int]) -> None:
    """Assert break before make, but where the power fell and springs did it."""
    before: Closed = REST
    opened_us = -S
    for at_us, effect in lived:
        if not isinstance(effect, ContactsSet):
            continue
        closed = effect.closed
        assert legal(closed)
        opens, closes = bool(before - closed), bool(closed - before)
        assert opens or closes
        if at_us not in cuts_us:
            assert not (opens and closes)
            assert not closes or at_us - opened_us >= PROFILE.timing.operate_us
        if opens:
            opened_us = at_us
        before = closed


@given(stories())
@settings(max_examples=200, deadline=None)
def test_contacts_are_legal_and_break_before_they_make(story: Story):
    """At every effect of any story."""
    unit, lived = fresh(), []
    for at_us, event in story:
        lived += happen(unit, at_us, event)
        check_moment(unit)
    lived += live(unit, story[-1][0] + 2 * LONGEST_US)

    check_contacts(lived, {at_us for at_us, event in story if event == PowerLost()})


@given(stories())
@example([(n, DigitHeard(key)) for n, key in enumerate("#*27")] + [(9, PowerBack())])
@settings(max_examples=200, deadline=None)
def test_every_hold_is_over_by_its_longest_time(story: Story):
    """However it began, the pair comes back without anybody's help."""
    unit = fresh()
    for at_us, event in story:
        happen(unit, at_us, event)
        if unit.hold_deadline_us is not None:
            assert unit.hold_deadline_us <= at_us + LONGEST_US
    live(unit, story[-1][0] + LONGEST_US + 5 * S)

    assert unit.state in AT_REST
    assert (unit.closed, unit.sound, unit.hold_deadline_us) == (REST, None, None)


@given(stories(), st.randoms(use_true_random=False))
@settings(max_examples=100, deadline=None)
def test_slicing_time_differently_changes_nothing(story: Story, chance):
    """Woken on time, far too often, or not at all between events: the same effects."""
    punctual, nervous, lazy = fresh(), fresh(), fresh()
    done: list[list[Effect]] = [[], [], []]
    now_us = 0
    for at_us, event in story:
        done[0] += [effect for _, effect in happen(punctual, at_us, event)]
        for early_us in sorted(chance.randint(now_us, max(now_us, at_us - 1)) for _ in range(3)):
            if early_us < at_us:
                done[1] += nervous.wake(early_us)
        done[1] += nervous.handle(event, at_us)
        done[2] += lazy.handle(event, at_us)
        now_us = at_us
    end_us = now_us + 100 * S
    done[0] += [effect for _, effect in live(punctual, end_us)]
    done[1] += nervous.wake(end_us)
    done[2] += lazy.wake(end_us)

    assert done[0] == done[1] == done[2]
    assert punctual.state == nervous.state == lazy.state
    assert punctual.deadline_us == nervous.deadline_us == lazy.deadline_us


@given(stories())
@settings(max_examples=50, deadline=None)
def test_a_copy_goes_its_own_way(story: Story):
    """A copied unit lives on like the first and does not disturb it."""
    unit = fresh()
    for at_us, event in story[: len(story) // 2]:
        happen(unit, at_us, event)
    twin = copy.deepcopy(unit)
    effects = [happen(unit, at_us, event) for at_us, event in story[len(story) // 2 :]]

    assert effects == [happen(twin, at_us, event) for at_us, event in story[len(story) // 2 :]]


@given(st.lists(_words | _keys, min_size=1, max_size=5))
@settings(max_examples=100, deadline=None)
def test_unit_and_bare_decoder_agree(words: list[str]):
    """What the slips are counted with is what the unit does."""
    keys = "".join(words)
    unit = fresh()
    for n, key in enumerate(keys, start=1):
        happen(unit, n * 160_000, DigitHeard(key))
    live(unit, (len(keys) + 1) * 160_000 + 4 * S)

    assert unit.state in (listen(SCHEME, keys, State.IDLE)[1], State.ATTENTIVE)
