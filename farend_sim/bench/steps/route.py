"""The steps along the route: go, bond, open a joint, look both ways, join, repair.

Law: nothing here touches a circuit; whereabouts and troubles are handed to the bench. Handwork and
travel take time, and nobody listens meanwhile. A row says what a technician would see.
A place is a name, and a name may have spaces: it is the rest of the line.
"""

import re
from dataclasses import dataclass
from typing import cast, get_args

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.repairing import OffRouteError, found, reached, target
from farend_sim.bench.steps.step import Row, Step, refused
from farend_sim.bench.steps.words import LONGEST_M, Line, MistakeError, choice, exactly, number
from line_model.constants import FOOT_M
from line_model.joints import OPENED, Side
from line_model.terminals import Leg

BOND_S = 60.0
JOIN_S = 60.0
"""To bond across a sheath, and to join one leg by hand [s]. Invented for the demo."""
OPEN_S = {"joint": 300.0, "pedestal": 60.0, "terminal": 30.0}
REPAIR_S = {"joint": 1200.0, "pedestal": 600.0, "terminal": 600.0}
"""To get at the pair and open it, and to make good what is there [s]. Invented for the demo."""
DIG_S = 5400.0
"""To dig down to the cable, make good what is there and close again [s]. Invented for the demo."""
_ATTENDED_US = 2_000_000
"""Longer than a pair takes to charge: a metre of it or ten kilometres [us]."""
BOND_FIRST = "bond across the sheath before opening it"
NO_JOINT = "no joint that can be opened is here"
_LENGTH = re.compile(r"([-+]?[\d.]\S*?)(m|ft)?")


@dataclass(frozen=True, slots=True, kw_only=True)
class Go(Step):
    """Go there; keypad, ear and meter go along."""

    USAGE = "go PLACE, which is near, far or an access point"
    EAR = "away"

    place: str

    @classmethod
    def read(cls, line: Line) -> Step:
        place = _place(line, cls.USAGE)
        if line.places is not None:
            choice(place, line.places)
        return cls(line=line.line, text=line.text, place=place)

    def act(self, bench: Bench) -> Row:
        here = bench.pair.where
        if self.place not in here.places:
            there = ", ".join(here.places)
            return refused(f"no place is named {self.place!r}; there are {there}")
        if self.place == here.spot.place:
            return refused("you are there already")
        if bench.keypad.sending:
            return refused("keys are still sounding")
        bench.unclip_meter()
        _unattended(bench, here.travel_s(here.at_m(here.spot.place), here.at_m(self.place)))
        bench.stand(bench.pair.where.gone(self.place))
        return {"where": self.place}


@dataclass(frozen=True, slots=True, kw_only=True)
class Look(Step):
    """Put the leads on one side of the opened joint at hand."""

    USAGE = "look near or look far"

    side: Side

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 1, cls.USAGE)
        side = cast(Side, choice(line.words[0], get_args(Side)))
        return cls(line=line.line, text=line.text, side=side)

    def act(self, bench: Bench) -> Row:
        here = bench.pair.where
        if not here.opened:
            return refused("no joint is open here: one that is joined is seen both ways at once")
        bench.stand(here.looked(self.side))
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Bond(Step):
    """Bond across the sheath before a joint is opened."""

    USAGE = "bond"
    EAR = "away"

    def act(self, bench: Bench) -> Row:
        here = bench.pair.where
        if here.access is None or here.access.kind != "joint":
            return refused("no sheath is opened here")
        if here.spot.place in here.bonded:
            return refused("it is bonded across already")
        _unattended(bench, BOND_S)
        bench.stand(bench.pair.where.with_bond())
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class OpenJoint(Step):
    """Open both legs of the joint where you are."""

    USAGE = "open-joint"
    EAR = "away"

    def act(self, bench: Bench) -> Row:
        here = bench.pair.where
        if here.access is None:
            return refused(NO_JOINT)
        if here.joined == OPENED:
            return refused("it is open already")
        kind = here.access.kind
        _unattended(bench, OPEN_S[kind])
        bench.stand(bench.pair.where.with_joins(OPENED))
        bonded = kind != "joint" or here.spot.place in here.bonded
        return {} if bonded else {"caution": BOND_FIRST}


