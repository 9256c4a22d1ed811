"""What may be wrong with a unit, in words. What each does to it is in bench/pair/worn_unit.py."""

from typing import Literal, get_args

Fault = Literal["battery-low", "sticking", "deaf", "clock-fast", "clock-slow", "lead-off"]
FAULTS: tuple[Fault, ...] = get_args(Fault)

ABOUT: dict[Fault, str] = {
    "battery-low": "answers, but the battery gives way when a big contact is to pull in",
    "sticking": "a strap or a ground that has closed does not open again",
    "deaf": "the receiver gets everything 45 dB weaker",
    "clock-fast": "its timer runs half as fast again: a hold of 60 s lasts 40 s",
    "clock-slow": "its timer runs at two thirds: a hold of 60 s lasts 90 s",
    "lead-off": "the clip on the tip has come off",
}
"""Each in a line. The numbers are invented for the demo."""
