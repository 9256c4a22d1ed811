"""3 km of 24 gauge with a unit at its end, for figures that were worked out beforehand.

The unit bridges the pair with 20 kilohm behind 0.1 microfarad and leaks 20 megohm: a worse one than
the one that ships.
"""

from math import log10

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.unit.profile import Electrical
from farend_sim.unit.table import SETTLED, State
from line_model.equipment import NOTHING, Equipment
from line_model.knees import at_rest
from line_model.network import Mesh
from line_model.parts import Part, Resistor
from line_model.plant import Plant
from line_model.route import route
from line_model.troubles import Conductor, Leak, Series, Trouble
from tests.line_model import circuits

UNIT = Electrical(
    contact_ohm=0.1,
    ground_lead_ohm=0.3,
    series_contact_ohm=0.1,
    receiver_ohm=20e3,
    receiver_farad=0.1e-6,
    leak_ohm=20e6,
    tone_ohm=600.0,
    tone_farad=1e-6,
    tone_volt=1.0,
    tone_hz=(580.0,),
)
PAIR = circuits.bare(3000.0)
TIP_RING, TIP_SHEATH, RING_SHEATH = ("tip", "ring"), ("tip", "sheath"), ("ring", "sheath")
LOW, HIGH = 697.0, 1477.0
TIP_GROUNDED_HERE = (Resistor("tip", "sheath", 0.01),)
Troubles = tuple[Trouble, ...]


def circuit(
    state: str,
    troubles: Troubles = (),
    near: NearEnd | None = None,
    beyond: Equipment = NOTHING,
    plant: Plant = PAIR,
) -> tuple[tuple[Part, ...], tuple[str, str]]:
    """The whole circuit in a state of the unit, and the unit's own two nodes."""
    way, unit = route(plant, troubles, 0), UnitOnPair(UNIT, SETTLED[State(state)])
    return at_rest(wiring(way, unit, near or NearEnd(), beyond)), unit_pair(way, unit)


def ohm(state: str, across: tuple[str, str], *troubles: Trouble, plant: Plant = PAIR) -> float:
    parts, _ = circuit(state, troubles, plant=plant)
    (seen,) = Mesh((0.0,), parts).ohm(*across)
    assert seen is not None
    return seen.real


def nanofarad(
    state: str, across: tuple[str, str], *troubles: Trouble, grounded: bool = False
) -> float:
    """What a capacitance meter at 25 Hz sees, with tip grounded at this end or not."""
    near = NearEnd(meter=TIP_GROUNDED_HERE) if grounded else NearEnd()
    parts, _ = circuit(state, troubles, near)
    return circuits.nanofarad(Mesh((25.0,), parts), *across, 25.0)


def level_db(
    state: str,
    hz: float,
    *troubles: Trouble,
    across_ohm: float | None = None,
    beyond: Equipment = NOTHING,
    plant: Plant = PAIR,
) -> float:
    """A key's tone at the unit over the keypad's own level, a meter left across the pair or not."""
    meter = () if across_ohm is None else (Resistor("tip", "ring", across_ohm),)
    parts, own = circuit(state, troubles, NearEnd(keypad=True, meter=meter), beyond, plant)
    (volt,) = Mesh((hz,), parts).transfer_ohm(TIP_RING, own)
    assert volt is not None
    return 20 * log10(abs(volt) / 600.0) + 6.02


def leak(a: Conductor, b: Conductor, at_m: float, value: float) -> Leak:
    return Leak(kind="leak", between=(a, b), at_m=at_m, ohm=value)


def series(conductor: Conductor, at_m: float, value: float | None = None) -> Series:
    return Series(kind="series", conductor=conductor, at_m=at_m, ohm=value)
