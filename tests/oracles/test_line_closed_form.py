"""A balanced pair against the textbook line: hyperbolic functions, scikit-rf, published figures."""

import cmath
from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees, log, pi
from typing import Literal

import numpy as np
import pytest
from skrf import Frequency
from skrf.media import DefinedGammaZ0  # type: ignore[import-untyped]

from line_model.cable import PerMetre, per_metre
from line_model.network import Mesh
from line_model.parts import Branch, Element, Part, Real, Resistor
from line_model.plant import Plant, Section
from line_model.route import route
from tests.oracles.published_line import OPEN_24_AWG, published

pytestmark = pytest.mark.outside

HZ = (697.0, 770.0, 852.0, 941.0, 1209.0, 1336.0, 1477.0, 1633.0)
DB_PER_NEPER = 20 / log(10)
LOADS_OHM = (0.2, 600.0, 1e5)
LENGTHS_M = (10.0, 900.0, 5000.0, 30000.0)


def _section(gauge_awg: Literal[22, 24, 26], length_m: float) -> Section:
    return Section(
        gauge_awg=gauge_awg,
        length_m=length_m,
        lay_percent=0.0,
        unbalance_percent=0.0,
        unbalance_pf_per_km=0.0,
    )


def _constants(per: PerMetre, hz: float) -> tuple[complex, complex]:
    """Propagation a metre and wave impedance of the pair, its two legs driven evenly."""
    omega = 2 * pi * hz
    z = per.tip_ohm + per.ring_ohm + 2j * omega * per.leg_henry
    y = per.leg_sheath_siemens / 2 + 1j * omega * (per.tip_ring_farad + per.tip_sheath_farad / 2)
    return cmath.sqrt(z * y), cmath.sqrt(z / y)


def _ended(section: Section, ohm: float) -> tuple[tuple[Part, ...], tuple[str, str], PerMetre]:
    plant = Plant(section=(section,))
    way = route(plant, (), 0)
    tip, ring, _ = way.far
    parts = (*way.parts, Resistor(tip, ring, ohm))
    return parts, (tip, ring), per_metre(section, 20.0, 0, "section 0")


@pytest.mark.parametrize("length_m", LENGTHS_M)
@pytest.mark.parametrize("ohm", LOADS_OHM)
def test_hyperbolic_functions(ohm: float, length_m: float) -> None:
    """Input impedance and transfer of a balanced pair are those of cosh and sinh, to 1e-9."""
    parts, far, per = _ended(_section(24, length_m), ohm)
    mesh = Mesh(HZ, parts)

    seen, moved = [], []
    for hz in HZ:
        gamma, wave_ohm = _constants(per, hz)
        c, s = cmath.cosh(gamma * length_m), cmath.sinh(gamma * length_m)
        below = ohm * s / wave_ohm + c
        seen.append((ohm * c + wave_ohm * s) / below)
        moved.append(ohm / below)
    assert pytest.approx(seen, rel=1e-9) == mesh.ohm("tip", "ring")
    assert pytest.approx(moved, rel=1e-9) == mesh.transfer_ohm(("tip", "ring"), far)


def test_mixed_gauge_is_a_cascade_of_lines() -> None:
    """Two gauges in a row are scikit-rf's cascade of two lines, to 1e-9."""
    first, second = _section(26, 1500.0), _section(22, 2200.0)
    way = route(Plant(section=(first, second)), (), 0)
    tip, ring, _ = way.far
    mesh = Mesh(HZ, (*way.parts, Resistor(tip, ring, 600.0)))

    frequency = Frequency.from_f(np.array(HZ), unit="hz")
    lines = []
    for i, section in enumerate((first, second)):
        per = per_metre(section, 20.0, 0, f"section {i}")
        gamma, wave_ohm = zip(*(_constants(per, hz) for hz in HZ), strict=True)
        medium = DefinedGammaZ0(frequency, gamma=np.array(gamma), z0=np.array(wave_ohm))
        line = medium.line(section.length_m, "m")
        line.renormalize(600.0)
        lines.append(line)
    cascade = lines[0] ** lines[1]
    reflected = cascade.s[:, 0, 0]
    expected = 600.0 * (1 + reflected) / (1 - reflected)
    assert pytest.approx(expected.tolist(), rel=1e-9) == mesh.ohm("tip", "ring")
    moved = mesh.transfer_ohm(("tip", "ring"), (tip, ring))
    through = cascade.s[:, 1, 0] / 2 * (600.0 + expected)
    assert pytest.approx(through.tolist(), rel=1e-9) == moved


