"""Steps played on a bench, and what came of each: one row a step, ready for JSON Lines.

A technician's row never holds what only the far end knows; `show_unit` adds that for a trainer.
What cannot be done now is said in the row as `refused`, and the run goes on.
"""

from collections.abc import Callable, Iterable, Iterator
from dataclasses import asdict, replace
from typing import Any

from farend_sim.bench import acts_block, acts_places, acts_unit
from farend_sim.bench import steps as s
from farend_sim.bench.bench import Bench
from farend_sim.bench.places_m import places_m
from farend_sim.bench.rows import Row, refused
from farend_sim.situation import Situation

__all__ = ["Row", "as_technician", "begin_one", "play", "play_one", "reading_row"]

Act = Callable[[Bench, Any], Row]


def play(situation: Situation, steps: Iterable[s.Step], show_unit: bool = False) -> Iterator[Row]:
    """Play steps on a new bench and give a row for each."""
    bench = Bench(situation)
    for step in steps:
        row = play_one(bench, step)
        yield row if show_unit else as_technician(row)


def play_one(bench: Bench, step: s.Step) -> Row:
    """Do one step at a bench: the row of what came of it, with what only the far end knows."""
    start_us = bench.now_us
    came = acts_block.unclipped(bench, step) or _ACTS[type(step)](bench, step)
    return _row(bench, step, start_us, came)


def begin_one(bench: Bench, step: s.Step) -> Row:
    """Do one step and let no time pass: keys sound, and a reading is made, while time goes on."""
    start_us = bench.now_us
    came = acts_block.unclipped(bench, step) or {**_ACTS, **_BEGINS}[type(step)](bench, step)
    return _row(bench, step, start_us, came)


def reading_row(bench: Bench, step: s.Step, start_us: int) -> Row:
    """The row of a reading that was begun so, once its cycle is over."""
    return _row(bench, step, start_us, _finished(bench))


def _row(bench: Bench, step: s.Step, start_us: int, came: Row) -> Row:
    heard = [asdict(one) for one in bench.hears(start_us)]
    heard = [] if isinstance(step, (*acts_places.UNHEARD, *acts_block.UNHEARD)) else heard
    listened = isinstance(step, s.Listen)
    return {
        "start_s": start_us / 1e6,
        "t_s": bench.now_us / 1e6,
        "step": step.text,
        "heard": heard if heard or listened else None,
        **acts_places.where(bench),
        **came,
        "far": _far(bench),
    }


def as_technician(row: Row) -> Row:
    """A row without what a technician cannot know."""
    return {key: value for key, value in row.items() if key not in ("settled", "far")}


def _far(bench: Bench) -> Row:
    far = bench.snapshot().far
    not_heard = [one.why for one in bench.receiver.refusals]
    bench.receiver.refusals.clear()
    return {
        "state": far.state.value,
        "closed": sorted(contact.value for contact in far.closed),
        "deadline_s": None if far.deadline_us is None else far.deadline_us / 1e6,
        **({"not_heard": not_heard} if not_heard else {}),
    }


# -- the near end ------------------------------------------------------------------------------


def _lift(bench: Bench, step: s.Lift) -> Row:
    if acts_places.where(bench):
        return refused("what is behind the near end is there, and you are not")
    if bench.pair.behind.equipment == "none":
        return refused("nothing is behind the near end of this pair")
    if bench.pair.lifted:
        return refused("it is lifted already")
    bench.lift()
    return {}


def _restore(bench: Bench, step: s.Restore) -> Row:
    if acts_places.where(bench):
        return refused("what is behind the near end is there, and you are not")
    if not bench.pair.lifted:
        return refused("nothing is lifted")
    bench.restore()
    return {}


def _meter_on(bench: Bench, step: s.MeterOn) -> Row:
    if step.meter not in bench.meters:
        return refused(f"no meter named {step.meter!r} is at hand")
    profile = bench.meters[step.meter].profile
    if (why := profile.refuses(step.across)) is not None:
        return refused(why)
    if (why := acts_block.out_of_reach(bench, step.across)) is not None:
        return refused(why)
    bench.clip_meter(step.meter, step.across)
    return {"caution": profile.caution} if profile.caution else {}


def _meter_off(bench: Bench, step: s.MeterOff) -> Row:
    if bench.meter is None:
        return refused("no meter is clipped")
    bench.unclip_meter()
    return {}


def _near(bench: Bench, step: s.Near) -> Row:
    bench.clip_lead(step.lead)
    return {}


def _press(bench: Bench, step: s.Keys) -> Row:
    own = bench.situation.scenario.keypad
    settings = replace(
        own,
        on_ms=own.on_ms if step.on_us is None else step.on_us // 1000,
        off_ms=own.off_ms if step.off_us is None else step.off_us // 1000,
        level_dbm=own.level_dbm if step.level_dbm is None else step.level_dbm,
    )
    bench.press(step.digits, settings)
    return {}


def _keys(bench: Bench, step: s.Keys) -> Row:
    _press(bench, step)
    if bench.keypad.ends_us is not None:
        bench.advance_to(bench.keypad.ends_us)
    return {}


def _wait(bench: Bench, step: s.Wait | s.Listen) -> Row:
    bench.advance_to(bench.now_us + step.duration_us)
    return {}


def _start_reading(bench: Bench, step: s.Read) -> Row:
    if bench.meter is None:
        return refused("no meter is clipped")
    if bench.meter.deadline_us is not None:
        return refused("the meter is at it: wait until its cycle is over")
    bench.start_reading()
    return {}


def _read(bench: Bench, step: s.Read) -> Row:
    if why_not := _start_reading(bench, step):
        return why_not
    bench.finish_reading()
    return _finished(bench)


def _finished(bench: Bench) -> Row:
    reading = bench.snapshot().reading
    assert reading is not None
    row = asdict(reading)
    row.update(row.pop("more"))
    return {**row, **places_m(reading, bench)}


def _zero(bench: Bench, step: s.Zero) -> Row:
    if bench.meter is None:
        return refused("no meter is clipped")
    if not bench.meter.zero():
        return refused("the leads of this meter need no zero")
    return {}


def _note(bench: Bench, step: s.Note) -> Row:
    return {"note": step.note}


def _log(bench: Bench, step: s.Log) -> Row:
    if (reading := bench.snapshot().held) is None:
        return refused("there is no reading on the display")
    return {"logged": {"meter": reading.meter, "across": reading.across, "shown": reading.shown}}


def _say(bench: Bench, step: s.Say) -> Row:
    return {"answered": None if step.answer is None else asdict(step.answer)}


_ACTS: dict[type, Act] = {
    **acts_unit.ACTS,
    s.Lift: _lift,
    s.Restore: _restore,
    s.MeterOn: _meter_on,
    s.MeterOff: _meter_off,
    s.Near: _near,
    s.Keys: _keys,
    s.Wait: _wait,
    s.Listen: _wait,
    s.Read: _read,
    s.Zero: _zero,
    s.Note: _note,
    **acts_places.ACTS,
    **acts_block.ACTS,
    s.Log: _log,
    s.Say: _say,
}
"""What each step does; a step without a row here does not exist."""

_BEGINS: dict[type, Act] = {
    s.Keys: _press,
    s.Read: _start_reading,
    s.Wait: lambda bench, step: {},
    s.Listen: lambda bench, step: {},
}
"""What those that last do where they only begin."""
