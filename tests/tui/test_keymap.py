"""The table of keys: bindings, buttons and help come from it."""

from pathlib import Path

from tests.tui.at_bench import screen_of, sit_down
from tui.help_text import bench_help
from tui.keymap import ACTS, GROUPS, HINTS, KEYPAD
from tui.screens.bench_screen import BenchScreen


def test_no_key_does_two_things() -> None:
    """Each act has a key of its own, and none is a key of the pair's keypad."""
    keys = [act.key for group in GROUPS for act in group.acts]

    assert sorted(keys) == sorted(set(keys))
    assert not set(keys) & set(KEYPAD)
    assert set(HINTS) <= set(ACTS)


def test_help_tells_every_key_and_every_code(tmp_path: Path) -> None:
    """The help screen is made from the tables, so nothing is left out of it."""
    scheme = sit_down(tmp_path).situation.scheme
    text = bench_help(scheme, "").plain

    missing = [act.about for act in ACTS.values() if act.about not in text]
    missing += [command.code for command in scheme.command if command.code not in text]
    missing += [reply.name for reply in scheme.reply if reply.name not in text]
    assert not missing


async def test_every_act_is_done(tmp_path: Path) -> None:
    """The app knows every act of the table; the last one leaves."""
    app = screen_of(sit_down(tmp_path))
    async with app.run_test(size=(100, 30)) as pilot:
        await pilot.pause()
        for name in ACTS:
            if name != "leave":
                assert name in app.more_acts() or name in {"light", "palette"}
                app.action_act(name)
                await pilot.pause()
            while not isinstance(app.screen, BenchScreen):
                app.pop_screen()
        app.action_act("leave")

    assert app.return_code == 0
