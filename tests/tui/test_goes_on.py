"""What was done is the only memory: a drill that goes on has all that was on the screen."""

import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest

from farend_sim.drill.files import find_drill
from farend_sim.drill.marks.verdict import judge
from farend_sim.drill.work import kept
from farend_sim.drill.work.attempt import Attempt
from tests.tui.at_bench import dial, screen_of
from tui.pace import Pace
from tui.person.helper import errands
from tui.person.logbook_file import LogbookFile
from tui.person.sitting import Sitting
from tui.views.frame import TraineeView, trainee
from tui.views.view_block import PostView, posts
from tui.worksheet import filled

BLOCK, BRIDGE = "corn-hall-8", "crooked-chapel-10"


class Desk:
    """Where a trainee works: a journal and a logbook in a folder of the test's."""

    def __init__(self, folder: Path) -> None:
        self.journal, self._logbook = folder / "attempt.jsonl", folder / "logbook.jsonl"
        self.attempt: Attempt | None = None

    def begin(self, drill: str) -> Sitting:
        """Begin a drill."""
        return self._sit(kept.start(find_drill(drill), self.journal))

    def go_on(self) -> Sitting:
        """Leave, and come back."""
        self.close()
        return self._sit(kept.resume(self.journal))

    def close(self) -> None:
        """Leave."""
        if self.attempt is not None:
            self.attempt.close()

    def _sit(self, attempt: Attempt) -> Sitting:
        self.attempt = attempt
        return Sitting(attempt.drill.situation, LogbookFile(self._logbook), attempt)


@pytest.fixture
def desk(tmp_path: Path) -> Iterator[Desk]:
    """A desk, left in order."""
    desk = Desk(tmp_path)
    yield desk
    desk.close()


def at_work(desk: Desk) -> Sitting:
    """Posts probed, the unit clipped on anew, a loop read and written, a note, a step typed."""
    sitting = desk.begin(BLOCK)
    for step in ("probe 3", "pinch 3", "probe 4 tip", f"clip {_post(sitting)}", "lift"):
        sitting.do(step)
    dial(sitting, "#*27")
    dial(sitting, "18*")
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    sitting.advance(8_000_000)
    sitting.write()
    sitting.note("the strap is on")
    for step in ("unit clip reversed", "unit ground off", "unit battery out", "note typed"):
        sitting.do(step)
    sitting.read()
    sitting.advance(9_000_000)
    return sitting


def _post(sitting: Sitting) -> int:
    block = sitting.situation.scenario.block
    assert block is not None
    return block.pair


def view_of(sitting: Sitting) -> TraineeView:
    """What the bench's screen shows."""
    return trainee(sitting, Pace(lambda: 0.0))


def looks(sitting: Sitting) -> tuple[TraineeView, tuple[PostView, ...], str]:
    """All that stands on the screens, but for what was answered last and the moving trace."""
    view = replace(view_of(sitting), said="", trace=())
    return view, tuple(posts(sitting)), filled("loop", sitting.entries)


def test_all_that_was_there_is_there_again(desk: Desk) -> None:
    """Logbook, posts, helper, keys, sounds and the worksheet's first word."""
    sitting = at_work(desk)
    before = looks(sitting)
    again = desk.go_on()

    assert before == looks(again)
    notes = [entry["note"] for entry in again.entries if "note" in entry]
    assert (len(again.entries), notes) == (3, ["the strap is on", "typed"])
    assert again.logbook.written == 0
    assert before[2] == "--ohm 243.3"
    assert "leads on it" in " ".join(post.words for post in before[1])


def test_a_reading_written_before_is_not_written_again(desk: Desk) -> None:
    """Whoever comes back and writes the same reading is told that it is there already."""
    sitting = desk.begin(BRIDGE)
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    sitting.advance(9_000_000)
    sitting.write()
    again = desk.go_on()
    again.write()

    assert again.said == "That reading is in the logbook already."
    assert len(again.logbook.path.read_text().splitlines()) == 1


def test_a_reading_under_way_goes_on(desk: Desk) -> None:
    """Left in mid-cycle, the meter reads on, and its reading is told and can be written."""
    sitting = desk.begin(BRIDGE)
    sitting.clip("ohms", "tip-ring")
    sitting.read()
    sitting.advance(2_000_000)
    again = desk.go_on()
    again.advance(9_000_000)
    again.write()

    shown = [row["shown"] for row in again.rows if "shown" in row]
    assert shown == [entry["shown"] for entry in again.entries]
    assert len(shown) == 1


def test_played_again_it_is_judged_the_same(desk: Desk) -> None:
    """A screen that listens meanwhile takes nothing from what the steps have heard."""
    sitting = at_work(desk)
    assert sitting.attempt is not None
    sitting.do("answer kind=unit")
    sitting.attempt.hand_in()
    sitting.attempt.close()
    again = kept.read(desk.journal)

    assert [one.row for one in sitting.attempt.done] == [one.row for one in again.done]
    assert any(one.row["heard"] for one in again.done)
    assert judge(sitting.attempt) == judge(again)


def test_the_helper_is_asked_for_what_can_be_done(desk: Desk) -> None:
    """However a step came about, the battery that is out goes in, the lead that is off goes on."""
    sitting = at_work(desk)
    asked = dict(errands(sitting.helper))

    assert {"unit battery in", "unit ground on", "unit clip"} <= asked.keys()
    assert not {"unit battery out", "unit ground off", "unit clip reversed"} & asked.keys()


async def test_a_draft_is_written_once_the_work_is_handed_in(desk: Desk) -> None:
    """Nothing more is a step then; a note that was typed goes into the logbook, and one leaves."""
    sitting = desk.begin(BRIDGE)
    assert sitting.attempt is not None
    app = screen_of(sitting)
    async with app.run_test(size=(100, 30)) as pilot:
        sitting.attempt.hand_in()
        await pilot.press("n", *"bye", "escape", "q")
        await pilot.pause()

    lines = [json.loads(line) for line in sitting.logbook.path.read_text().splitlines()]
    assert [line["note"] for line in lines] == ["bye"]
    assert app.return_code == 0


def test_a_note_is_answered(desk: Desk) -> None:
    """Whoever wrote a note is told that it is written."""
    sitting = desk.begin(BRIDGE)

    assert sitting.note("dry weather")
    assert sitting.said == "Written into the logbook at 0.0 s."
