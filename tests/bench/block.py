"""A pair at post 9 of a block, whose card says 8, beside a working and a talking neighbour."""

from pathlib import Path

from tests.bench.play import Row
from tests.bench.written import KILOMETRE, played

HEAD = 'format = 1\nseed = 3\nmeters = ["volts", "ohms", "bridge", "capacitance"]\n'
BLOCK = (
    "[[plant.neighbour]]\nname = 'shop'\nstate = 'working'\npost = 4\n"
    "[[plant.neighbour]]\nname = 'call'\nstate = 'talking'\npost = 5\n"
    "[block]\npair = 9\nrecord = 8\n"
)


def at_block(folder: Path, steps: str, more: str = "") -> list[Row]:
    return played(folder, KILOMETRE + more + BLOCK, steps, HEAD)
