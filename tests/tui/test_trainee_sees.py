"""The near end shows nothing that a technician could not see or hear."""

import dataclasses
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from farend_sim.bench.pair.whereabouts import Whereabouts
from farend_sim.bench.snapshot import Far, ReceiverLevels
from farend_sim.files import load_situation
from farend_sim.unit.contacts import Contact
from farend_sim.unit.table import State
from tests.tui.at_bench import SCENARIOS, dial, screen_of, sit_down, text_of
from tui.pace import Pace
from tui.panels.code_card import CodeCard
from tui.person.sitting import Sitting
from tui.views.frame import trainee
from tui.views.view_far import FarView
from tui.ways import ways

INSIDE = (Far, ReceiverLevels, FarView, State, Contact)
WORDS = re.compile(
    r"\b(idle|attentive|asleep|unpowered|strap|tip-ground|ring-ground|both-ground|off-pair"
    r"|series|deadline|left|deaf|floor|TRAINER)\b"
)


def inside(value: Any) -> Iterator[Any]:
    """A value and all that it holds."""
    yield value
    if dataclasses.is_dataclass(value) and not isinstance(value, type):
        for field in dataclasses.fields(value):
            yield from inside(getattr(value, field.name))
    elif isinstance(value, tuple | list):
        for item in value:
            yield from inside(item)


@pytest.fixture
def strapped(tmp_path: Path) -> Sitting:
    sitting = sit_down(tmp_path)
    dial(sitting, "#*27")
    dial(sitting, "18*")
    return sitting


def test_a_trainees_view_holds_nothing_of_the_far_end(strapped: Sitting) -> None:
    """No field of it, however deep, is of the unit's inside."""
    held = list(inside(trainee(strapped, Pace(lambda: 0.0))))

    assert len(held) > 20
    assert not [value for value in held if isinstance(value, INSIDE)]


@pytest.mark.parametrize("trainers", [False, True])
async def test_only_the_trainers_switch_shows_the_unit(strapped: Sitting, trainers: bool) -> None:
    """The screen's words; the card in the technician's hand lists codes and is left out."""
    app = screen_of(strapped, trainers=trainers)
    async with app.run_test(size=(140, 45)) as pilot:
        app.screen.query_one(CodeCard).display = False
        app.refresh_views()
        await pilot.pause()
        seen = set(WORDS.findall(text_of(app)))

    assert seen == ({"TRAINER", "strap", "left", "deaf", "floor"} if trainers else set())


async def test_the_switch_goes_back(strapped: Sitting) -> None:
    """Pressed once more, nothing of the far end is left on the screen."""
    app = screen_of(strapped)
    async with app.run_test(size=(100, 30)) as pilot:
        app.screen.query_one(CodeCard).display = False
        await pilot.press("f8")
        await pilot.pause()
        on = set(WORDS.findall(text_of(app)))
        await pilot.press("f8")
        await pilot.pause()
        off = set(WORDS.findall(text_of(app)))

    assert ("strap" in on, off) == (True, set())


def test_distances_are_the_records() -> None:
    """Where the record is wrong, the choices of where to go are wrong with it."""
    scenario = load_situation(SCENARIOS / "forgotten-length.toml").scenario
    where = Whereabouts(scenario.plant, scenario.recorded)
    said = " ".join(words for _, words in ways(where, False))
    places = [access.at_m for access in scenario.recorded.access]

    assert scenario.plant.length_m != scenario.recorded.length_m
    assert f"at {scenario.recorded.length_m:.0f} m" in said
    assert all(f"at {at_m:.0f} m" in said for at_m in places)
    assert f"at {scenario.plant.length_m:.0f} m" not in said
