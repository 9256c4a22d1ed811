"""Pairs of primary constants that others have published, and what they come to, worked by hand.

Source: ANSI T1.413 / ITU-T G.996.1 annex A, from memory; seen in public programs that restate it.
"""

from line_model.cable import PerMetre
from line_model.section import Conductors

PUBLISHED = {
    "26 AWG": (
        (286.17578, 0.14769620),
        (675.36888, 488.95186, 806.33863, 0.92930728),
        49.0,
        (43e-9, 0.70),
    ),
    "24 AWG": (
        (174.55888, 0.053073481),
        (617.29539, 478.97099, 553.760, 1.1529766),
        50.0,
        (234.87476e-15, 1.38),
    ),
}
"""r0c [ohm/km] and ac; l0, linf [uH/km], fm [kHz] and b; C [nF/km]; g0 and ge."""
OPEN_24_AWG = (
    (5000.0, 4.0, 1.00000),
    (5000.0, 20.0, 0.99990),
    (5000.0, 100.0, 0.99760),
    (5000.0, 1000.0, 0.81260),
    (10000.0, 20.0, 0.99842),
    (10000.0, 100.0, 0.96214),
    (10000.0, 1000.0, 0.31632),
)
"""Metres, hertz, and the share of its capacitance that a pair of 24 AWG, open, then shows.

A long open line's capacitance is hyperbolic, not linear, in its length: P. G. Edwards and
H. W. Herrington, Trans. AIEE 1927.
"""


def published(gauge: str, hz: float, length_m: float) -> Conductors:
    """A pair of published constants at one frequency."""
    (r0, a), (l0, l_inf, f_m, b), nf_km, (g0, ge) = PUBLISHED[gauge]
    bend = (hz / 1e3 / f_m) ** b
    leg_ohm_km = (r0**4 + a * hz**2) ** 0.25 / 2
    farad = 2 * nf_km * 1e-12
    per = PerMetre(
        tip_ohm=leg_ohm_km / 1e3,
        ring_ohm=leg_ohm_km / 1e3,
        sheath_ohm=1e-3,
        leg_henry=(l0 + l_inf * bend) / (1 + bend) * 1e-9 / 2,
        tip_sheath_farad=farad,
        ring_sheath_farad=farad,
        tip_ring_farad=0.0,
        leg_sheath_siemens=2 * g0 * hz**ge / 1e3,
    )
    return Conductors(("tip", "ring", "sheath"), ("t", "r", "s"), per, length_m, 1)
