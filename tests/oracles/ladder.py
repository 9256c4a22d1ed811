"""Plants as ladders for ngspice, written from the description of the wiring alone.

Independent of line_model's walk, sections and solvers; common to both are only a stretch's
constants per metre. Every lump is half its shunts, its resistances and inductances, half its
shunts. Node 0 is the near sheath.
"""

from collections.abc import Sequence
from dataclasses import dataclass, field
from math import ceil

from farend_sim.unit.contacts import Contact
from farend_sim.unit.profile import Electrical
from line_model.cable import per_metre
from line_model.plant import Coil, Plant, Stretch
from line_model.troubles import (
    AtPlace,
    BadCoil,
    Battery,
    Bond,
    Leak,
    Reversal,
    Series,
    Trouble,
    Wet,
)

Nodes = dict[str, str]
"""The node that tip, ring and sheath have reached."""


@dataclass
class Ladder:
    """A circuit in the making."""

    plant: Plant
    troubles: tuple[Trouble, ...] = ()
    seed: int = 0
    lumps_per_km: int = 20
    inductance: bool = True
    hum: float = 0.0
    """By how much what alternates in the earth is taken."""
    cards: list[str] = field(default_factory=list)
    sources: dict[str, float] = field(default_factory=dict)
    """The DC sources of the plant by name [V]."""
    far: Nodes = field(default_factory=dict)
    _count: int = 0

    def __post_init__(self) -> None:
        self._node = {"tip": "neartip", "ring": "nearring", "sheath": "0"}
        self._walk()
        self.far = self._node

    def __str__(self) -> str:
        return "\n".join(self.cards)

    def node(self) -> str:
        self._count += 1
        return f"n{self._count}"

    def add(self, kind: str, a: str, b: str, value: float) -> str:
        """Add an element of two nodes and return its name."""
        name = f"{kind}{len(self.cards)}"
        self.cards.append(f"{name} {a} {b} {value!r}")
        return name

    def source(self, a: str, b: str, volt: float, ohm: float) -> None:
        inside = self.node()
        self.sources[self.add("v", inside, b, volt)] = volt
        self.add("r", a, inside, ohm)

    # -- the plant ---------------------------------------------------------------------------

    def _walk(self) -> None:
        sections = [(s, f"section {s.name or i}") for i, s in enumerate(self.plant.section)]
        self._line(None, sections)
        self._earth("0", self.plant.near_earth_ohm, 0.0, 0.0)
        far = self.plant.far_earth_volt, self.plant.far_earth_ac_volt
        self._earth(self._node["sheath"], self.plant.far_earth_ohm, *far)

    def _line(self, line: str | None, stretches: Sequence[tuple[Stretch, str]]) -> None:
        """The route, or a tap by its name: lay it from place to place."""
        ends = [0.0]
        for stretch, _ in stretches:
            ends.append(ends[-1] + stretch.length_m)
        places, here = {*ends}, [each for each in self.troubles if each.line == line]
        if line is None:
            plant = self.plant
            places |= {tap.at_m for tap in plant.tap}
            places |= {earth.at_m for earth in plant.earth}
            places |= {coil.at_m for coil in plant.coils}
        for trouble in here:
            if isinstance(trouble, Wet):
                places |= {trouble.from_m, trouble.to_m}
            elif isinstance(trouble, AtPlace):
                places.add(trouble.at_m)
        before_m = None
        for here_m in sorted(places):
            if before_m is not None:
                which = max(i for i, end_m in enumerate(ends) if end_m <= before_m)
                wet_here = [
                    each
                    for each in here
                    if isinstance(each, Wet) and each.from_m <= before_m and here_m <= each.to_m
                ]
                self._node = self._lay(*stretches[which], here_m - before_m, wet_here)
            if line is None:
                self._fit(here_m)
            for trouble in here:
                if isinstance(trouble, AtPlace) and trouble.at_m == here_m:
                    self._trouble(trouble)
            before_m = here_m

    def _fit(self, here_m: float) -> None:
        """What belongs there: taps, then earths, then load coils."""
        for i, tap in enumerate(self.plant.tap):
            if tap.at_m == here_m:
                main = self._node
                self._line(tap.name or f"tap {i}", [(tap, f"tap {tap.name or i}")])
                self._node = main
        for earth in self.plant.earth:
            bad = [t for t in self.troubles if isinstance(t, Bond) and t.earth == earth.name]
            if earth.at_m == here_m and all(bond.ohm is not None for bond in bad):
                more = sum(bond.ohm or 0.0 for bond in bad)
                self._earth(self._node["sheath"], earth.ohm + more, earth.volt, earth.ac_volt)
        for coil in self.plant.coils:
            bad_coils = [t for t in self.troubles if isinstance(t, BadCoil) and t.coil == coil.name]
            if coil.at_m == here_m and all(bad.wrong != "missing" for bad in bad_coils):
                self._coil(coil, turned=bool(bad_coils))

    def _earth(self, sheath: str, ohm: float, volt: float, ac_volt: float) -> None:
        """An electrode: true earth there is so many volts from true earth at the near end."""
        inside = self.node()
        name = self.add("v", inside, "trueearth", volt)
        self.sources[name] = volt
        self.cards[-1] += f" ac {ac_volt * self.hum!r}"
        self.add("r", sheath, inside, ohm)

    def _coil(self, coil: Coil, turned: bool) -> None:
        """Two windings on one core: the core's field is an inductor that carries both currents.

        Its voltage, a quarter of what the loop's inductance would drop, stands in both legs.
        """
        beyond, k = {**self._node, "tip": self.node(), "ring": self.node()}, len(self.cards)
        for leg, sign in (("tip", 1), ("ring", 1 if turned else -1)):
            self.add("r", self._node[leg], f"w{leg}{k}", coil.ohm / 2)
            if not self.inductance:
                self.add("v", f"w{leg}{k}", beyond[leg], 0.0)
                continue
            self.cards += [
                f"vsense{leg}{k} w{leg}{k} x{leg}{k} 0",
                f"ecore{leg}{k} x{leg}{k} {beyond[leg]} core{k} 0 {sign}",
                f"fcore{leg}{k} 0 core{k} vsense{leg}{k} {sign}",
            ]
        if self.inductance:
            self.add("l", f"core{k}", "0", coil.millihenry * 1e-3 / 4)
        self._node = beyond

    def _trouble(self, trouble: AtPlace) -> None:
        at = self._node
        if isinstance(trouble, Leak):
            a, b = trouble.between
            self.source(at[a], at[b], trouble.emf_volt or 0.0, trouble.ohm)
        elif isinstance(trouble, Battery):
            self.source(at[trouble.conductor], at["sheath"], trouble.volt, trouble.ohm)
        elif isinstance(trouble, Reversal):
            self._node = {"tip": at["ring"], "ring": at["tip"], "sheath": at["sheath"]}
        elif isinstance(trouble, Series):
            beyond = self.node()
            if trouble.ohm is not None:
                self.add("r", at[trouble.conductor], beyond, trouble.ohm)
            self._node = {**at, trouble.conductor: beyond}
        else:
            raise TypeError(f"this ladder has no {type(trouble).__name__} yet: add it above")

    def _lay(self, stretch: Stretch, label: str, length_m: float, wet: list[Wet]) -> Nodes:
        per = per_metre(stretch, self.plant.temperature_c, self.seed, label)
        count = max(2, ceil(length_m / 1000 * self.lumps_per_km))
        dx_m = length_m / count
        ohm = {"tip": per.tip_ohm, "ring": per.ring_ohm, "sheath": per.sheath_ohm}
        swollen = 1 + sum(each.capacitance_percent for each in wet) / 100
        shunts = [
            ("tip", "sheath", per.tip_sheath_farad * swollen, per.leg_sheath_siemens),
            ("ring", "sheath", per.ring_sheath_farad * swollen, per.leg_sheath_siemens),
            ("tip", "ring", per.tip_ring_farad * swollen, 0.0),
            *((*each.between, 0.0, 1 / (each.ohm_km * 1000)) for each in wet),
        ]
        at = self._node
        for i in range(count + 1):
            share_m = dx_m / 2 if i in (0, count) else dx_m
            for leg in ("tip", "ring") if per.slow_farad else ():
                for seconds in (2.0, 10.0, 45.0):
                    third = per.slow_farad * share_m / 3
                    self.series_rc(at[leg], at["sheath"], seconds / third, third)
            for a, b, farad, siemens in shunts:
                if farad:
                    self.add("c", at[a], at[b], farad * share_m)
                if siemens:
                    self.add("r", at[a], at[b], 1 / (siemens * share_m))
            if i == count:
                return at
            beyond = {conductor: self.node() for conductor in at}
            for conductor, node in at.items():
                start = node
                if self.inductance and conductor != "sheath":
                    start = self.node()
                    self.add("l", node, start, per.leg_henry * dx_m)
                self.add("r", start, beyond[conductor], ohm[conductor] * dx_m)
            at = beyond
        raise AssertionError

    # -- the unit ----------------------------------------------------------------------------

    def unit(
        self,
        of: Electrical,
        closed: frozenset[Contact],
        turned: bool = False,
        grounded: bool = True,
    ) -> tuple[str, str]:
        """Clip the unit to the far end; returns the nodes of its own tip and ring."""
        legs = ("ring", "tip") if turned else ("tip", "ring")
        tip, ring = (self.far[leg] for leg in legs)
        if Contact.OFF_PAIR not in closed:
            self.add("r", tip, ring, of.leak_ohm)
            self.series_rc(tip, ring, of.receiver_ohm, of.receiver_farad)
        if Contact.TONE in closed:
            self.series_rc(tip, ring, of.tone_ohm, of.tone_farad)
        if Contact.STRAP in closed:
            self.add("r", tip, ring, of.contact_ohm)
        if Contact.TIP_GROUND in closed:
            self.add("r", tip, "groundlead", of.contact_ohm)
        if Contact.RING_GROUND in closed:
            self.add("r", ring, "groundlead", of.contact_ohm)
        if grounded:
            self.add("r", "groundlead", self.far["sheath"], of.ground_lead_ohm)
        return tip, ring

    def series_rc(self, a: str, b: str, ohm: float, farad: float) -> None:
        middle = self.node()
        self.add("r", a, middle, ohm)
        self.add("c", middle, b, farad)