@dataclass(frozen=True, slots=True, kw_only=True)
class Join(Step):
    """Join a leg of the near side to one of the far side."""

    USAGE = "join A B: A the near side's leg, B the far side's, each tip or ring"
    EAR = "away"

    near: Leg
    far: Leg

    @classmethod
    def read(cls, line: Line) -> Step:
        exactly(line, 2, cls.USAGE)
        near, far = (cast(Leg, choice(word, get_args(Leg))) for word in line.words)
        return cls(line=line.line, text=line.text, near=near, far=far)

    def act(self, bench: Bench) -> Row:
        here = bench.pair.where
        if here.access is None:
            return refused(NO_JOINT)
        for near, far in here.joined:
            if near == self.near or far == self.far:
                return refused(f"the near side's {near} is joined to the far side's {far} already")
        _unattended(bench, JOIN_S)
        bench.stand(bench.pair.where.with_joins(here.joined | {(self.near, self.far)}))
        return {}


@dataclass(frozen=True, slots=True, kw_only=True)
class Repair(Step):
    """Dig, or open the joint, and make good what is there.

    Without a place the metres are counted from the near end; `ft` may follow them.
    """

    USAGE = (
        "repair PLACE, repair METRES (from the near end), or repair PLACE +METRES or -METRES; "
        "PLACE is an access point or a tap"
    )
    EAR = "away"

    place: str | None
    by_m: float

    @classmethod
    def read(cls, line: Line) -> Step:
        *named, last = line.words or ("",)
        length = _LENGTH.fullmatch(last)
        if length is None or (named and last[0] not in "+-"):
            place = _place(line, cls.USAGE)
            return cls(line=line.line, text=line.text, place=place, by_m=0.0)
        least = -LONGEST_M if named else 0.0
        by_m = number(length[1], least, LONGEST_M, "metres, or feet with ft behind,")
        by_m *= FOOT_M if length[2] == "ft" else 1.0
        return cls(line=line.line, text=line.text, place=" ".join(named) or None, by_m=by_m)

    def act(self, bench: Bench) -> Row:
        """Go there, make good what is within reach, and come back."""
        here = bench.pair.where
        places_m = {place: here.at_m(place) for place in here.places}
        try:
            there = target(here.plant, places_m, self.place, self.by_m)
        except OffRouteError as error:
            return refused(str(error))
        if bench.keypad.sending:
            return refused("keys are still sounding")
        from_m = here.at_m(here.spot.place)
        if from_m != there.way_m:
            bench.unclip_meter()
        handwork_s = DIG_S if there.joint is None else REPAIR_S[there.joint.kind]
        _unattended(bench, handwork_s + 2 * here.travel_s(from_m, there.way_m))
        hit = reached(here.plant, bench.pair.troubles, there)
        if hit:
            bench.mend(tuple(each for each in bench.pair.troubles if each not in hit))
        return {"found": found(hit)}


STEPS: tuple[type[Step], ...] = (Go, Look, Bond, OpenJoint, Join)
REPAIRS: tuple[type[Step], ...] = (Repair,)
"""What can be done where a route has no access points too."""


def _place(line: Line, usage: str) -> str:
    if not line.words:
        raise MistakeError(repr(line.text), usage)
    return " ".join(line.words)


def _unattended(bench: Bench, seconds: float) -> None:
    """Let the way or handwork pass; its end is attended, so that charge is as it should be."""
    end_us = bench.now_us + round(seconds * 1e6)
    bench.advance_to(max(bench.now_us, end_us - _ATTENDED_US), attended=False)
    bench.advance_to(end_us)
