"""What the trainer's panel shows: the far end's inside. Made only while the switch is on."""

from collections.abc import Iterable
from dataclasses import dataclass

from farend_sim.bench.snapshot import Far, ReceiverLevels
from farend_sim.unit.table import HOLDS, State
from tui.views.bars import level_bar

_SPAN_DBM = -90.0, 6.0
"""The foot and the top of a bar: from far under the receiver's floor to its ceiling."""
_GROUP = 4


@dataclass(frozen=True, slots=True)
class FarView:
    state: str
    closed: str
    deadline: str
    waits: str
    verdict: str
    scale: str
    """What the levels' numbers are."""
    low: "LevelsView"
    """The keypad's four low tones."""
    high: "LevelsView"
    """Its four high ones."""
    keyed: str = ""
    """What its decoder keeps."""
    power: str = ""


@dataclass(frozen=True, slots=True)
class LevelsView:
    """Lines, one a tone; empty with the unit off the pair."""

    bars: str
    """The level as a bar in which the receiver's floor is marked."""
    words: str


def far(inside: Far, receiver: ReceiverLevels, now_us: int) -> FarView:
    """The unit, its contacts, its timer, and what reaches its receiver."""
    return FarView(
        state=inside.state.value,
        closed=", ".join(sorted(one.value for one in inside.closed)) or "none",
        deadline=_deadline(inside, now_us),
        waits=_waits(inside),
        verdict="hears the keypad" if receiver.hears else f"deaf to the keypad: {receiver.why}",
        scale=f"dBm at its receiver (dB over its floor of {receiver.floor_dbm:g} dBm)",
        low=_levels(receiver.level_dbm[:_GROUP], receiver.floor_dbm),
        high=_levels(receiver.level_dbm[_GROUP:], receiver.floor_dbm),
        keyed=inside.keyed or "nothing",
        power="none" if inside.state is State.UNPOWERED else "its battery",
    )


def _deadline(inside: Far, now_us: int) -> str:
    if inside.deadline_us is not None:
        return f"{(inside.deadline_us - now_us) / 1e6:.1f} s left"
    return "not begun" if inside.state in HOLDS else "no hold"


def _waits(inside: Far) -> str:
    if inside.state is State.UNPOWERED:
        return "a battery"
    if inside.state is State.ASLEEP:
        return "its button"
    return "a command" if inside.attentive else "a knock"


def _levels(tones: Iterable[tuple[float, float | None]], floor_dbm: float) -> LevelsView:
    known = [(hz, level_dbm) for hz, level_dbm in tones if level_dbm is not None]
    return LevelsView(
        "\n".join(level_bar(level_dbm, _SPAN_DBM, floor_dbm) for _, level_dbm in known),
        "\n".join(
            f"{hz:4.0f} Hz {level_dbm:6.1f} ({level_dbm - floor_dbm:+.0f})"
            for hz, level_dbm in known
        ),
    )
