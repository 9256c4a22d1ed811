"""How far a plant record and a unit's papers may be off, and how often it has something wrong.

Law: one list serves the expert, who does not know what is off, and the generator, which draws it:
so a band is as wide as what was drawn, and no wider.
"""

from dataclasses import dataclass
from typing import Annotated

from annotated_types import Ge, Gt, Le, Lt

Percent = Annotated[float, Ge(0), Le(100)]
Share = Annotated[float, Ge(0), Lt(100)]
Factor = Annotated[float, Gt(1), Le(10)]


@dataclass(frozen=True, slots=True, kw_only=True)
class Doubt:
    """Standard deviations of what the record says. All invented for the demo, but see each."""

    temperature_c: Annotated[float, Ge(0), Le(40)] = 2.5
    """Half of the 5 C that the worksheet takes as its limit."""
    gauge_percent: Percent = 0.5
    """Ohms of all sections alike; the limit as built is 5 %, 7 CFR 1755.403(d)(6)(i)."""
    section_percent: Percent = 0.3
    """Ohms of one section against the others."""
    unbalance_percent: Percent = 0.5
    """One leg of a section against the mean of both: half the record's own 1 %."""
    sheath_percent: Percent = 5.0
    earth_factor: Factor = 1.3
    """Both electrodes by this factor, more or less."""
    insulation_factor: Factor = 1.3
    """Likewise the insulation."""
    ground_lead_percent: Percent = 10.0
    capacitance_percent: Percent = 1.0
    """Of all sections alike; the limit is 8 %, 7 CFR 1755.860(m)(1)(i)."""
    wrong_gauge_percent: Share = 0.0
    """How often one section is of the next gauge up or down; never, unless it is said."""
    wrong_length_percent: Share = 0.0
    """How often, of records whose gauges are right, one section's metres are wrong; likewise."""
    longer_m: tuple[Annotated[float, Ge(0), Le(5000)], Annotated[float, Gt(0), Le(2000)]] = (
        300.0,
        200.0,
    )
    """By how much it is then longer, mean and standard deviation; shorter once in fifteen."""
    capacitance_unbalance_percent: Percent = 0.4
    """One leg to the sheath against the mean of both: 574 pF/km, the record's own, of 78 nF/km."""
