"""What the trainer is shown of the receiver: the very levels that its verdict speaks of."""

from dataclasses import replace

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.bench.levels import ReceiverLevel
from farend_sim.bench.line_report import receiver_of
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.control.keypad import TONES_HZ
from farend_sim.files import load_situation
from farend_sim.situation import Situation


def sent_with(situation: Situation, twist_db: float) -> Situation:
    keypad = replace(situation.scenario.keypad, twist_db=twist_db)
    return replace(situation, scenario=replace(situation.scenario, keypad=keypad))


def shown(situation: Situation) -> ReceiverLevels:
    return ReceiverLevel().now(Bench(situation))


def test_the_levels_are_those_of_the_verdict(good_pair: Situation) -> None:
    """A keypad with too much twist: the levels lie as far apart as the refusal says."""
    got = shown(sent_with(good_pair, 6.0))

    dbm = dict(got.level_dbm)
    assert dbm[1209.0] is not None
    assert dbm[697.0] is not None
    over_db = dbm[1209.0] - dbm[697.0]
    assert got.why == f"1209 Hz is {over_db:.1f} dB over 697 Hz; 4 dB is the limit"


@pytest.mark.parametrize("twist_db", [0.0, 2.0, 6.0])
def test_bench_and_labs_are_told_the_same(good_pair: Situation, twist_db: float) -> None:
    """The same levels and the same words, from the circuit that holds and from one at rest."""
    situation = sent_with(good_pair, twist_db)
    bench, lab = shown(situation), receiver_of(situation)

    assert (bench.hears, bench.why) == (lab.hears, lab.why)
    assert dict(bench.level_dbm) == pytest.approx(dict(lab.level_dbm), abs=1e-9)


def test_with_nothing_clipped_there_is_no_level() -> None:
    """Leads on no pair at a block: no level at all, and a reason that names none."""
    got = shown(load_situation("wrong-post"))

    assert got == ReceiverLevels(
        floor_dbm=-40.0,
        level_dbm=tuple((hz, None) for hz in TONES_HZ),
        hears=False,
        why="no path leads from the keypad to the unit",
    )
