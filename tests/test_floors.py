"""The three floors stay apart when they run, not only where they import."""

import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SCREEN = {"textual", "rich", "click"}
HEAVY = {"numpy", "scipy", "textual", "rich", "pydantic", "transitions"}


def modules_of(package: str) -> list[str]:
    """Every module of a package, by its dotted name."""
    return sorted(
        ".".join(path.relative_to(ROOT).with_suffix("").parts).removesuffix(".__init__")
        for path in (ROOT / package).rglob("*.py")
    )


def loaded_by(code: str) -> set[str]:
    """The top-level packages that a fresh interpreter has after running some code."""
    tail = "\nimport sys; print('\\n' + ' '.join({name.partition('.')[0] for name in sys.modules}))"
    done = subprocess.run(
        [sys.executable, "-c", code + tail], cwd=ROOT, capture_output=True, text=True, check=True
    )
    return set(done.stdout.splitlines()[-1].split())


@pytest.mark.parametrize(
    ("package", "never"),
    [
        ("line_model", SCREEN | {"tui", "farend_sim"}),
        ("farend_sim", SCREEN | {"tui"}),
        ("farend_sim/unit", HEAVY - {"transitions"} | SCREEN | {"tui", "line_model"}),
    ],
)
def test_each_floor_stands_alone(package: str, never: set[str]) -> None:
    """The line knows nothing of the unit, the unit neither line nor samples, and none a screen."""
    code = "\n".join(f"import {name}" for name in modules_of(package))

    assert loaded_by(code) & never == set()


def test_help_loads_nothing_heavy() -> None:
    """Help answers at once because nothing heavy is imported for it, a command's own neither."""
    asked = ("", "run", "line", "bench", "locate", "locate bridge", "drill", "scheme", "hold")
    helps = [[*words.split(), "--help"] for words in asked]
    code = (
        f"from tui.commands import main\nfor words in {helps}:\n main(words, standalone_mode=False)"
    )

    loaded = loaded_by(code)

    assert "click" in loaded
    assert loaded & HEAVY == set()
