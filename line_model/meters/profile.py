"""Near-end meters as files: every kind that a file may be of.

To add a kind: one file here with a class whose methods are its law, and a word in `MeterProfile`.
"""

from line_model.meters.ac_volts import AcVolts
from line_model.meters.bridge import Bridge
from line_model.meters.capacitance import Capacitance
from line_model.meters.cycle import MeterFile
from line_model.meters.insulation import Insulation
from line_model.meters.level import Level
from line_model.meters.noise import Noise
from line_model.meters.ohms import Ohms, OhmsRange
from line_model.meters.ranged import Cycle
from line_model.meters.swing import Swing
from line_model.meters.volts import Volts, VoltsRange

__all__ = [
    "AcVolts",
    "Bridge",
    "Capacitance",
    "Cycle",
    "Insulation",
    "Level",
    "MeterFile",
    "MeterProfile",
    "Noise",
    "Ohms",
    "OhmsRange",
    "Swing",
    "Volts",
    "VoltsRange",
]

MeterProfile = Ohms | Volts | AcVolts | Insulation | Swing | Capacitance | Bridge | Level | Noise
