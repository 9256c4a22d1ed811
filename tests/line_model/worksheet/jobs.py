"""Jobs whose readings the exact network computes: a record, and a plant that is not quite it.

They differ as far as the tolerances allow: copper as built, temperature, the legs against each
other; every reading is off by as much as its meter may be.
"""

from dataclasses import dataclass

from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Part, Resistor
from line_model.plant import Plant, Section
from line_model.route import route
from line_model.troubles import Trouble
from line_model.worksheet.band import Place
from line_model.worksheet.record import warmed
from line_model.worksheet.tolerance import Tolerance

STRAP_OHM = 0.1
OF = Tolerance()
RECORD_LAY = 6.0
LAYS = st.floats(1.0, 11.0)
"""Copper as built against the record: 1.01 / 1.06 to 1.11 / 1.06, within 5 percent."""
ERROR = st.sampled_from((-1.0, 1.0)) | st.floats(-1.0, 1.0)
"""Of what a meter's accuracy allows."""
LEAK_ERROR = st.sampled_from((-0.85, 0.85)) | st.floats(-0.85, 0.85)
"""The cable's own insulation leaks too: beside 50 kohm it moves a balance by up to 1e-4, and beside
kilohms across the pair a reading by some of its accuracy."""


@dataclass(frozen=True)
class Job:
    """What a technician has: a record, and a plant that is not quite it."""

    record: Plant
    plant: Plant
    at_m: float
    seed: int

    def mesh(self, *troubles: Trouble, hz: float = 0.0, joined: tuple[Part, ...] = ()) -> Mesh:
        return Mesh([hz], (*route(self.plant, troubles, self.seed).parts, *joined))

    def far(self, *troubles: Trouble) -> tuple[str, str, str]:
        return route(self.plant, troubles, self.seed).far

    def strap(self, *troubles: Trouble) -> Resistor:
        tip, ring, _ = self.far(*troubles)
        return Resistor(tip, ring, STRAP_OHM)


@st.composite
def jobs(draw: st.DrawFn) -> Job:
    gauges = draw(st.lists(st.sampled_from((19, 22, 24, 26)), min_size=1, max_size=3))
    record = Plant(
        section=tuple(
            Section(
                gauge_awg=gauge,
                length_m=float(draw(st.integers(100, 2000))),
                lay_percent=RECORD_LAY,
                temperature_c=draw(st.none() | st.floats(-20.0, 40.0)),
            )
            for gauge in gauges
        )
    )
    lay = draw(LAYS)
    built = tuple(
        Section(
            gauge_awg=each.gauge_awg,
            length_m=each.length_m,
            lay_percent=lay,
            temperature_c=each.temperature_c,
        )
        for each in record.section
    )
    plant = warmed(Plant(section=built), draw(st.floats(-5.0, 5.0)))
    at_m = draw(st.integers(0, 1000)) / 1000 * record.length_m
    return Job(record, plant, at_m, draw(st.integers(0, 99)))


def read(mesh: Mesh, a: str, b: str, error: float = 0.0) -> float:
    """What an ohmmeter reads across two nodes, as wrong as it may be."""
    (ohm,) = mesh.ohm(a, b)
    assert ohm is not None
    return shown(ohm.real, error)


def shown(true: float, error: float) -> float:
    """What is shown: accuracy is a part of the reading, not of the truth."""
    return (true + error * OF.accuracy_ohm) / (1 - error * OF.accuracy_percent / 100)


def holds(place: Place, at_m: float) -> bool:
    """Whether a band holds the true place; two centimetres are the cable's own insulation's."""
    return place.low_m - 0.02 <= at_m <= place.high_m + 0.02
