"""A pair with neighbours as a ladder for ngspice, written from what a cable is said to be.

Independent of line_model's walk, sections and solvers; common to both are a pair's constants a
metre and the unbalance of each two pairs. A leg's capacitance to the sheath is to all that
surrounds it: what stands between legs of two pairs is taken out of it on both sides.
"""

from dataclasses import dataclass, field
from itertools import combinations
from math import ceil
from typing import Any

from line_model.beside import DIRECT, unbalance_pf_per_km
from line_model.cable import PerMetre, per_metre
from line_model.plant import Plant, Section
from line_model.troubles import Leak, Reversal, Series, Split, Trouble
from tests.oracles.ladder import Ladder, Nodes


@dataclass
class CableLadder(Ladder):
    """The route alone, with these neighbours; taps and fittings are the other ladder's."""

    neighbours: tuple[str, ...] = ()
    near: Nodes = field(default_factory=dict)

    def _walk(self) -> None:
        legs = [f"{name}.{leg}" for name in self.neighbours for leg in ("tip", "ring")]
        self._node |= {leg: f"near{leg.replace('.', '')}" for leg in legs}
        self.near = dict(self._node)
        ends = [0.0]
        for section in self.plant.section:
            ends.append(ends[-1] + section.length_m)
        opens = {one.open_at_m for one in self.plant.neighbour if one.open_at_m is not None}
        places = sorted({*ends, *opens, *(m for one in self.troubles for m in one.spots_m)})
        for before_m, here_m in zip([None, *places], places, strict=False):
            if before_m is not None:
                which = max(i for i, end_m in enumerate(ends) if end_m <= before_m)
                section = self.plant.section[which]
                label = f"section {section.name or which}"
                self._node = self._beside(section, label, here_m - before_m)
            self._stand(here_m)
        self._earth("0", self.plant.near_earth_ohm, 0.0, 0.0)
        self._earth(self._node["sheath"], self.plant.far_earth_ohm, 0.0, 0.0)

    def _stand(self, here_m: float) -> None:
        for one in self.plant.neighbour:
            if one.open_at_m == here_m and one.name in self.neighbours:
                self._node[f"{one.name}.{one.open_leg}"] = self.node()
        for trouble in self.troubles:
            if here_m not in trouble.spots_m:
                continue
            if isinstance(trouble, Split):
                mine, theirs = trouble.conductor, f"{trouble.neighbour}.{trouble.conductor}"
                swapped = {mine: self._node[theirs], theirs: self._node[mine]}
                self._node = {**self._node, **swapped}
            elif isinstance(trouble, Reversal):
                tip, ring = self._node["tip"], self._node["ring"]
                self._node = {**self._node, "tip": ring, "ring": tip}
            else:
                assert isinstance(trouble, Leak | Series)
                self._trouble(trouble)

    def _beside(self, section: Section, label: str, length_m: float) -> Nodes:
        celsius = self.plant.temperature_c
        per = {"": per_metre(section, celsius, self.seed, label)}
        for name in self.neighbours:
            per[name] = per_metre(section, celsius, self.seed, f"{label}/{name}")
        count = max(2, ceil(length_m / 1000 * self.lumps_per_km))
        shunts = self._shunts(section, label, per)
        at = self._node
        for i in range(count + 1):
            share_m = length_m / count / (2 if i in (0, count) else 1)
            for a, b, farad, siemens in shunts:
                self.add("c", at[a], at[b], farad * share_m)
                if siemens:
                    self.add("r", at[a], at[b], 1 / (siemens * share_m))
            if i < count:
                at = self._lump(at, per, length_m / count)
        return at

    def _shunts(
        self, section: Section, label: str, per: dict[str, PerMetre]
    ) -> list[tuple[str, str, float, float]]:
        """Two conductors, and farad and siemens a metre between them."""
        between: list[tuple[str, str, float, float]] = []
        for a, b in combinations(per, 2):
            unbalance = unbalance_pf_per_km(self.seed, label, a, b, section.length_m)
            for one in ("tip", "ring"):
                for other in ("tip", "ring"):
                    sign = 1 if one == other else -1
                    farad = 1e-15 * (DIRECT.value + sign * unbalance / 4)
                    between.append((_leg(a, one), _leg(b, other), farad, 0.0))
        shunts = list(between)
        for name, each in per.items():
            tip, ring = _leg(name, "tip"), _leg(name, "ring")
            for leg, farad in ((tip, each.tip_sheath_farad), (ring, each.ring_sheath_farad)):
                taken = sum(row[2] for row in between if leg in row[:2])
                shunts.append((leg, "sheath", farad - taken, each.leg_sheath_siemens))
            shunts.append((tip, ring, each.tip_ring_farad, 0.0))
        return shunts

    def _lump(self, at: Nodes, per: dict[str, PerMetre], dx_m: float) -> Nodes:
        beyond = {conductor: self.node() for conductor in at}
        self.add("r", at["sheath"], beyond["sheath"], per[""].sheath_ohm * dx_m)
        for name, each in per.items():
            for leg, ohm in (("tip", each.tip_ohm), ("ring", each.ring_ohm)):
                conductor = _leg(name, leg)
                start = at[conductor]
                if self.inductance:
                    start = self.node()
                    self.add("l", at[conductor], start, each.leg_henry * dx_m)
                self.add("r", start, beyond[conductor], ohm * dx_m)
        return beyond

    @classmethod
    def of_needed(cls, plant: Plant, troubles: tuple[Trouble, ...], *how: Any) -> "CableLadder":
        """With the neighbours that troubles need, their ends joined as the plant says they are."""
        names = tuple(dict.fromkeys(name for trouble in troubles for name in trouble.needs))
        ladder = cls(plant, troubles, *how, neighbours=names)
        states = {one.name: one.state for one in plant.neighbour}
        for name in names:
            ladder.ends(name, states.get(name, "quiet"), alternating=False)
        return ladder

    def ends(self, name: str, state: str, alternating: bool) -> None:
        """What a neighbour's two ends are joined to; talk and telephones off hook are not here."""
        for row, end in ((self.near, "near"), (self.far, "far")):
            tip, ring = row[f"{name}.tip"], row[f"{name}.ring"]
            if state == "quiet":
                self.series_rc(tip, ring, 900.0, 2.0e-6)
            elif state == "working" and end == "near":
                if not alternating:
                    self.source(tip, "0", 0.0, 200.0)
                    self.source(ring, "0", -48.0, 200.0)
                self.series_rc(tip, ring, 900.0, 2.16e-6)
            elif state == "working":
                self.add("r", tip, ring, 10e6)
                self.series_rc(tip, ring, 7000.0, 0.5e-6)


def _leg(name: str, leg: str) -> str:
    return f"{name}.{leg}" if name else leg
