"""One picture of the near end: every panel's view, made from a sitting.

Law: a TraineeView holds nothing that a technician could not see or hear; the far end's inside is a
FarView, and only the trainer's switch asks for that.
"""

from dataclasses import dataclass

from tui import view, view_meter
from tui.card import middle_hz
from tui.pace import Pace
from tui.sitting import Sitting, shown_reading
from tui.view_far import FarView, far
from tui.view_line import LineView, line_view
from tui.view_switches import Switch, switches

_SOUNDS = 30


@dataclass(frozen=True, slots=True)
class TraineeView:
    clock: view.ClockView
    keypad: view.KeypadView
    meter: view_meter.MeterView
    near: view.NearView
    helper: view.HelperView
    trace: tuple[float, ...]
    sounds: tuple[view.SoundView, ...]
    entries: tuple[view.EntryView, ...]
    said: str


def trainee(sitting: Sitting, pace: Pace, feet: bool) -> TraineeView:
    """What the person at the near end sees and hears now."""
    snapshot = sitting.bench.snapshot()
    reading = shown_reading(snapshot)
    middle = middle_hz(sitting.situation.scheme)
    return TraineeView(
        clock=view.clock(snapshot.now_us, pace.rate, pace.paused, sitting.budget_s),
        keypad=view.keypad(snapshot, sitting.keyed, sitting.sounded),
        meter=view_meter.meter(snapshot, sitting.places_m(reading) if reading else {}, feet),
        near=view.near(snapshot, sitting.behind, sitting.has_places, sitting.has_block),
        helper=view.helper(sitting.helper),
        trace=tuple(sitting.trace),
        sounds=tuple(view.sound(one, middle) for one in sitting.heard.sounds[:_SOUNDS]),
        entries=tuple(view.entry(row, feet) for row in reversed(sitting.entries)),
        said=sitting.said,
    )


def trainer(sitting: Sitting) -> FarView:
    """What only the far end knows."""
    inside, receiver = sitting.far()
    return far(inside, receiver, sitting.bench.now_us)


@dataclass(frozen=True, slots=True)
class InsideView:
    """The trainer's screen: everything, marked as what no technician sees."""

    clock: view.ClockView
    far: FarView
    line: LineView
    switches: tuple[Switch, ...]
    said: str


def inside(sitting: Sitting, pace: Pace, feet: bool, columns: int) -> InsideView:
    """The whole pair at this moment, its drawing so many columns wide."""
    bench = sitting.bench
    scenario = sitting.situation.scenario
    return InsideView(
        clock=view.clock(bench.now_us, pace.rate, pace.paused),
        far=trainer(sitting),
        line=line_view(scenario, sitting.away, sitting.along(), columns, feet),
        switches=tuple(switches(sitting, feet)),
        said=sitting.said,
    )
