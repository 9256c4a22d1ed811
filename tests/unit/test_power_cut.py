"""Power cut at every moment of a dialled story ends at rest, and nothing is remembered."""

from collections.abc import Iterator

from farend_sim.unit.codes import CompiledScheme, damm
from farend_sim.unit.contacts import REST, legal
from farend_sim.unit.events import DigitHeard, PowerBack, PowerLost
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import State
from farend_sim.unit_file import UnitFile
from tests.unit.story import KEY_US, dial, happen, live

S = 1_000_000
STORY_END_US = 30 * S


def story(compiled: CompiledScheme) -> list[tuple[int, str]]:
    """Set a hold of eight seconds, ground the tip, go on to the tone, and ask how it is."""
    lines = [
        (0, f"#*2785008{damm(compiled.check_table, '008')}*"),
        (3 * S, "29*"),
        (7 * S, "#*2763*"),
        (10 * S, "#*27"),
        (12 * S, "74*"),
    ]
    return [(at_us + KEY_US * n, key) for at_us, keys in lines for n, key in enumerate(keys)]


def moments(unit: Unit, keys: list[tuple[int, str]]) -> Iterator[int]:
    """Walk the story once; every key and deadline, the moments beside them, and a grid."""
    seen = set(range(0, STORY_END_US, 50_000))
    for at_us, key in keys:
        while (due_us := unit.deadline_us) is not None and due_us < at_us:
            seen |= {due_us - 1, due_us, due_us + 1}
            unit.wake(due_us)
        seen |= {at_us - 1, at_us, at_us + 1}
        unit.handle(DigitHeard(key), at_us)
    while (due_us := unit.deadline_us) is not None and due_us < STORY_END_US:
        seen |= {due_us - 1, due_us, due_us + 1}
        unit.wake(due_us)
    return iter(sorted(moment for moment in seen if moment >= 0))


def test_power_cut_at_every_moment(compiled: CompiledScheme, profile: UnitFile):
    """Nothing on the pair, nothing to come, nothing remembered."""

    def fresh() -> Unit:
        return Unit(compiled, profile.timing, profile.electrical.tone_hz)

    keys = story(compiled)
    for cut_us in moments(fresh(), keys):
        unit = fresh()
        for at_us, key in keys:
            if at_us < cut_us:
                happen(unit, at_us, DigitHeard(key))
        happen(unit, cut_us, PowerLost())

        assert (unit.state, unit.closed, unit.sound) == (State.UNPOWERED, REST, None)
        assert (unit.deadline_us, unit.hold_deadline_us) == (None, None)

        back_us = cut_us + S
        assert happen(unit, back_us, PowerBack()) == []
        assert (unit.state, unit.closed) == (State.IDLE, REST)
        last_us = dial(unit, "#*2718*", back_us + S)
        live(unit, last_us + 445_000)
        assert legal(unit.closed)
        assert unit.hold_deadline_us == last_us + 445_000 + 60 * S
