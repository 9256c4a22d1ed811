"""What can be wrong with the plant: a kind is data that stamps and tells itself.

To add a kind: one class in the file of its family (or a new file), and one word in `Trouble`.
What a trouble is asked is in line_model/troubles/base.py.
"""

from typing import get_args

from line_model.terminals import Conductor, Leg
from line_model.troubles.base import AtPlace, Base, Placed, Walk
from line_model.troubles.conductors import Reversal, Series
from line_model.troubles.drift import Drift
from line_model.troubles.fittings import BadCoil, Bond
from line_model.troubles.induced import Harmonic, Induction
from line_model.troubles.leaks import Battery, Leak, Wet
from line_model.troubles.split import Split
from line_model.troubles.swing import Swing

__all__ = [
    "KINDS",
    "AtPlace",
    "BadCoil",
    "Base",
    "Battery",
    "Bond",
    "Conductor",
    "Drift",
    "Harmonic",
    "Induction",
    "Leak",
    "Leg",
    "Placed",
    "Reversal",
    "Series",
    "Split",
    "Swing",
    "Trouble",
    "Walk",
    "Wet",
]

Trouble = Leak | Series | Battery | Wet | Reversal | Split | Induction | Bond | BadCoil
KINDS: dict[str, type[Trouble]] = {
    get_args(each.__annotations__["kind"])[0]: each for each in get_args(Trouble)
}
"""Each kind's word, and what it is."""
