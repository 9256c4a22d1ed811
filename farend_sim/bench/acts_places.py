"""What the steps along the route do: go, bond, open a joint, look both ways, join, repair.

Law: nothing here touches a circuit; whereabouts and troubles are handed to the bench. Handwork and
travel take time, and nobody listens meanwhile. A row says what a technician would see.
"""

from collections.abc import Callable
from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.bench import Bench
from farend_sim.bench.repairing import OffRouteError, found, reached, target
from farend_sim.bench.rows import Row, refused
from farend_sim.bench.whereabouts import NEAR
from line_model.joints import OPENED

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


def where(bench: Bench) -> Row:
    """Where the technician stands, for a row; nothing at the near end."""
    place = bench.pair.where
    if place.spot.place == NEAR:
        return {}
    looking = {"looking": place.looking} if place.opened else {}
    return {"where": place.spot.place, **looking}


def go(bench: Bench, step: s.Go) -> Row:
    here = bench.pair.where
    if step.place not in here.places:
        return refused(no_such_place(bench, step.place))
    if step.place == here.spot.place:
        return refused("you are there already")
    if bench.keypad.sending:
        return refused("keys are still sounding")
    bench.unclip_meter()
    _let_pass(bench, here.travel_s(here.at_m(here.spot.place), here.at_m(step.place)))
    bench.stand(bench.pair.where.gone(step.place))
    return {"where": step.place}


def no_such_place(bench: Bench, name: str) -> str:
    """Why nobody can go there."""
    return f"no place is named {name!r}; there are {', '.join(bench.pair.where.places)}"


def look(bench: Bench, step: s.Look) -> Row:
    here = bench.pair.where
    if not here.opened:
        return refused("no joint is open here: one that is joined is seen both ways at once")
    bench.stand(here.looked(step.side))
    return {}


def bond(bench: Bench, step: s.Bond) -> Row:
    here = bench.pair.where
    if here.access is None or here.access.kind != "joint":
        return refused("no sheath is opened here")
    if here.spot.place in here.bonded:
        return refused("it is bonded across already")
    _let_pass(bench, BOND_S)
    bench.stand(bench.pair.where.with_bond())
    return {}


def open_joint(bench: Bench, step: s.OpenJoint) -> Row:
    here = bench.pair.where
    if here.access is None:
        return refused("no joint that can be opened is here")
    if here.joined == OPENED:
        return refused("it is open already")
    kind = here.access.kind
    _let_pass(bench, OPEN_S[kind])
    bench.stand(bench.pair.where.with_joins(OPENED))
    bonded = kind != "joint" or here.spot.place in here.bonded
    return {} if bonded else {"caution": BOND_FIRST}


def join(bench: Bench, step: s.Join) -> Row:
    here = bench.pair.where
    if here.access is None:
        return refused("no joint that can be opened is here")
    for near, far in here.joined:
        if near == step.near or far == step.far:
            return refused(f"the near side's {near} is joined to the far side's {far} already")
    _let_pass(bench, JOIN_S)
    bench.stand(bench.pair.where.with_joins(here.joined | {(step.near, step.far)}))
    return {}


def repair(bench: Bench, step: s.Repair) -> Row:
    """Go there, make good what is within reach, and come back."""
    here = bench.pair.where
    try:
        there = target(here.plant, {p: here.at_m(p) for p in here.places}, step.place, step.by_m)
    except OffRouteError as error:
        return refused(str(error))
    if bench.keypad.sending:
        return refused("keys are still sounding")
    from_m = here.at_m(here.spot.place)
    if from_m != there.way_m:
        bench.unclip_meter()
    handwork_s = DIG_S if there.joint is None else REPAIR_S[there.joint.kind]
    _let_pass(bench, handwork_s + 2 * here.travel_s(from_m, there.way_m))
    hit = reached(here.plant, bench.pair.troubles, there)
    if hit:
        bench.mend(tuple(each for each in bench.pair.troubles if each not in hit))
    return {"found": found(hit)}


def _let_pass(bench: Bench, seconds: float) -> None:
    """Let the way or handwork pass; its end is attended, so that charge is as it should be."""
    end_us = bench.now_us + round(seconds * 1e6)
    bench.advance_to(max(bench.now_us, end_us - _ATTENDED_US), attended=False)
    bench.advance_to(end_us)


UNHEARD = (s.Go, s.Bond, s.OpenJoint, s.Join, s.Repair)
"""Meanwhile no ear is on the pair."""

ACTS: dict[type, Callable[[Bench, Any], Row]] = {
    s.Go: go,
    s.Look: look,
    s.Bond: bond,
    s.OpenJoint: open_joint,
    s.Join: join,
    s.Repair: repair,
}
"""What each step does, for the transcript's table."""
