"""A scenario: a written situation that can be stepped through.

These dataclasses are what a scenario file validates into (farend_sim/files.py); what must hold
between its keys is in farend_sim/problems/scenario.py.
"""

from dataclasses import dataclass, field, replace
from typing import Annotated, Literal

from annotated_types import Ge, Le, MinLen
from pydantic import Discriminator

from farend_sim.block import Block
from farend_sim.control.keypad import KeypadSettings
from farend_sim.unit_faults import Fault
from line_model.equipment import Equipment
from line_model.plant import Plant
from line_model.troubles import Trouble
from line_model.worksheet.record import without_unbalances


@dataclass(frozen=True, slots=True, kw_only=True)
class Noise:
    """Noise between tip and ring, as the unit's receiver gets it."""

    level_dbm: Annotated[float, Ge(-150), Le(10)] = -70.0
    """Source: 20 dBrnC, the limit of 7 CFR 1755.403(e)(6)(ii)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Scenario:
    """What a person writes down: the plant, its trouble, the instruments and the settings."""

    format: Literal[1]
    title: str = ""
    brief: str = ""
    """What the trainee is told."""
    seed: int = 0
    scheme: Annotated[str, MinLen(1)] = "offset"
    unit: Annotated[str, MinLen(1)] = "reference"
    meters: tuple[Annotated[str, MinLen(1)], ...] = ("volts", "ohms")
    plant: Plant
    record: Plant | None = None
    """What the plant is said to be; None: what it is, but for its unbalances."""
    trouble: tuple[Annotated[Trouble, Discriminator("kind")], ...] = ()
    keypad: KeypadSettings = field(default_factory=KeypadSettings)
    beyond: Equipment = field(default_factory=Equipment)
    behind: Equipment = field(default_factory=Equipment)
    noise: Noise = field(default_factory=Noise)
    block: Block | None = None
    """The near end's block; None: there is none, and the pair is clipped from the start."""
    unit_faults: tuple[Fault, ...] = ()
    """What is wrong with the unit itself, from the start."""
    first: bool = False
    """A run without a scenario plays the one that is marked first."""

    @property
    def neighbours(self) -> frozenset[str]:
        """The names of all neighbours that there are, those on posts that nobody named too."""
        named = {one.name for one in self.plant.neighbour}
        needed = {name for trouble in self.trouble for name in trouble.needs}
        return frozenset(named | needed | set(self.block.names(self.plant) if self.block else ()))

    @property
    def recorded(self) -> Plant:
        """What the plant is said to be: all that a technician reckons with; of no other pair."""
        said = without_unbalances(self.plant) if self.record is None else self.record
        return replace(said, access=said.access or self.plant.access, neighbour=())
