"""What the ear at the near end gets: what kind of sound, its pattern and level, never its meaning.

Law: pure; levels in, what is heard out. The bench solves the line and calls this.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal

from farend_sim.control.replies import pattern, stretches
from farend_sim.unit.effects import Sound

AUDIBLE_DBM = -55.0
"""Below this an ear at a receiver across the pair hears nothing. Source: common practice, none."""
OVER_NOISE_DB = 3.0
"""A tone must be this far over the noise of the whole band. Source: common practice, none; an ear
picks a steady tone out of noise better than this, but not in a trench beside a road."""
NOISY_DBM = -50.0
"""Noise from here is heard as such. Source: common practice, none."""

What = Literal["reply", "tone", "dial", "click", "noise"]


@dataclass(frozen=True, slots=True)
class Heard:
    """One sound at the near end, as a person would put it down."""

    what: What
    pattern: str
    start_s: float
    level_dbm: float


def audible(level_dbm: float, noise_dbm: float) -> bool:
    """Return whether a sound of this level is heard over noise of that level."""
    return level_dbm >= AUDIBLE_DBM and level_dbm >= noise_dbm + OVER_NOISE_DB


def of_sound(
    sound: Sound, level_by_hz: Mapping[float, float], noise_dbm: float, from_us: int, to_us: int
) -> Heard | None:
    """Return what is heard of a unit's sound between two moments, or None.

    Args:
        sound: the reply or the tone.
        level_by_hz: level at the ear of each of its frequencies [dBm].
        noise_dbm: level of the line's noise there.
        from_us: when the ear begins to listen, or the line to be as it is.
        to_us: when it ends.
    """
    loud = {hz for hz, level_dbm in level_by_hz.items() if audible(level_dbm, noise_dbm)}
    heard = [one for one in stretches(sound, from_us, to_us) if one[0] in loud]
    if not heard:
        return None
    # A sound that was cut by a contact, or that began before the ear listened, is still written
    # down as its whole pattern: the steps carry the times.
    faint = frozenset(level_by_hz) - loud
    level_dbm = max(level_by_hz[hz] for hz, _, _ in heard)
    start_us = max(from_us, heard[0][1])
    what: What = "tone" if sound.repeat else "reply"
    return Heard(what, pattern(sound, faint), start_us / 1e6, level_dbm)


def of_click(level_dbm: float, noise_dbm: float, at_us: int) -> Heard | None:
    """Return a contact's click as heard, or None."""
    if not audible(level_dbm, noise_dbm):
        return None
    return Heard("click", "a click", at_us / 1e6, level_dbm)


def of_noise(level_dbm: float, start_us: int) -> Heard | None:
    """Return the line's own noise as heard, or None."""
    if level_dbm < NOISY_DBM:
        return None
    return Heard("noise", "a steady rush", start_us / 1e6, level_dbm)
