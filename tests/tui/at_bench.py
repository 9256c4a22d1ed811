"""A sitting and a screen for tests: time passes only when a test says so."""

from pathlib import Path

from farend_sim.files import load_situation
from tui.app import PairBench
from tui.pace import Pace
from tui.person.logbook_file import LogbookFile
from tui.person.sitting import Sitting

SCENARIOS = Path(__file__).parents[2] / "scenarios"
SIZES = {"80x24": (80, 24), "100x30": (100, 30), "140x45": (140, 45)}


def sit_down(folder: Path, scenario: str = "good-pair") -> Sitting:
    """A person at a shipped scenario, with a logbook in a folder of the test's."""
    situation = load_situation(SCENARIOS / f"{scenario}.toml")
    return Sitting(situation, LogbookFile(folder / "logbook.jsonl"))


def screen_of(sitting: Sitting, *, trainers: bool = False, light: bool = False) -> PairBench:
    """The app over a sitting; its clock stands still."""
    return PairBench(sitting, Pace(lambda: 0.0), trainers=trainers, light=light)


def dial(sitting: Sitting, keys: str, then_s: float = 2.0) -> None:
    """Press keys one after another, and wait."""
    for key in keys:
        sitting.press(key)
    sitting.advance(round(then_s * 1e6))


def read_loop(sitting: Sitting) -> None:
    """Knock, strap, and read the loop with zeroed leads."""
    dial(sitting, "#*27")
    dial(sitting, "18*")
    sitting.clip("ohms", "tip-ring")
    sitting.zero()
    sitting.read()
    sitting.advance(5_000_000)


def lines_of(app: PairBench) -> list[str]:
    """The lines of the screen as text."""
    strips = app.screen._compositor.render_strips()
    return ["".join(segment.text for segment in strip).rstrip() for strip in strips]


def text_of(app: PairBench) -> str:
    """The whole screen as text."""
    return "\n".join(lines_of(app)) + "\n"
