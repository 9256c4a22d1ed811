"""README.md, DEVELOPERS.md and the guide say what is so."""

import re
from pathlib import Path

import pytest

from farend_sim.unit.machine import diagram

ROOT = Path(__file__).parent.parent


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
