"""What a person does at the screen, by keys and by mouse, from the key to what is then to see."""

import json
from pathlib import Path

import pytest

from farend_sim.cautions import FIRST
from tests.tui.at_bench import SIZES, read_loop, screen_of, sit_down, text_of
from tui.panels.act_button import ActButton
from tui.panels.keypad import Key
from tui.person.helper import errands


async def test_dial_strap_read_and_write(tmp_path: Path) -> None:
    """Knock and strap by keys, clip the ohmmeter, read the loop, write it down."""
    sitting = sit_down(tmp_path)
    app = screen_of(sitting)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press(*"#*27")
        app.advance(2_000_000)
        await pilot.press(*"18*")
        app.advance(2_000_000)
        await pilot.press("m", "2", "z", "r")
        app.advance(5_000_000)
        await pilot.press("w")
        await pilot.pause()
        seen = text_of(app)

    assert "ohms tip-ring: 468.0 ohm" in seen
    assert "loop: 2461 m" in seen
    assert [json.loads(line) for line in sitting.logbook.path.read_text().splitlines()] == [
        {
            "scenario": "good-pair",
            "t_s": 7.9,
            "meter": "ohms",
            "across": "tip-ring",
            "shown": "468.0",
            "unit": "ohm",
            "loop_m": 2460.509,
        }
    ]


async def test_by_mouse(tmp_path: Path) -> None:
    """Every key and button takes a click; an answer too."""
    sitting = sit_down(tmp_path)
    app = screen_of(sitting)
    async with app.run_test(size=(100, 30)) as pilot:
        key = next(each for each in app.screen.query(Key) if each.key == "7")
        await pilot.click(key)
        button = next(each for each in app.screen.query(ActButton) if each.act == "pause")
        await pilot.click(button)
        await pilot.pause()
        seen = text_of(app)

    assert [key for _, key in sitting.keyed] == ["7"]
    assert "|| paused" in seen


async def test_what_is_typed_is_no_key_of_the_keypad(tmp_path: Path) -> None:
    """While a note is typed, digits go into it; Escape keeps it, and leaving writes it."""
    sitting = sit_down(tmp_path)
    app = screen_of(sitting)
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.press("n", *"r 12[")
        await pilot.press("escape", "7", "q")

    assert [key for _, key in sitting.keyed] == ["7"]
    assert sitting.entries == ({"t_s": 0.0, "note": "r 12["},)


async def test_a_logbook_that_cannot_be_written_keeps_the_person(tmp_path: Path) -> None:
    """The screen says so, keeps the text, and does not leave."""
    sitting = sit_down(tmp_path)
    app = screen_of(sitting)
    async with app.run_test(size=(100, 30)) as pilot:
        sitting.logbook.path.unlink()
        sitting.logbook.path.mkdir()
        await pilot.press("n", "x", "enter", "escape", "q")
        await pilot.pause()
        seen = text_of(app)
        assert app.at is not None
        draft = app.at.screen.logbook.draft
        running = app.is_running

    assert "NOT WRITTEN" in seen
    assert (draft, running, sitting.entries) == ("x", True, ())


@pytest.mark.parametrize(
    ("act", "said"),
    [
        ("read", "No meter is clipped: choose one first (m)."),
        ("zero", "No meter is clipped: choose one first (m)."),
        ("write", "There is no reading on the display to write down."),
        ("lift", "Nothing is behind the near end of this pair."),
    ],
)
def test_what_cannot_be_done_is_said(tmp_path: Path, act: str, said: str) -> None:
    """A wrong act is answered in words and changes nothing."""
    sitting = sit_down(tmp_path)
    getattr(sitting, act)()

    assert (sitting.said, sitting.bench.now_us) == (said, 0)


def test_a_reading_is_written_once(tmp_path: Path) -> None:
    """The same reading twice is one entry; a second reading is another."""
    sitting = sit_down(tmp_path)
    read_loop(sitting)
    for _ in range(2):
        sitting.write()
    sitting.read()
    sitting.advance(5_000_000)
    sitting.write()

    assert [row["shown"] for row in sitting.entries] == ["468.0", "468.0"]


def test_a_helper_without_a_battery(tmp_path: Path) -> None:
    """The helper tells what was done, and what cannot be done."""
    sitting = sit_down(tmp_path)
    said = []
    for step in ("battery out", "wake", "battery in", "clip reversed", "ground off", "wake"):
        assert f"unit {step}" in dict(errands(sitting.helper))
        sitting.do(f"unit {step}")
        said.append(sitting.said)

    assert said == [
        "The helper says: the battery is out.",
        "The unit has no battery in it.",
        "The helper says: the battery is in.",
        "The helper says: it is clipped on, the clips exchanged.",
        "The helper says: the ground lead is off. Caution: ground first on, last off.",
        "The helper says: the button is pressed.",
    ]


@pytest.mark.parametrize("size", SIZES)
async def test_all_that_matters_fits(tmp_path: Path, size: str) -> None:
    """At every size: keys, display, ear, logbook, and the caution to its last word."""
    sitting = sit_down(tmp_path)
    read_loop(sitting)
    app = screen_of(sitting)
    async with app.run_test(size=SIZES[size]) as pilot:
        await pilot.pause()
        app.refresh_views()
        await pilot.pause()
        seen = text_of(app)

    wanted = ("Keypad", "Meter", "Heard on the pair", "Logbook", "Near end", "Helper", "ask helper")
    assert [word for word in wanted if word not in seen] == []
    assert FIRST in " ".join(seen.split())


async def test_a_step_typed_wrongly_can_be_mended(tmp_path: Path) -> None:
    """The mistake and how the step is written stand whole under what was typed; help lists all."""
    sitting = sit_down(tmp_path)
    app = screen_of(sitting)
    async with app.run_test(size=SIZES["80x24"]) as pilot:
        await pilot.press("s", *"meter ohm tip", "enter")
        await pilot.pause()
        told = text_of(app)
        await pilot.press(*["backspace"] * 4, *"s tip-ring", "enter")
        clipped = sitting.bench.snapshot().meter
        await pilot.press("s", *"help", "enter")
        await pilot.pause()
        steps = text_of(app)

    assert "meter NAME A-B (such as tip-ring)" in " ".join(told.replace("\u2502", " ").split())
    assert "meter ohm tip" in told
    assert clipped == "ohms"
    assert "keys DIGITS" in steps or "meter NAME" in steps
