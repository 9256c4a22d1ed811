"""The trainer's drawing of the line: sections to scale, troubles under them, volts along it."""

from pathlib import Path

from farend_sim.bench.pair.along import Along
from farend_sim.files import load_situation
from tui.views.view_line import line_view, trouble_words

SCENARIOS = Path(__file__).parents[2] / "scenarios"


def test_the_drawing_letter_by_letter() -> None:
    """Joints and troubles stand where they are; one that is out is a dot, in feet or metres."""
    scenario = load_situation(SCENARIOS / "foreign-battery.toml").scenario
    at = (Along(0.0, -50.0, -0.001, 0.0), Along(2400.0, None, None, 0.0))
    there = line_view(scenario, frozenset(), at, 60, False)
    out = line_view(scenario, frozenset({0}), at, 60, True)

    assert there.drawing.splitlines() == [
        " " * 24 + "22 AWG, 2400 m",
        "near \u2551" + "\u2550" * 49 + "\u2551 far",
        " " * 36 + "\u25b21",
    ]
    assert out.drawing.splitlines()[0].strip() == "22 AWG, 7874 ft"
    assert out.drawing.splitlines()[2].strip() == "\u00b71"
    assert there.volts == (
        "  place   tip V  ring V tip-ring sheath",
        "    0 m  -50.00    0.00   -50.00   0.00",
        " 2400 m       -       -        -   0.00",
    )


def test_every_shipped_trouble_can_be_told_and_drawn() -> None:
    """No kind of trouble, on the route or a tap, leaves the drawing without words."""
    for file in sorted(SCENARIOS.glob("*.toml")):
        scenario = load_situation(file).scenario
        view = line_view(scenario, frozenset(), (), 74, False)

        assert len(view.drawing.splitlines()) == 3
        assert all(
            trouble_words(trouble, scenario.plant, False).startswith(trouble.kind)
            for trouble in scenario.trouble
        )
        assert max(map(len, view.drawing.splitlines())) <= 74
