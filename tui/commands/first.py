"""The scenario that is meant when none is named."""

from farend_sim.errors import BadFileError
from farend_sim.shipped import first_scenario


def first() -> str:
    """Return the shipped scenario that is marked first."""
    if (name := first_scenario()) is None:
        raise BadFileError("found no scenario, and none that ships is marked first; expected one")
    return name
