"""What the line is in one state of the unit: what `farend-sim line` prints.

Same wiring, same network, same receiver as the bench. The near terminals are bare; what is behind
them, AC sources and noise are left out.
"""

from dataclasses import dataclass, replace
from typing import Any

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.bench.snapshot import ReceiverLevels
from farend_sim.bench.sound.received import gain_to, levels, received
from farend_sim.control.keypad import TONES_HZ
from farend_sim.situation import Situation
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.knees import Parts, at_rest
from line_model.network import Mesh
from line_model.route import Route, route
from line_model.signal import REFERENCE_VOLT, volt_to_dbm
from line_model.still import Phasors, Still
from line_model.terminals import NEAR

BY_LEVEL_ALONE = {"tone": "by level alone; its own tone may drown keys, see hold design"}
"""What a state's verdict leaves out: keys are played by themselves, without the unit's sound."""


def line_report(
    situation: Situation, state: str = "idle", at_hz: tuple[float, ...] | None = None
) -> dict[str, Any]:
    """Return readings, gains and the receiver's verdict for one state, ready for JSON."""
    case = _case(situation, state)
    return {
        "state": state,
        "dc": _direct(case),
        "ac": _alternating(case, at_hz or TONES_HZ),
        "receiver": _receiver(situation, case),
        "unit": _unit(situation),
        "beyond": situation.scenario.beyond.figures(),
    }


def receiver_of(situation: Situation, state: str = "idle") -> ReceiverLevels:
    """What the receiver gets of the scenario's keypad in one state, and whether it hears it."""
    case = _case(situation, state)
    return received(_gains(case), situation.scenario.keypad, situation.unit.receiver)


@dataclass(frozen=True, slots=True)
class _Case:
    """One plant with the unit in one state."""

    way: Route
    unit: UnitOnPair
    beyond: Equipment

    def bare(self, keypad: bool = False) -> Parts:
        """All that is joined, its sources at rest: no path with a knee conducts."""
        return wiring(self.way, self.unit, NearEnd(keypad=keypad), self.beyond)

    def wired(self, keypad: bool = False) -> Parts:
        """The same with its direct sources on, every path on its own piece."""
        return at_rest(self.bare(keypad))


def _case(situation: Situation, state: str) -> _Case:
    scenario = situation.scenario
    way = route(scenario.plant, scenario.trouble, scenario.seed)
    unit = UnitOnPair(situation.unit.electrical, SETTLED[State(state)])
    return _Case(way, unit, scenario.beyond)


def _direct(case: _Case) -> dict[str, dict[str, float | None]]:
    fed, bare = Mesh((0.0,), case.wired()), Mesh((0.0,), case.bare())
    pairs = (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath"))
    out: dict[str, dict[str, float | None]] = {}
    for a, b in pairs:
        ohm = bare.ohm(a, b)[0]
        out[f"{a}-{b}"] = {"ohm": None if ohm is None else ohm.real, "volt": fed.volt(a, b)}
    return out


def _gains(case: _Case, hz: tuple[float, ...] = TONES_HZ) -> Phasors | None:
    """Voltage across the unit over a 600 ohm source's EMF; None where the unit is off the pair."""
    if Contact.OFF_PAIR in case.unit.closed:
        return None
    bare, keyed = Still(case.wired()), Still(case.wired(keypad=True))
    return gain_to(bare, keyed, NEAR.pair, unit_pair(case.way, case.unit), hz)


def _alternating(case: _Case, hz: tuple[float, ...]) -> list[dict[str, Any]]:
    seen = Still(case.wired()).transfer_ohm(NEAR.pair, NEAR.pair, hz)
    gains = _gains(case, hz) or {}
    return [
        {
            "hz": f,
            "gain_db": _db(gain) if (gain := gains.get(f)) else None,
            "input_ohm": [ohm.real, ohm.imag] if ohm else None,
        }
        for f, ohm in seen.items()
    ]


def _db(gain: complex) -> float:
    return volt_to_dbm(abs(gain) * REFERENCE_VOLT)


def _receiver(situation: Situation, case: _Case) -> dict[str, Any]:
    keypad, gains = situation.scenario.keypad, _gains(case)
    got = received(gains, keypad, situation.unit.receiver)
    # stated at the keypad's level, twist left out
    stated = levels(gains, replace(keypad, twist_db=0.0))
    return {
        "floor_dbm": got.floor_dbm,
        "level_dbm": {f"{hz:g}": level_dbm for hz, level_dbm in stated},
        "hears": got.hears,
        "why": got.why,
    }


def _unit(situation: Situation) -> dict[str, Any]:
    of = situation.unit.electrical
    return {
        "contact_ohm": of.contact_ohm,
        "ground_lead_ohm": of.ground_lead_ohm,
        "series_contact_ohm": of.series_contact_ohm,
        "receiver_ohm": of.receiver_ohm,
        "receiver_farad": of.receiver_farad,
        "leak_ohm": of.leak_ohm,
        "surge_volt": of.surge_volt,
        "surge_ohm": of.surge_ohm,
        "tone_ohm": of.tone_ohm,
        "tone_farad": of.tone_farad,
        "tone_volt": of.tone_volt,
        "tone_hz": list(of.tone_hz),
    }
