"""Steps played on a bench, and what came of each: one row a step, ready for JSON Lines.

A technician's row never holds what only the far end knows; `show_unit` adds that for a trainer.
What cannot be done now is said in the row as `refused`, and the run goes on.
"""

from collections.abc import Iterable, Iterator
from dataclasses import asdict

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.whereabouts import NEAR
from farend_sim.bench.steps.meter import finished
from farend_sim.bench.steps.step import Row as Row
from farend_sim.bench.steps.step import Step, refused
from farend_sim.situation import Situation

NOT_CLIPPED = "the leads are on no pair: clip POST first"


def play(situation: Situation, steps: Iterable[Step], show_unit: bool = False) -> Iterator[Row]:
    """Play steps on a new bench and give a row for each."""
    bench = Bench(situation)
    for step in steps:
        row = play_one(bench, step)
        yield row if show_unit else as_technician(row)


def play_one(bench: Bench, step: Step) -> Row:
    """Do one step at a bench: the row of what came of it, with what only the far end knows."""
    start_us = bench.now_us
    came = _unclipped(bench, step) or step.act(bench)
    return _row(bench, step, start_us, came)


def begin_one(bench: Bench, step: Step) -> Row:
    """Do one step and let no time pass: keys sound, and a reading is made, while time goes on."""
    start_us = bench.now_us
    came = _unclipped(bench, step) or step.begin(bench)
    return _row(bench, step, start_us, came)


def reading_row(bench: Bench, step: Step, start_us: int) -> Row:
    """The row of a reading that was begun so, once its cycle is over."""
    read_us = bench.at_hand.read_us
    assert read_us is not None
    return {**_row(bench, step, start_us, finished(bench)), "t_s": read_us / 1e6}


def _row(bench: Bench, step: Step, start_us: int, came: Row) -> Row:
    return {
        "start_s": start_us / 1e6,
        "t_s": bench.now_us / 1e6,
        "step": step.text,
        "heard": _heard(bench, step, start_us),
        **_where(bench),
        **came,
        "far": _far(bench),
    }


def _heard(bench: Bench, step: Step, start_us: int) -> list[Row] | None:
    """What the ear got meanwhile; where it was away nobody did."""
    heard = [asdict(one) for one in bench.hears(start_us)]
    if step.EAR == "away":
        bench.hears(start_us, "screen")
        return None
    return heard if heard or step.EAR == "listening" else None


def as_technician(row: Row) -> Row:
    """A row without what a technician cannot know."""
    return {key: value for key, value in row.items() if key not in ("settled", "far")}


def _far(bench: Bench) -> Row:
    far = bench.snapshot().far
    not_heard = [one.why for one in bench.far_ear.receiver.refusals]
    bench.far_ear.receiver.refusals.clear()
    return {
        "state": far.state.value,
        "closed": sorted(contact.value for contact in far.closed),
        "deadline_s": None if far.deadline_us is None else far.deadline_us / 1e6,
        **({"not_heard": not_heard} if not_heard else {}),
    }


def _unclipped(bench: Bench, step: Step) -> Row | None:
    """Why a step that asks for leads on a pair cannot be done; None where it can."""
    at_block = bench.pair.where.spot.place == NEAR
    if step.NEEDS_PAIR and at_block and bench.pair.clipped is None:
        return refused(NOT_CLIPPED)
    return None


def _where(bench: Bench) -> Row:
    """Where the technician stands; nothing at the near end."""
    place = bench.pair.where
    if place.spot.place == NEAR:
        return {}
    looking = {"looking": place.looking} if place.opened else {}
    return {"where": place.spot.place, **looking}
