"""Keys played through a line's gains into the receiver: whether it hears them, or why not.

Law: the verdict and its reason are the receiver's own; nothing is reckoned beside it.
"""

from collections.abc import Mapping
from dataclasses import replace

import numpy as np

from farend_sim.control.burst import RIM
from farend_sim.control.growing import Refused
from farend_sim.control.keypad import Burst, KeypadSettings, add_key, bursts
from farend_sim.control.limits import ReceiverLimits
from farend_sim.control.measure import MIDDLE, measure, why_refused
from farend_sim.control.receiver import read
from line_model.signal import Samples, sample_span


def hears(
    gains: Mapping[float, complex],
    settings: KeypadSettings,
    limits: ReceiverLimits,
    keys: str = "1234567890*#",
) -> tuple[bool, str | None]:
    """Return whether a receiver takes keys played through gains, or why not the first it misses.

    Args:
        gains: volts across the unit's tip and ring per volt of the keypad's EMF, by frequency [Hz].
        settings: how the keys sound.
        limits: the receiver's.
        keys: what is played, without pauses.
    """
    # What lasts longer than this changes nothing: see LONG in burst.py, GUARD in receiver.py.
    settings = replace(settings, on_ms=min(settings.on_ms, 200), off_ms=min(settings.off_ms, 100))
    played = bursts(keys, settings)
    volts = np.zeros(sample_span(0, played[-1].end_us)[1])
    for burst in played:
        add_key(volts, 0, burst, gains)
    digits, refused = read(volts, limits)
    for burst in played:
        at = [one.digit for one in digits if _began_in(burst, one.start_index)]
        if at != [burst.key]:
            return False, _why_not(burst, volts, refused, limits, at)
    return True, None


def _began_in(burst: Burst, index: int) -> bool:
    """Say whether what began at the index is this burst's; noise may move it a little."""
    first, last = sample_span(burst.start_us, burst.end_us)
    return first - RIM <= index < last - RIM


def _why_not(
    burst: Burst,
    volts: Samples,
    refusals: list[Refused],
    limits: ReceiverLimits,
    digits: list[str],
) -> str:
    for refused in refusals:
        if _began_in(burst, refused.start_index):
            return refused.why
    if digits:
        return f"key {burst.key} was heard as {' '.join(digits)}"
    # Too little reached even the first look; the second one names what there was.
    first, last = sample_span(burst.start_us, burst.end_us)
    length = min(MIDDLE, last - first) // 2 * 2
    first += (last - first - length) // 2
    low, high = burst.tones
    found = measure(volts[first : first + length], burst.key, (low.hz, high.hz))
    return why_refused(found, limits) or (
        f"a tone of {burst.settings.on_ms} ms is too short; {limits.tone_edge_ms:g} ms is the limit"
    )
