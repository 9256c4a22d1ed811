"""What may be wrong with a pair, as data: kinds with their conductors and what they leave open.

Law: a suspect says how it stands on a front (tip, ring, sheath, earth) at its place, with its ohms
and its volts as arrays. To add a kind: one row of `suspects`, and a `Stands` if it is of a new one.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from farend_sim.bench.answer import NONE, Answer, conductors
from line_model.fan import RING, SHEATH, TIP, Circuit, branch, joined
from line_model.troubles import Battery, Conductor, Leak, Reversal, Series, Trouble
from line_model.two_port import Values

Stands = Literal["nothing", "across", "in", "swap", "both", "apart"]
"""Nowhere; between two conductors; in the way of each of some; tip and ring exchanged; from both
legs to the sheath, at one place; the same at two."""
SHORT_OHM = (0.02, 3.0)
"""Metal on metal: common practice, no source."""
LEAK_OHM = (30.0, 3e7)
"""Everything else between two conductors: dirt, damp, a wet splice; likewise."""
SERIES_OHM = (10.0, 1e5)
BATTERY_OHM = (30.0, 3e6)
"""A joint gone high, and what lies between a leg and a battery: invented for the demo."""
GALVANIC = (0.0, 0.6)
"""Volts of a wet joint's own making: 0.3 to 1 V, common practice, no source."""
BOTH_OHM = (50.0, 1e5)
"""Of each leg at a joint that is wet through: invented for the demo."""
APART_OHM = (50.0, 1e6)
"""Of each leg where two places are wet: likewise."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Suspect:
    """One thing that may be wrong with a pair."""

    kind: str
    leg: tuple[Conductor, ...] = ()
    stands: Stands = "nothing"
    ohm: tuple[float, float] | None = None
    """From, to; None where the kind has no ohms that could differ: then it is open."""
    volt: tuple[float, float] | None = None
    """Mean and standard deviation, plus at the first leg."""
    weight: float = 1.0
    """Before anything is read, against the others."""

    @property
    def placed(self) -> bool:
        """Whether it has a place."""
        return self.stands != "nothing"

    @property
    def twice(self) -> bool:
        """Whether there are two resistances, the second one in the place of volts."""
        return self.stands in ("both", "apart")

    @property
    def apart(self) -> bool:
        """Whether there are two places: the tip's, then the ring's."""
        return self.stands == "apart"

    @property
    def open(self) -> bool:
        """Whether conductors end there."""
        return self.stands == "in" and self.ohm is None

    @property
    def label(self) -> str:
        """Its name for people: `leak tip-ring`, `open tip`."""
        if self.twice:
            return f"{self.kind} tip-sheath and ring-sheath"
        kind = "open" if self.open else self.kind
        return " ".join(part for part in (kind, "-".join(self.leg)) if part)

    def answers(
        self, places: tuple[tuple[float | None, float | None], ...], ohm: tuple[float | None, ...]
    ) -> list[Answer]:
        """What one would answer; each conductor that is open has an answer of its own.

        Args:
            places: where, and within what [m]; the second one is the ring's, where both leak.
            ohm: likewise [ohm].
        """
        each: list[tuple[Conductor, ...]] = [self.leg]
        if self.stands == "in":
            each = [(leg,) for leg in self.leg]
        elif self.twice:
            each = [(leg, "sheath") for leg in self.leg]
        said = ohm if self.twice else (math.inf if self.open else ohm[0],) * len(each)
        where = places if self.twice else places[:1] * len(each)
        return [
            Answer(kind=self.kind, leg=conductors(leg), at_m=at_m, within_m=within_m, ohm=one)
            for leg, one, (at_m, within_m) in zip(each, said, where, strict=True)
        ]

    def troubles(
        self, at_m: float, ohm: float, volt: float, second_m: float = 0.0
    ) -> tuple[Trouble, ...]:
        """The same as a scenario's troubles."""
        if self.stands == "swap":
            return (Reversal(kind="reversal", at_m=at_m),)
        if self.twice:
            both_m = (at_m, second_m if self.apart else at_m)
            each = zip(self.leg, both_m, (ohm, math.exp(volt)), strict=True)
            return tuple(
                Leak(kind="leak", between=(leg, "sheath"), at_m=where_m, ohm=one)
                for leg, where_m, one in each
            )
        if self.stands == "in":
            said = None if self.open else ohm
            return tuple(
                Series(kind="series", conductor=leg, at_m=at_m, ohm=said) for leg in self.leg
            )
        if self.kind == "battery" and self.leg[0] != "sheath":
            one = Battery(kind="battery", conductor=self.leg[0], at_m=at_m, ohm=ohm, volt=volt)
            return (one,)
        if self.stands == "across":
            emf = volt if self.volt is not None else None
            a, b = self.leg
            return (Leak(kind="leak", between=(a, b), at_m=at_m, ohm=ohm, emf_volt=emf),)
        return ()

    def onto(self, behind: Circuit, ohm: Values, volt: Values) -> Circuit:
        """A front with this standing before it, what is behind it included."""
        if self.stands == "across":
            a, b = (*self.leg, "sheath")[:2]
            return joined(behind, branch(a, b, 1 / ohm, None if self.volt is None else volt))
        if self.twice:
            return joined(behind, leaking(1 / ohm, np.exp(-volt)))
        if self.stands == "swap":
            return behind.renamed({"tip": "ring", "ring": "tip"})
        for leg in self.leg if self.stands == "in" else ():
            behind = behind.renamed({leg: f"beyond {leg}"})
            if not self.open:
                behind = joined(behind, branch(leg, f"beyond {leg}", 1 / ohm))
        return behind


def leaking(tip_siemens: Values, ring_siemens: Values) -> Circuit:
    """Each leg of a front leaking to the sheath there."""
    return joined(branch(TIP, SHEATH, tip_siemens), branch(RING, SHEATH, ring_siemens))


def suspects() -> tuple[Suspect, ...]:
    """Everything that a pair is suspected of before anything is read."""
    return tuple(_all())


def _all() -> Iterator[Suspect]:
    yield Suspect(kind=NONE)
    legs: tuple[Conductor, ...] = ("tip", "ring")
    pairs: tuple[tuple[Conductor, Conductor], ...] = (
        ("tip", "ring"),
        ("tip", "sheath"),
        ("ring", "sheath"),
    )
    for pair in pairs:
        yield Suspect(kind="leak", leg=pair, stands="across", ohm=LEAK_OHM)
        yield Suspect(kind="leak", leg=pair, stands="across", ohm=SHORT_OHM)
        yield Suspect(
            kind="leak", leg=pair, stands="across", ohm=LEAK_OHM, volt=GALVANIC, weight=0.3
        )
    for leg in legs:
        yield Suspect(kind="series", leg=(leg,), stands="in", ohm=SERIES_OHM)
    yield from (Suspect(kind="series", leg=(each,), stands="in") for each in (*legs, "sheath"))
    yield Suspect(kind="series", leg=legs, stands="in")
    for leg in legs:
        for volt in (-50.0, 50.0):
            yield Suspect(
                kind="battery", leg=(leg,), stands="across", ohm=BATTERY_OHM, volt=(volt, 3.0),
                weight=0.5,
            )  # fmt: skip
    yield Suspect(kind="leak", leg=legs, stands="both", ohm=BOTH_OHM, weight=0.5)
    yield Suspect(kind="leak", leg=legs, stands="apart", ohm=APART_OHM, weight=0.25)
    yield Suspect(kind="reversal", stands="swap")
