"""What the line is in one state of the unit: what `farend-sim line` prints.

Same wiring, same network, same receiver as the bench. The near terminals are bare; what is behind
them, AC sources and noise are left out.
"""

from dataclasses import dataclass
from typing import Any

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.control.keypad import HIGH_HZ, KEYPAD_OHM, LOW_HZ
from farend_sim.control.played import hears
from farend_sim.situation import Situation
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import Equipment
from line_model.knees import Parts, at_rest
from line_model.network import Mesh
from line_model.route import Route, route
from line_model.signal import volt_to_dbm
from line_model.terminals import NEAR

KEYPAD_HZ = (*LOW_HZ, *HIGH_HZ)
_EMF_DB = 6.02
"""Open-circuit voltage over that into the source's own resistance, as the levels are stated."""


def line_report(
    situation: Situation, state: str = "idle", at_hz: tuple[float, ...] | None = None
) -> dict[str, Any]:
    """Return readings, gains and the receiver's verdict for one state, ready for JSON."""
    case = _case(situation, state)
    hz = at_hz or KEYPAD_HZ
    gains = _gains(case, hz)
    return {
        "state": state,
        "dc": _direct(case),
        "ac": _alternating(case, hz, gains),
        "receiver": _receiver(situation, case),
        "unit": _unit(situation),
        "beyond": situation.scenario.beyond.figures(),
    }


def receiver_report(situation: Situation, state: str = "idle") -> dict[str, Any]:
    """The receiver's part of it alone: levels, and whether it hears a key."""
    return _receiver(situation, _case(situation, state))


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

    @property
    def off_pair(self) -> bool:
        return Contact.OFF_PAIR in self.unit.closed


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


def _gains(case: _Case, hz: tuple[float, ...]) -> list[complex | None]:
    """Voltage across the unit over a 600 ohm source's EMF; None where no path leads to it."""
    if case.off_pair:
        return [None] * len(hz)
    mesh = Mesh(hz, case.wired(keypad=True))
    across = mesh.transfer_ohm(NEAR.pair, unit_pair(case.way, case.unit))
    # where nothing joins the near legs no current flows, and what is left is rounding
    seen = Mesh(hz, case.wired()).ohm(*NEAR.pair)
    return [
        volt / KEYPAD_OHM if volt and ohm is not None else None
        for volt, ohm in zip(across, seen, strict=True)
    ]


def _alternating(
    case: _Case, hz: tuple[float, ...], gains: list[complex | None]
) -> list[dict[str, Any]]:
    mesh = Mesh(hz, case.wired())
    seen = mesh.ohm(*NEAR.pair)
    return [
        {
            "hz": f,
            "gain_db": None if gain is None else _db(gain),
            "input_ohm": None if ohm is None else [ohm.real, ohm.imag],
        }
        for f, gain, ohm in zip(hz, gains, seen, strict=True)
    ]


def _db(gain: complex) -> float:
    return volt_to_dbm(abs(gain)) - volt_to_dbm(1.0)


def _receiver(situation: Situation, case: _Case) -> dict[str, Any]:
    keypad, limits = situation.scenario.keypad, situation.unit.receiver
    gains = _gains(case, KEYPAD_HZ)
    level = {
        f"{f:g}": None if gain is None else keypad.level_dbm + _db(gain) + _EMF_DB
        for f, gain in zip(KEYPAD_HZ, gains, strict=True)
    }
    if case.off_pair:
        verdict: tuple[bool, str | None] = False, "the unit is off the pair"
    elif None in gains:
        verdict = False, "no path leads from the keypad to the unit"
    else:
        known = {f: gain or 0j for f, gain in zip(KEYPAD_HZ, gains, strict=True)}
        verdict = hears(known, keypad, limits)
    return {
        "floor_dbm": limits.floor_dbm,
        "level_dbm": level,
        "hears": verdict[0],
        "why": verdict[1],
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
