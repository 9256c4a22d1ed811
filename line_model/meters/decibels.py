"""Meters that tell a power in decibels: they end the pair in a resistance, and drive nothing.

Law: they have one setting, so a cycle is hands, settling and looks, whatever they find.
"""

from abc import abstractmethod
from dataclasses import dataclass
from math import log10
from typing import ClassVar

from line_model.meters.cycle import Came, Do, MeterFile, Own, Pace, Reading, Stage, Taken
from line_model.plant import Above0


@dataclass(frozen=True, slots=True, kw_only=True)
class Decibels(MeterFile):
    """A meter for power; its accuracy is that of the voltage it sees."""

    DRIVES: ClassVar[bool] = False

    cycle: Pace
    terminate_ohm: Above0
    resolution_db: Above0

    @abstractmethod
    def came(self, looks: tuple[Taken, ...], own: Own) -> Came:
        """What it makes of its looks."""

    def doing(self, taken: tuple[Taken, ...], own: Own) -> Do | Came:
        cycle, look = self.cycle, Do(Stage.SAMPLE, self.cycle.look_s, takes=True, firm=True)
        begins = Do(Stage.HANDS, cycle.hands_s), Do(Stage.SETTLE, cycle.settle_s)
        plan = (*begins, *cycle.looks * (look,))
        if len(taken) < len(plan):
            return plan[len(taken)]
        return self.came(taken[len(begins) :], own)

    def within(self, reading: Reading) -> float:
        return self.within_db

    @property
    def within_db(self) -> float:
        """How far a level may be off."""
        of_volt_db = 20 * log10(1 + self.accuracy_percent / 100)
        return of_volt_db + self.accuracy_counts * self.resolution_db

    def watt(self, mean_square: complex, own: Own) -> float:
        """What such a voltage is in the resistance, by this instrument."""
        return mean_square.real / self.terminate_ohm * self.gain(own) ** 2
