"""What may be seen of a bench at a moment, frozen. Nothing here changes anything."""

from farend_sim.bench.at_hand import AtHand
from farend_sim.bench.pair.live_pair import LivePair
from farend_sim.bench.pair.worn_unit import WornUnit
from farend_sim.bench.snapshot import Far, Snapshot
from farend_sim.control.keypad import Keypad
from line_model.meters.cycle import Stage


def snapshot(
    now_us: int, at_hand: AtHand, keypad: Keypad, unit: WornUnit, pair: LivePair
) -> Snapshot:
    """Everything a view may show, frozen."""
    meter, burst = at_hand.meter, keypad.burst(now_us)
    return Snapshot(
        now_us=now_us,
        meter=meter.name if meter else None,
        across=meter.across if meter else None,
        stage=meter.stage if meter else Stage.REST,
        reading=meter.reading if meter else None,
        far=Far(
            unit.state,
            unit.closed,
            unit.hold_deadline_us,
            unit.attentive,
            unit.keyed,
        ),
        stage_ends_us=meter.deadline_us if meter else None,
        read_us=at_hand.read_us if meter and meter.reading else None,
        key=burst.key if burst else None,
        waiting=keypad.waiting(now_us),
        lead=pair.near.lead,
        lifted=pair.lifted,
        where=pair.where.spot.place,
        looking=pair.where.looking,
        stage_s=meter.stage_s if meter else 0.0,
        stages=meter.profile.STAGES if meter else (),
        live=meter.live if meter else "",
        caution=meter.profile.caution if meter else "",
    )
