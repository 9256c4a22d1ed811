"""What a reading comes to on the plant's record, in metres, seen from where it was taken.

Nothing is taken off and nothing is judged: a loop that is none, or a unit's own capacitance, gives
a place that looks right and is not.
"""

from math import isfinite
from typing import Any

from farend_sim.bench.bench import Bench
from line_model.meters.cycle import Reading
from line_model.meters.leads import hookup
from line_model.meters.profile import Capacitance, Ohms
from line_model.plant import Plant
from line_model.worksheet.farads import Across, OpenPair
from line_model.worksheet.record import leg_ohms, loop_metres

_OPENS: dict[str, Across] = {
    "tip-ring": "pair",
    "ring-tip": "pair",
    "tip-ring+sheath": "leg",
    "ring-tip+sheath": "leg",
}
"""Across these a capacitance may be an open's, of both legs or of one."""
_LOOPS = ("tip-ring", "ring-tip")
"""Across these an ohms reading may be a loop's."""


def places_m(reading: Reading, bench: Bench) -> dict[str, Any]:
    """The keys that a reading's row gets beside its value; None where the record says nothing."""
    assert bench.meter is not None
    profile, record = bench.meter.profile, bench.pair.where.view
    if reading.value is None:
        return {}
    if "=" in reading.across:
        return _bridged(reading, record)
    if isinstance(profile, Capacitance) and reading.across in _OPENS:
        return {"open_m": record and _open_m(reading, profile, record)}
    if isinstance(profile, Ohms) and reading.across in _LOOPS:
        return {"loop_m": record and loop_metres(reading.value, record)}
    return {}


def _open_m(reading: Reading, profile: Capacitance, record: Plant) -> float | None:
    assert reading.value is not None
    at_m = OpenPair(record, _OPENS[reading.across], profile.test_hz).metres(reading.value)
    return at_m if isfinite(at_m) else None


def _bridged(reading: Reading, record: Plant | None) -> dict[str, Any]:
    """By proportion of the bad leg where the good one is its mate; else by ohms of the record."""
    assert reading.value is not None
    if record is None:
        return {"trouble_m": None}
    if set(hookup(reading.across)) != {"tip", "ring"}:
        return {"trouble_m": leg_ohms(record).metres(reading.value)}
    loop_ohm = dict(reading.more)["loop_ohm"]
    assert isinstance(loop_ohm, float)
    at_m = leg_ohms(record).metres_by_share(reading.value / (loop_ohm / 2))
    return {"trouble_m": at_m, "to_strap_m": record.length_m - at_m}
