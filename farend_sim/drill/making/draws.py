"""What is drawn for a drill: the record, the plant as it really is, the trouble.

Law: every draw is a function of (seed, level, try). The plant differs from its record by what the
level's doubt says, and by nothing else.
"""

from dataclasses import dataclass, replace
from typing import Any, NamedTuple, TypeVar, cast

import numpy as np

from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.records import lengthened, records
from farend_sim.drill.making.curriculum import Level, Mix
from line_model.cable import defaults, gauge_name
from line_model.plant import Plant, Section, Stretch, Tap
from line_model.troubles import Battery, Conductor, Leak, Leg, Reversal, Series, Trouble

_EDGE = 0.06
"""No trouble nearer to an end than this, of the route: there it would be seen. Invented here."""
_ROUND_M = 10.0
_SHORTER = 0.5
"""No section lacks more than this part of its metres. Invented for the demo."""
Draw = np.random.Generator
S = TypeVar("S", bound=Stretch)


@dataclass(frozen=True, slots=True)
class Drawn:
    """One pair."""

    record: Plant
    plant: Plant
    mix: Mix
    trouble: tuple[Trouble, ...]


def mixed(level: Level, draw: Draw) -> Mix:
    """Draw what goes wrong, by the shares of a level."""
    shares = np.array([mix.share for mix in level.mix])
    return level.mix[int(draw.choice(len(level.mix), p=shares / shares.sum()))]


def drawn(level: Level, mix: Mix, draw: Draw) -> Drawn:
    """Draw a pair of a level on which something goes wrong."""
    record = _record(level, draw)
    laid = _laid(record, level.doubt_of(mix), draw)
    plant, trouble = _as_it_is(laid, level, draw), _troubles(mix, laid, draw)
    return Drawn(record, plant, mix, trouble)


def evenly(draw: Draw, span: tuple[float, float]) -> float:
    """A number of a range."""
    return float(draw.uniform(*span))


def _record(level: Level, draw: Draw) -> Plant:
    count = int(draw.integers(int(level.sections[0]), int(level.sections[1]) + 1))
    length_m = evenly(draw, level.length_m)
    cuts = np.sort(draw.uniform(0.2, 0.8, count - 1)) if count > 1 else np.array([])
    edges = np.concatenate([[0.0], cuts, [1.0]]) * length_m
    metres = [max(100.0, round(m / _ROUND_M) * _ROUND_M) for m in np.diff(edges)]
    gauges = draw.permutation(np.resize(level.gauges_awg, max(count, len(level.gauges_awg))))
    sections = tuple(
        # an array has forgotten that its gauges are those a level may name
        Section(
            gauge_awg=cast(Any, int(gauge)),
            length_m=m,
            unbalance_percent=0.0,
            unbalance_pf_per_km=0.0,
        )
        for gauge, m in zip(gauges, metres, strict=False)
    )
    celsius = round(evenly(draw, level.temperature_c))
    taps = _taps(level, sections, draw)
    return Plant(section=sections, tap=taps, temperature_c=float(celsius))


def _laid(record: Plant, doubt: Doubt, draw: Draw) -> Plant:
    """What was laid by a record: now and then not what it says."""
    known = records(record, doubt)
    if len(known) == 1:
        return record
    one = known[int(draw.choice(len(known), p=[each.share for each in known]))]
    if one.stretched is None:
        return one.plant
    longer_m = round(float(draw.normal(*doubt.longer_m)) / _ROUND_M) * _ROUND_M
    said_m = record.section[one.stretched].length_m
    return lengthened(record, one.stretched, max(longer_m, -_SHORTER * said_m))


def _taps(level: Level, sections: tuple[Section, ...], draw: Draw) -> tuple[Tap, ...]:
    if 100 * draw.random() >= level.tap_percent:
        return ()
    # neither end, and a customer's garden to a street long: invented here
    whole = sum(section.length_m for section in sections)
    at_m = round(evenly(draw, (0.15, 0.85)) * whole / _ROUND_M) * _ROUND_M
    length_m = round(evenly(draw, (60.0, 300.0)) / _ROUND_M) * _ROUND_M
    even = {"unbalance_percent": 0.0, "unbalance_pf_per_km": 0.0}
    return (Tap(name="T1", at_m=at_m, length_m=length_m, gauge_awg=sections[0].gauge_awg, **even),)


