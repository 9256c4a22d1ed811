"""What may knock though nobody meant to: subscribers' digits, voices, and two units at once.

Dial tone cannot: 350 and 440 Hz lie in neither group of keypad tones, and a key needs one of each.
Source: ITU-T Q.23 and E.180 Supplement 2, from memory.
"""

from collections import deque
from collections.abc import Iterator
from dataclasses import replace

from farend_sim.scheme_lab.check.explore import Way
from farend_sim.scheme_lab.check.finding import Finding
from farend_sim.scheme_lab.check.model import START, Model, Moment
from farend_sim.unit import codes
from farend_sim.unit.scheme import Scheme

NUMBER_DIGITS = (7, 10)
"""How many digits subscribers dial. Source: common practice in North America, from memory."""
FEW_KEYS = 3
"""A voice may fake a key now and then, but hardly so many in the right order. Source: a choice."""


def numbers_that_knock(knock: str, digits: int) -> int:
    """Count the numbers of so many digits that hold the knock."""
    if not knock.isdecimal():
        return 0
    at = [1] + [0] * len(knock)
    for _ in range(digits):
        onward = [0] * (len(knock) + 1)
        onward[-1] = 10 * at[-1]
        for length, count in enumerate(at[:-1]):
            for digit in "0123456789":
                onward[_overlap(knock, knock[:length] + digit)] += count
        at = onward
    return at[-1]


def _overlap(knock: str, seen: str) -> int:
    return next(n for n in range(len(seen), -1, -1) if seen.endswith(knock[:n]))


def stray_knocks(scheme: Scheme) -> Iterator[tuple[Finding, Way]]:
    """Find what a telephone on the same pair can do."""
    knock = scheme.knock + scheme.unit_number
    for digits in NUMBER_DIGITS:
        if count := numbers_that_knock(knock, digits):
            what = f"{count} of the 10^{digits} numbers of {digits} digits hold the knock {knock!r}"
            other = next((digit for digit in "5678901234" if digit not in knock), "0")
            yield Finding("subscriber-knocks", what), tuple(knock.rjust(digits, other))
    if len(knock) <= FEW_KEYS:
        what = f"the knock {knock!r} is {len(knock)} keys; so many in a row a voice may fake"
        yield Finding("speech-knocks", what), tuple(knock)


def double_answers(scheme: Scheme) -> Iterator[tuple[str, Way]]:
    """Find keys at which the unit and a neighbour both attend."""
    ours = Model(codes.compiled(scheme), scheme.keys)
    for number in scheme.neighbours:
        other = codes.compiled(replace(scheme, unit_number=number))
        pad = "".join(sorted(set(scheme.knock + scheme.unit_number + number)))
        if (way := _both_attend(ours, Model(other, scheme.keys), pad)) is not None:
            yield number, way


def _both_attend(one: Model, other: Model, pad: str) -> Way | None:
    """Breadth first over both units, by the keys of their knocks and numbers."""
    ahead: deque[tuple[Moment, Moment, Way]] = deque([(START, START, ())])
    seen = {(START, START)}
    while ahead:
        a, b, way = ahead.popleft()
        for key in pad:
            _, to_a, act_a, _ = one.key(a, key)
            _, to_b, act_b, _ = other.key(b, key)
            if to_a.place.attentive and to_b.place.attentive:
                return (*way, key)
            # One that has been commanded is another story, and another finding.
            commanded = any(act and act.command >= 0 for act in (act_a, act_b))
            if not commanded and (to_a, to_b) not in seen:
                seen.add((to_a, to_b))
                ahead.append((to_a, to_b, (*way, key)))
    return None


def swallowed(model: Model) -> Way | None:
    """A whole knock, keyed while the unit attends, after which it does not attend."""
    at = START
    way = model.scheme.knock * 2
    for key in way:
        _, at, _, _ = model.key(at, key)
    return None if at.place.attentive else tuple(way)
