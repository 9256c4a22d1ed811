"""Equipment says of itself all that it is made of."""

from dataclasses import fields

import pytest

from line_model.equipment import Equipment

EVERY = (
    Equipment(),
    Equipment(equipment="office"),
    Equipment(equipment="telephone"),
    Equipment(equipment="telephone", hook="off"),
    Equipment(equipment="quiet"),
)


@pytest.mark.parametrize("of", EVERY)
def test_figures_list_every_ohm_farad_and_volt(of: Equipment) -> None:
    """No number that a part of it holds is missing from what `farend-sim line` prints."""
    numbers = {
        value
        for part in of.parts("tip", "ring", "sheath")
        for field in fields(part)
        if field.name.rpartition("_")[2] in ("ohm", "farad", "volt")
        if (value := getattr(part, field.name))
    }
    told = {value for value in of.figures().values() if isinstance(value, float)}
    assert numbers <= told
    assert (of.equipment == "none") == (not numbers)


@pytest.mark.parametrize("of", EVERY)
def test_figures_name_their_unit(of: Equipment) -> None:
    """Every number's key ends in its unit."""
    keys = [key for key, value in of.figures().items() if not isinstance(value, str)]
    assert {key.rpartition("_")[2] for key in keys} <= {"ohm", "farad", "volt", "hz", "dbm", "amp"}
