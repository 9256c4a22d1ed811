"""The screen as it looks: text at three sizes, and four pictures.

Both are reviewed before they are committed. `GOLDEN=write pytest tests/tui/test_pictures.py` writes
the texts, `pytest tests/tui/test_pictures.py --snapshot-update` the pictures.
"""

import os
from pathlib import Path
from typing import Any

import pytest
from textual.pilot import Pilot

from farend_sim.cautions import FIRST
from tests.tui.at_bench import SIZES, dial, read_loop, screen_of, sit_down, text_of
from tui.app import PairBench
from tui.person.sitting import Sitting

TEXTS = Path(__file__).parent / "text"


@pytest.fixture
def at_work(tmp_path: Path) -> Sitting:
    """A loop read and written down, a note, and keys that sound."""
    sitting = sit_down(tmp_path)
    read_loop(sitting)
    sitting.write()
    sitting.note("loop reads as the record [says]")
    dial(sitting, "#*", then_s=0.04)
    return sitting


async def settle(pilot: Pilot[None]) -> None:
    """Wait until the picture of now is drawn: a blank screen is none, whatever was recorded."""
    app = pilot.app
    assert isinstance(app, PairBench)
    await pilot.pause()
    app.refresh_views()
    await pilot.pause()
    assert FIRST in " ".join(text_of(app).split())


@pytest.mark.parametrize("size", SIZES)
async def test_text(at_work: Sitting, size: str) -> None:
    """The whole screen, letter by letter."""
    app = screen_of(at_work)
    async with app.run_test(size=SIZES[size]) as pilot:
        await settle(pilot)
        seen = text_of(app)

    file = TEXTS / f"{size}.txt"
    if os.environ.get("GOLDEN") == "write":
        file.parent.mkdir(exist_ok=True)
        file.write_text(seen, encoding="utf-8")
    assert seen == file.read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("size", "light", "trainers"),
    [("100x30", False, False), ("140x45", True, False), ("80x24", False, True)],
)
def test_picture(
    at_work: Sitting, snap_compare: Any, size: str, light: bool, trainers: bool
) -> None:
    """Colours, borders and marks, dark and light, with and without the trainer's switch."""
    app = screen_of(at_work, light=light, trainers=trainers)

    assert snap_compare(app, terminal_size=SIZES[size], run_before=settle)


def test_picture_of_the_whole_pair(tmp_path: Path, snap_compare: Any) -> None:
    """The trainer's screen: the line with its trouble, the unit, what can be put in or out."""
    app = screen_of(sit_down(tmp_path, "foreign-battery"))

    assert snap_compare(app, terminal_size=SIZES["100x30"], press=["f9"], run_before=settle)
