"""Capacitance to the distance of an open: nanofarad counted off section by section, taps and all.

Law: measured over capacitance a length is the distance. A unit on a whole pair adds its receiver's
capacitor; water raises capacitance and makes an open seem further away.
Source: any text on cable testing, "capacity of cable"; a low test frequency (P. G. Edwards and
H. W. Herrington, Trans. AIEE 1927).
"""

from collections.abc import Iterator

from line_model.plant import Plant
from line_model.worksheet.band import ImpossibleReadingError, Place, banded, placed
from line_model.worksheet.farads import Across, OpenPair
from line_model.worksheet.tolerance import Tolerance, both

PAST = "water in the cable, a tap that the record lacks, a unit or ringer on the pair"
FREQUENCY_MATTERS = 0.01
"""From this share on, the frequency's part in a reading is told. A choice, no source."""


def locate(
    plant: Plant,
    nf: float,
    across: Across = "pair",
    test_hz: float = 0.0,
    unit_nf: float = 0.0,
    tolerance: Tolerance | None = None,
) -> Place:
    """Where an open shows so many nanofarad.

    Args:
        plant: the record.
        nf: as read, leads taken off.
        across: how the meter is clipped.
        test_hz: the meter's frequency; 0 for one that counts charge and waits.
        unit_nf: what is on the pair besides cable.
        tolerance: what may be off.

    Raises:
        ImpossibleReadingError: less than what is taken off, or more than the whole pair.
    """
    of = tolerance or Tolerance()
    net_nf, off_nf = nf - unit_nf, of.of_nf(nf)
    if net_nf < -off_nf:
        raise ImpossibleReadingError(
            f"{net_nf:.4g} nF are left when the unit's {unit_nf:g} nF are taken off: the unit is "
            "not on this side of the open"
        )
    pair = OpenPair(plant, across, test_hz)
    part = of.capacitance_percent / 100

    def metres(instrument: float = 0.0, capacitance: float = 1.0) -> float:
        factors = (capacitance,) * len(plant.section)
        return OpenPair(plant, across, test_hz, factors).metres(net_nf + instrument)

    band = banded(metres, {"instrument": both(off_nf), "capacitance": (1 - part, 1 + part)})
    values = {"cable_nf": net_nf, "record_nf": pair.whole_nf}
    return placed(band, plant.length_m, values, tuple(_notes(pair, net_nf, unit_nf)), PAST)


def _notes(pair: OpenPair, net_nf: float, unit_nf: float) -> Iterator[str]:
    at_rest = OpenPair(pair.plant, pair.across)
    if pair.hz and pair.whole_nf < (1 - FREQUENCY_MATTERS) * at_rest.whole_nf:
        yield (
            f"at {pair.hz:g} Hz the whole pair shows {pair.whole_nf:.4g} of its "
            f"{at_rest.whole_nf:.4g} nF: allowed for; a lower frequency would be surer"
        )
    for index, tap in enumerate(pair.plant.tap):
        before = pair.nf(tap.at_m)
        after = pair.nf(tap.at_m * (1 + 1e-9) + 1e-9)
        if before < net_nf < after:
            yield (
                f"the reading ends within tap {tap.name or index}: an open at its joint, or the "
                "tap is shorter than recorded"
            )
        elif pair.whole_nf - (after - before) <= net_nf < pair.whole_nf:
            yield f"an open in tap {tap.name or index} would read so too: open its joint and see"
    if not unit_nf:
        yield "nothing is taken off for a unit: one on a whole pair adds its receiver's capacitor"
    yield "water raises capacitance: a wet cable puts an open too far"
