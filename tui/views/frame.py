"""One picture of the near end: every panel's view, made from a sitting.

Law: a TraineeView holds nothing that a technician could not see or hear; the far end's inside is a
FarView, and only the trainer's switch asks for that.
"""

from dataclasses import dataclass

from farend_sim.bench.levels import ReceiverLevel
from farend_sim.bench.pair.along import along
from tui.pace import Pace
from tui.person.sitting import Sitting
from tui.views import view, view_meter
from tui.views.view_far import FarView, far
from tui.views.view_line import LineView, line_view
from tui.views.view_switches import Switch, away, switches

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


def trainee(sitting: Sitting, pace: Pace) -> TraineeView:
    """What the person at the near end sees and hears now."""
    snapshot = sitting.bench.snapshot()
    reading = snapshot.held
    middle = sitting.situation.scheme.middle_hz
    return TraineeView(
        clock=view.clock(snapshot.now_us, pace.rate, pace.paused, sitting.budget_s),
        keypad=view.keypad(snapshot, sitting.keyed, sitting.sounded),
        meter=view_meter.meter(
            snapshot, sitting.places_m(reading) if reading else {}, sitting.feet
        ),
        near=view.near(snapshot, sitting.behind, sitting.has_places, sitting.has_block),
        helper=view.helper(sitting.helper),
        trace=tuple(sitting.trace),
        sounds=tuple(view.sound(one, middle) for one in sitting.heard.sounds[:_SOUNDS]),
        entries=tuple(view.entry(row, sitting.feet) for row in reversed(sitting.entries)),
        said=sitting.said,
    )


def trainer(sitting: Sitting, level: ReceiverLevel) -> FarView:
    """What only the far end knows."""
    bench = sitting.bench
    return far(bench.snapshot().far, level.now(bench), bench.now_us)


@dataclass(frozen=True, slots=True)
class InsideView:
    """The trainer's screen: everything, marked as what no technician sees."""

    clock: view.ClockView
    far: FarView
    line: LineView
    switches: tuple[Switch, ...]
    said: str


def inside(sitting: Sitting, pace: Pace, level: ReceiverLevel, columns: int) -> InsideView:
    """The whole pair at this moment, its drawing so many columns wide."""
    bench = sitting.bench
    scenario, feet = sitting.situation.scenario, sitting.feet
    stands = along(bench.pair.route, bench.pair.spell, bench.now_us)
    return InsideView(
        clock=view.clock(bench.now_us, pace.rate, pace.paused),
        far=trainer(sitting, level),
        line=line_view(scenario, away(sitting), stands, columns, feet),
        switches=tuple(switches(sitting)),
        said=sitting.said,
    )