@pytest.mark.parametrize(
    ("gauge", "losses_db"),
    [("26 AWG", (1.916, 5.236, 8.521)), ("24 AWG", (1.220, 3.570, 6.043))],
)
def test_insertion_loss_of_published_constants(
    gauge: str, losses_db: tuple[float, float, float]
) -> None:
    """1, 3 and 5 km between 600 ohm lose at 1 kHz what their constants say, to 0.01 dB."""
    losses = []
    for length_m in (1000.0, 3000.0, 5000.0):
        line = published(gauge, 1000.0, length_m)
        mesh = Mesh((1000.0,), (line, Resistor("t", "r", 600.0)))
        (seen,), (moved,) = mesh.ohm("tip", "ring"), mesh.transfer_ohm(("tip", "ring"), ("t", "r"))
        assert seen is not None
        assert moved is not None
        losses.append(-DB_PER_NEPER * log(abs(2 * moved / (600.0 + seen))))
    assert pytest.approx(losses_db, abs=0.01) == losses


@pytest.mark.parametrize(("length_m", "hz", "ratio"), OPEN_24_AWG)
def test_open_line_looks_shorter_at_higher_frequency(
    length_m: float, hz: float, ratio: float
) -> None:
    """The capacitance an open 24 AWG pair shows falls with frequency, by tanh(x) / x, to 2e-5."""
    (seen,) = Mesh((hz,), (published("24 AWG", hz, length_m),)).ohm("tip", "ring")
    assert seen is not None

    apparent = (1 / seen).imag / (2 * pi * hz)
    assert pytest.approx(ratio, abs=2e-5) == apparent / (50e-12 * length_m)


@pytest.mark.parametrize(
    ("gauge", "hz", "alpha_db_km", "wave_ohm", "angle"),
    [
        ("26 AWG", 300.0, 1.0090, 1760.0, -44.15),
        ("26 AWG", 1000.0, 1.8258, 964.1, -44.07),
        ("26 AWG", 3000.0, 3.1089, 556.9, -43.37),
        ("24 AWG", 300.0, 0.7852, 1360.9, -44.81),
        ("24 AWG", 1000.0, 1.4224, 745.5, -44.36),
        ("24 AWG", 3000.0, 2.4098, 430.9, -43.09),
    ],
)
def test_wave_impedance_and_attenuation_of_published_constants(
    gauge: str, hz: float, alpha_db_km: float, wave_ohm: float, angle: float
) -> None:
    """A very long pair shows its wave impedance, and what 1 km loses into that: to their digits.

    The numbers: worked by hand from the published constants.
    """
    (wave,) = Mesh((hz,), (published(gauge, hz, 1e5),)).ohm("tip", "ring")
    assert wave is not None
    assert pytest.approx(wave_ohm, rel=2e-4) == abs(wave)
    assert pytest.approx(angle, abs=0.01) == degrees(cmath.phase(wave))

    loop = (published(gauge, hz, 1000.0), _Wave("t", "r", 1 / wave))
    (moved,) = Mesh((hz,), loop).transfer_ohm(("tip", "ring"), ("t", "r"))
    assert moved is not None
    assert pytest.approx(alpha_db_km, rel=2e-4) == DB_PER_NEPER * log(abs(wave / moved))


@dataclass(frozen=True, slots=True)
class _Wave(Part):
    """An end of any admittance."""

    a: str
    b: str
    siemens: complex

    def lumped(self) -> Iterator[Element]:
        return iter(())

    def exact(self, hz: Real) -> Iterator[Branch]:
        yield Branch(self.a, self.b, np.full(hz.shape, self.siemens))
