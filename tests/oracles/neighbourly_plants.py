"""Plants on which a neighbour pair has a part: splits, and a cross to a pair in service."""

from line_model.plant import Neighbour, Plant, Section
from line_model.troubles import Leak, Split
from tests.oracles.plants import Case

_PLANT = Plant(
    section=(
        Section(name="a", gauge_awg=26, length_m=800.0, temperature_c=30.0),
        Section(name="b", gauge_awg=24, length_m=1100.0),
    ),
    neighbour=(Neighbour(name="still"), Neighbour(name="shop", state="working")),
)

NEIGHBOURLY = {
    "split and mended": Case(
        _PLANT,
        (Split(kind="split", conductor="ring", from_m=300.0, to_m=1300.0, neighbour="still"),),
    ),
    "split to the end": Case(
        _PLANT, (Split(kind="split", conductor="tip", from_m=700.0, neighbour="still"),)
    ),
    "cross to a working pair": Case(
        _PLANT, (Leak(kind="leak", between=("ring", "shop.ring"), at_m=600.0, ohm=8e3),)
    ),
}
