"""A counterexample played into the running unit: when each key is due, and where it ends.

Law: times are the unit's own; the automaton only says what comes first.
"""

from farend_sim.scheme_lab.check.automaton import PAUSE, UNLOCK
from farend_sim.scheme_lab.check.explore import Way
from farend_sim.scheme_lab.check.finding import Keyed
from farend_sim.scheme_lab.check.model import BY_HAND, OVER, SLEEP
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.firmware import Unit
from farend_sim.unit.table import State
from farend_sim.unit_file import UnitFile

KEY_US = 160_000
"""A key and its pause. Source: a scenario's defaults, 80 ms and 80 ms."""
_MARGIN_US = 1000


def replay(
    scheme: CompiledScheme, file: UnitFile, way: Way, key_us: int = KEY_US
) -> tuple[tuple[Keyed, ...], State]:
    """Play a way, from an idle unit; return its moments and the unit's state at the end."""
    unit = Unit(scheme, file.timing, file.electrical.tone_hz)
    keyed: list[Keyed] = []
    now_us, last = 0, ""
    for symbol in way:
        if symbol in BY_HAND or len(symbol) == 1:
            now_us += key_us
            unit.handle(BY_HAND.get(symbol, DigitHeard(symbol)), now_us)
        else:
            now_us = _until(unit, scheme, file, symbol, last, now_us)
            unit.wake(now_us)
        keyed.append(Keyed(now_us / 1e6, symbol))
        last = symbol
    return tuple(keyed), unit.state


def _until(
    unit: Unit, scheme: CompiledScheme, file: UnitFile, symbol: str, last: str, now_us: int
) -> int:
    """When a timer comes."""
    if symbol == OVER:
        while unit.hold_deadline_us is None and (due_us := unit.deadline_us) is not None:
            unit.wake(due_us)
        return max(now_us, unit.hold_deadline_us or now_us)
    if symbol == UNLOCK:
        return now_us + scheme.lock_us
    if symbol == SLEEP:
        return now_us + file.timing.sleep_after_us
    assert symbol == PAUSE
    # After a whole knock, and after a gap, it is attention that has to run out.
    whole = unit.attentive and (last in (PAUSE, OVER) or not unit.keyed)
    return now_us + (scheme.attention_us if whole else scheme.gap_us) + _MARGIN_US
