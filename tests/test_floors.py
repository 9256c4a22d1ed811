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


@pytest.mark.parametrize("package", ["line_model", "farend_sim"])
def test_no_screen_below_the_top_floor(package: str) -> None:
    """Nothing of a screen is loaded with all that has none."""
    code = "\n".join(f"import {name}" for name in modules_of(package))

    assert not loaded_by(code) & (SCREEN | {"tui"})


def test_the_line_knows_nothing_of_the_unit() -> None:
    """The lowest floor loads without the one above."""
    code = "\n".join(f"import {name}" for name in modules_of("line_model"))

    assert "farend_sim" not in loaded_by(code)


def test_the_unit_is_pure() -> None:
    """The unit loads without line, samples or validator."""
    code = "\n".join(f"import {name}" for name in modules_of("farend_sim/unit"))

    assert not loaded_by(code) & (HEAVY - {"transitions"} | {"line_model"} | SCREEN)


@pytest.mark.parametrize(
    "words", [["--help"], ["run", "--help"], ["line", "--help"], ["bench", "--help"]]
)
def test_help_loads_nothing_heavy(words: list[str]) -> None:
    """Help answers at once because nothing heavy is imported for it."""
    code = f"from tui.commands import main\nmain({words!r}, standalone_mode=False)"

    loaded = loaded_by(code)

    assert "click" in loaded
    assert not loaded & HEAVY
