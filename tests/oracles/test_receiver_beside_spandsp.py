"""The unit's receiver beside a general-purpose decoder (spandsp).

Over noise, twist, level, frequency error and speech: never worse by more than the intervals.
"""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from farend_sim.control.keypad import KeypadSettings
from tests.control.listening import sent
from tests.oracles.peers import ours, spandsp, speech, theirs

pytestmark = pytest.mark.outside

BASE = KeypadSettings(level_dbm=-14.0, twist_db=0.0, on_ms=60, off_ms=60)
KEYS = "159D*0#ABC2468" * 8
CASES: dict[str, tuple[KeypadSettings, float | None]] = {
    **{f"{snr} dB over noise": (BASE, float(snr)) for snr in (20, 15, 12, 10)},
    **{f"twist {db} dB": (replace(BASE, twist_db=float(db)), 20.0) for db in (-6, -3, 3)},
    **{f"{dbm} dBm": (replace(BASE, level_dbm=float(dbm)), 20.0) for dbm in (-24, -18, -8, -4)},
    **{
        f"{per / 10} % off": (replace(BASE, frequency_error_percent=per / 10), 20.0)
        for per in (-15, -10, -5, 5, 10, 15)
    },
}


def right(heard: str) -> int:
    """How many keys were heard: the longest common subsequence with what was sent."""
    row = [0] * (len(heard) + 1)
    for key in KEYS:
        before = row
        row = [0]
        for at, other in enumerate(heard):
            row.append(before[at] + 1 if key == other else max(row[at], before[at + 1]))
    return row[-1]


@pytest.mark.parametrize("name", CASES)
def test_never_worse_than_a_peer_by_more_than_the_intervals(name: str) -> None:
    """Keys heard of 112: ours may fall short by two standard deviations of the difference."""
    samples = sent(KEYS, *CASES[name], seed=3)
    own, peer = right(ours(samples)), right(theirs(spandsp(), samples))

    shares = [count / len(KEYS) for count in (own, peer)]
    spread = math.sqrt(sum(share * (1 - share) for share in shares) * len(KEYS))
    assert own >= peer - 2 * spread


def test_speech_does_not_knock(tmp_path: Path) -> None:
    """Three minutes of talk: no knock, and no more false digits than the peer takes, or two."""
    talk = speech(tmp_path, 3.0, seed=1)

    own, peer = ours(talk), theirs(spandsp(), talk)

    assert "#*27" not in own
    assert len(own) <= max(2, len(peer))
    assert float(np.sqrt(np.mean(talk**2))) > 0.05
