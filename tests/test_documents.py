"""README.md and DEVELOPERS.md say what is so."""

from pathlib import Path

from farend_sim.unit.machine import diagram

ROOT = Path(__file__).parent.parent


def test_state_diagram_is_current() -> None:
    """The diagram in DEVELOPERS.md is what the table draws today."""
    text = (ROOT / "DEVELOPERS.md").read_text("utf-8")
    shown = text.split("<!-- diagram -->\n```mermaid\n")[1].split("\n```\n<!-- end -->")[0]
    assert diagram().strip() == shown


def test_every_file_named_in_the_guides_exists() -> None:
    """Scenarios that the README runs are shipped."""
    text = (ROOT / "README.md").read_text("utf-8")
    named = [
        line.split("`")[1].split()[2] for line in text.splitlines() if "| `farend-sim run " in line
    ]
    assert named
    assert all((ROOT / "scenarios" / f"{name}.toml").exists() for name in named)
