"""A recording played to a unit: which keys its receiver took, and what the unit then did.

Law: the real receiver and the real unit. The recording stands for what is across the unit all the
time: contacts that close change nothing in it, so keys are heard even in a strap.
"""

from dataclasses import asdict, dataclass
from typing import Any

from farend_sim.control.growing import Digit, Refused
from farend_sim.control.receiver import read
from farend_sim.scheme_lab.trial.watched import Took, Watched
from farend_sim.unit.codes import compiled
from farend_sim.unit.events import DigitHeard
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile
from line_model.signal import SAMPLE_HZ, SAMPLE_US, Samples


@dataclass(frozen=True, slots=True)
class Played:
    """What came of a recording."""

    duration_s: float
    heard: tuple[Digit, ...]
    refused: tuple[Refused, ...]
    took: tuple[Took, ...]

    @property
    def digits(self) -> str:
        return "".join(one.digit for one in self.heard)


def listen(samples: Samples, unit: UnitFile) -> tuple[tuple[Digit, ...], tuple[Refused, ...]]:
    """Play a recording to a receiver of this unit's."""
    digits, refused = read(samples, unit.receiver)
    return tuple(digits), tuple(refused)


def play(samples: Samples, scheme: Scheme, unit: UnitFile) -> Played:
    """Play a recording to a unit with this scheme, idle at its beginning."""
    heard, refused = listen(samples, unit)
    watched = Watched(compiled(scheme), unit.timing, unit.electrical)
    for one in heard:
        watched.handle(DigitHeard(one.digit), (one.index + 1) * SAMPLE_US)
    for _ in watched.run_to(len(samples) * SAMPLE_US):
        pass
    return Played(len(samples) / SAMPLE_HZ, heard, refused, tuple(watched.took))


def as_json(played: Played) -> dict[str, Any]:
    """Return what came of a recording, as `farend-sim wav decode --json` prints it."""
    return {
        "duration_s": played.duration_s,
        "digits": played.digits,
        "heard": [_heard(one) for one in played.heard],
        "refused": [
            {"key": one.key, "t_s": one.start_index / SAMPLE_HZ, "why": one.why}
            for one in played.refused
        ],
        "commands": [
            {"t_s": one.at_us / 1e6, "does": one.input.does, "hold_s": _seconds(one.hold_us)}
            for one in played.took
            if one.input.does is not None
        ],
        "unit": [
            {"t_s": one.at_us / 1e6, "input": one.input.value, "state": one.state.value}
            for one in played.took
        ],
    }


def _heard(one: Digit) -> dict[str, Any]:
    told = asdict(one)
    for gone in ("index", "start_index", "duration_samples", "noise_margin_db"):
        del told[gone]
    return {
        "digit": told.pop("digit"),
        "t_s": one.start_index / SAMPLE_HZ,
        "duration_s": one.duration_samples / SAMPLE_HZ,
        "decided_s": (one.index + 1) / SAMPLE_HZ,
        **told,
        "twist_db": one.twist_db,
        "over_noise_db": one.noise_margin_db,
    }


def _seconds(duration_us: int | None) -> float | None:
    return None if duration_us is None else duration_us / 1e6
