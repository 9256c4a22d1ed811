"""What may be seen of a bench at a moment, frozen. Nothing here changes it."""

from typing import TYPE_CHECKING

from farend_sim.bench.far_ear import gain_left
from farend_sim.bench.levels import (
    at_receiver,
    gains_to,
    sidetone_dbm,
    standing_dbm,
    together_dbm,
    with_keypad,
)
from farend_sim.bench.snapshot import Far, ReceiverLevels, Snapshot
from line_model.meters.meter import Stage
from line_model.spell import Parts

if TYPE_CHECKING:
    from farend_sim.bench.bench import Bench

KnownLevels = dict[tuple[Parts, float], ReceiverLevels]
"""Levels at the receiver, solved once a wiring and a receiver's state."""


def snapshot(bench: "Bench") -> Snapshot:
    """Everything a view may show, frozen."""
    meter = bench.meter
    return Snapshot(
        now_us=bench.now_us,
        meter=meter.name if meter else None,
        across=meter.across if meter else None,
        stage=meter.stage if meter else Stage.REST,
        reading=meter.reading if meter else None,
        sending=bench.keypad.sending,
        far=Far(
            bench.unit.state,
            bench.unit.closed,
            bench.unit.hold_deadline_us,
            bench.unit.attentive,
            bench.unit.deadline_us,
            bench.unit.keyed,
        ),
        stage_ends_us=meter.deadline_us if meter else None,
        read_us=bench.read_us if meter and meter.reading else None,
        key=bench.keypad.key(bench.now_us),
        waiting=bench.keypad.waiting(bench.now_us),
        lead=bench.pair.near.lead,
        lifted=bench.pair.lifted,
        where=bench.pair.where.spot.place,
        opened=bench.pair.where.opened,
        looking=bench.pair.where.looking,
        stage_s=meter.stage_s if meter else 0.0,
        stages=meter.profile.STAGES if meter else (),
        live=meter.live if meter else "",
        caution=meter.profile.caution if meter else "",
    )


def ear_dbm(bench: "Bench") -> float:
    """The level at the near end's ear at this moment: the own keys, and what comes back."""
    tones = bench.keypad.tones(bench.now_us)
    own = sidetone_dbm(bench.spell, bench.pair.here.pair, tones, bench.error_percent)
    stands = standing_dbm(bench.pair.steady(bench.pair.here.pair, bench.now_us), bench.now_us)
    noise = bench.situation.scenario.noise.level_dbm
    return together_dbm([*own, *stands, bench.ear.level_dbm(bench.now_us), noise])


def at_receiver_now(bench: "Bench", known: KnownLevels) -> ReceiverLevels:
    """What is left of the keypad at the unit's receiver; solved once a wiring."""
    pair, left = bench.pair, gain_left(bench.unit)
    parts = with_keypad(pair.spell, pair.here.pair)
    if (levels := known.get((parts, left))) is None:
        on = pair.unit_on
        gains = gains_to(pair.spell, parts, pair.here.pair, pair.unit_pair) if on else None
        gains = gains and {hz: left * gain for hz, gain in gains.items()}
        keypad = bench.situation.scenario.keypad
        levels = at_receiver(gains, keypad, bench.situation.unit.receiver)
        known[parts, left] = levels
    return levels
