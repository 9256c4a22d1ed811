"""What can be wrong with the plant: each kind is data that stamps itself, a file a family.

To add a kind: one class in the file of its family (or a new file), and one word in `Trouble`.
What a trouble is asked is in line_model/troubles/base.py.
"""

from line_model.troubles.base import AtPlace, Conductor, Leg, Walk
from line_model.troubles.conductors import Reversal, Series
from line_model.troubles.induced import Harmonic, Induction
from line_model.troubles.leaks import Battery, Leak, Wet

__all__ = [
    "AtPlace",
    "Battery",
    "Conductor",
    "Harmonic",
    "Induction",
    "Leak",
    "Leg",
    "Reversal",
    "Series",
    "Trouble",
    "Walk",
    "Wet",
]

Trouble = Leak | Series | Battery | Wet | Reversal | Induction