def _as_it_is(record: Plant, level: Level, draw: Draw) -> Plant:
    """The plant behind a record: off by what the level's doubt says."""
    doubt = level.doubt
    gauge, sheath, earth, insulation, farads = (float(n) for n in draw.standard_normal(5))
    hum_volt = evenly(draw, level.hum_volt) if 100 * draw.random() < level.hum_percent else 0.0
    common = _Common(gauge, sheath, insulation, farads)
    sections = tuple(_own(one, doubt, draw, common) for one in record.section)
    taps = tuple(_own(one, doubt, draw, common) for one in record.tap)
    return replace(
        record,
        section=sections,
        tap=taps,
        temperature_c=record.temperature_c + doubt.temperature_c * float(draw.standard_normal()),
        near_earth_ohm=record.near_earth_ohm * doubt.earth_factor**earth,
        far_earth_ohm=record.far_earth_ohm * doubt.earth_factor**earth,
        far_earth_ac_volt=round(hum_volt, 1),
    )


class _Common(NamedTuple):
    """What is off in all stretches alike, in standard deviations."""

    gauge: float
    sheath: float
    insulation: float
    farads: float


def _own(stretch: S, doubt: Doubt, draw: Draw, common: _Common) -> S:
    """A stretch as it really is. Its ohms are off by way of its lay."""
    own, apart = (float(n) for n in draw.standard_normal(2))
    longer = 1 + doubt.gauge_percent / 100 * common.gauge + doubt.section_percent / 100 * own
    said = defaults(gauge_name(stretch))
    return replace(
        stretch,
        lay_percent=max(0.0, 100 * ((1 + said["lay_percent"] / 100) * longer - 1)),
        unbalance_percent=2 * doubt.unbalance_percent * min(abs(apart), 4.0),
        unbalance_pf_per_km=said["unbalance_pf_per_km"],
        sheath_ohm_per_km=said["sheath_ohm_per_km"]
        * (1 + doubt.sheath_percent / 100) ** common.sheath,
        insulation_megohm_km=said["insulation_megohm_km"]
        * doubt.insulation_factor**common.insulation,
        mutual_nf_per_km=said["mutual_nf_per_km"]
        * (1 + doubt.capacitance_percent / 100 * common.farads),
    )


# -- the trouble -------------------------------------------------------------------------------


def _troubles(mix: Mix, record: Plant, draw: Draw) -> tuple[Trouble, ...]:
    legs = mix.legs[int(draw.integers(len(mix.legs)))].split("-") if mix.legs else []
    at_m = _place(record, draw)
    ohm = _ohm(mix, draw)
    if mix.theme == "none":
        return ()
    if mix.theme == "reversal":
        return (Reversal(kind="reversal", at_m=at_m),)
    if mix.theme == "battery":
        volt = round(evenly(draw, mix.volt or (-50.0, -50.0)), 1)
        leg = cast(Leg, legs[0])  # to take a level's words apart is to lose their type
        return (Battery(kind="battery", conductor=leg, at_m=at_m, volt=volt, ohm=ohm),)
    if mix.theme == "two-leaks":
        other = _ohm(mix, draw)
        return (
            Leak(kind="leak", between=("tip", "sheath"), at_m=at_m, ohm=ohm),
            Leak(kind="leak", between=("ring", "sheath"), at_m=at_m, ohm=other),
        )
    if mix.theme == "leak":
        return (Leak(kind="leak", between=(legs[0], legs[1]), at_m=at_m, ohm=ohm),)
    said = ohm if mix.theme == "series" else None
    return tuple(_series(leg, at_m, said) for leg in legs)


def _ohm(mix: Mix, draw: Draw) -> float:
    if mix.ohm is None:
        return 1.0
    low, high = np.log(mix.ohm)
    return _figures(float(np.exp(evenly(draw, (low, high)))))


def _series(leg: str, at_m: float, ohm: float | None) -> Series:
    # a level's conductors are checked when it is read; to take one apart is to lose its type
    return Series(kind="series", conductor=cast(Conductor, leg), at_m=at_m, ohm=ohm)


def _place(record: Plant, draw: Draw) -> float:
    whole = record.length_m
    return float(round(evenly(draw, (_EDGE * whole, (1 - _EDGE) * whole))))


def _figures(value: float) -> float:
    return float(f"{value:.3g}")
