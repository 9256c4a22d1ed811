"""README.md, DEVELOPERS.md and the guide say what is so."""

import re
from pathlib import Path

import pytest

from farend_sim.unit.machine import diagram

ROOT = Path(__file__).parent.parent
FLOORS = ("", "line_model", "farend_sim", "tui", "scenarios", "tests")
NAMED = re.compile(r"`([\w.*/-]+(?:/|\.(?:py|toml|md|c|tcss|steps)))`")
"""A file or a folder between backticks."""


def test_state_diagram_is_current() -> None:
    """The diagram in DEVELOPERS.md is what the table draws today."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    shown = text.split("<!-- diagram -->\n```mermaid\n")[1].split("\n```\n<!-- end -->")[0]
    assert diagram().strip() == shown


def _texts() -> list[Path]:
    guide = sorted((ROOT / "scenarios" / "guide").glob("*.md"))
    return [ROOT / "README.md", ROOT / "DEVELOPERS.md", ROOT / "scenarios" / "README.md", *guide]


def test_every_scenario_that_ships_is_told_of() -> None:
    """The list of scenarios has every one that ships, and no other."""
    text = (ROOT / "scenarios" / "README.md").read_text("utf-8")
    told = re.findall(r"`farend-sim run ([a-z-]+)`", text)

    assert sorted(path.stem for path in (ROOT / "scenarios").glob("*.toml")) == sorted(told)


@pytest.mark.parametrize("text", _texts(), ids=lambda path: path.name)
def test_every_link_leads_somewhere(text: Path) -> None:
    """A link within the project's texts is a file that is there."""
    links = re.findall(r"\]\(([^)#:]+)\)", text.read_text("utf-8"))

    assert [link for link in links if not (text.parent / link).exists()] == []


def test_every_file_that_is_named_is_there() -> None:
    """What DEVELOPERS.md names is there: under a floor, or beside a file that was just named."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    missing = []
    for paragraph in re.split(r"\n(?=\||- |\d\. |\n)", text):
        places = [ROOT / floor for floor in FLOORS]
        for name in NAMED.findall(paragraph):
            found = [path for place in places for path in place.glob(name.rstrip("/"))]
            missing += [name] * (not found and "NAME" not in name)
            places += [place for path in found for place in (path, path.parent)]

    assert missing == []


def test_every_constant_that_is_named_is_there() -> None:
    """Names in capitals that DEVELOPERS.md gives are in the code."""
    named = re.findall(r"`(_?[A-Z][A-Z_]{3,})\b", (ROOT / "DEVELOPERS.md").read_text("utf-8"))
    files = [file for floor in FLOORS[1:4] for file in (ROOT / floor).rglob("*.py")]
    words = set(re.findall(r"\w+", " ".join(file.read_text("utf-8") for file in files)))

    assert set(named) - words - {"GOLDEN", "NAME"} == set()
