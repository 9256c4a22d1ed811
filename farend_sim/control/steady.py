"""What sounds on a pair for as long as it is joined there: hum, dial tone and their like.

Law: one row a kind says how it is heard, and by which filter the receiver's front end takes it
off; whoever meets such a sound asks here and knows no kind by name.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from farend_sim.control.ear import NOISY_DBM, Heard, What, audible
from line_model.signal import power_sum_dbm, volt_to_dbm
from line_model.standing import Steady
from line_model.weighting import c_message_db


@dataclass(frozen=True, slots=True)
class Kind:
    """One kind of steady sound."""

    what: What
    """As what it is heard."""
    words: str
    """How a person puts it down."""
    hums: bool = False
    """An ear is as deaf to it as the weighting says, and hears what is left as noise."""
    taken_off: Literal["dial", "hum", "nothing"] = "nothing"
    """The filter that is meant for it."""


KINDS = {
    "hum": Kind("noise", "a steady hum", hums=True, taken_off="hum"),
    "ringing": Kind("noise", "a coarse buzz", hums=True, taken_off="hum"),
    "dial": Kind("dial", "{tones}, steady", taken_off="dial"),
    "sender": Kind("tone", "{tones}, steady"),
    "talk": Kind("noise", "voices, from another pair"),
}


def loud_dbm(one: Steady) -> float:
    """How loud one is to an ear, if it were alone [dBm]."""
    weight_db = c_message_db(one.hz) if KINDS[one.what].hums else 0.0
    return volt_to_dbm(abs(one.phasor_volt)) + weight_db


def of_steady(tones: Sequence[Steady], noise_dbm: float, start_us: int) -> Heard | None:
    """Return what is heard of sounds of one kind together, or None."""
    kind = KINDS[tones[0].what]
    level_dbm = power_sum_dbm([loud_dbm(one) for one in tones])
    if level_dbm < NOISY_DBM if kind.hums else not audible(level_dbm, noise_dbm):
        return None
    hz = " and ".join(f"{hz:g} Hz" for hz in sorted({one.hz for one in tones}))
    return Heard(kind.what, kind.words.format(tones=hz), start_us / 1e6, level_dbm)
