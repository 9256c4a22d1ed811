"""What a meter reads when all has settled: the same cycle, without time and hence without lumps.

Law: the plant is solved once, as the nodes that a meter touches see it; each setting of the meter
is joined to that.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from line_model.knees import at_rest
from line_model.meters.cycle import Amount, Came, MeterFile, Own, Taken
from line_model.network import Mesh
from line_model.parts import Element, Knee, Part, nodes_of
from line_model.standing import AtRest
from line_model.still import Still
from line_model.terminals import NEAR

Parts = tuple[Part, ...]


def came_at_rest(
    profile: MeterFile, across: str, join: Callable[[Parts], AtRest], own: Own | None = None
) -> Came:
    """Go through a meter's cycle at the near end with everything settled at every stage.

    Args:
        profile: the meter's file.
        across: its hook-up, such as `tip-ring` or `bad=tip good=ring`.
        join: gives what stands at rest on the circuit with the meter's parts joined to it.
        own: an instrument's own error and zeroed leads; a perfect one with bare leads if left out.
    """
    own = own or Own(across=across)
    taken: tuple[Taken, ...] = ()
    setting = profile.REST
    while not isinstance(do := profile.doing(taken, own), Came):
        setting = setting if do.setting is None else do.setting
        rest: Amount = ()
        if do.takes:
            rest = profile.at_rest(setting, join(profile.parts(setting, across, NEAR)), 0)
        taken = (*taken, Taken(do, rest, rest))
    return do


class Joins:
    """Joins meters to one circuit: the `join` of `came_at_rest`."""

    def __init__(self, parts: Parts) -> None:
        self._knees = tuple(part for part in parts if isinstance(part, Knee))
        self._rest = tuple(part for part in parts if not isinstance(part, Knee))
        self._mesh = Mesh((0.0,), self._rest)
        self._few: dict[frozenset[str], Part] = {}

    def __call__(self, meter: Parts) -> Still:
        """The circuit with a meter's parts joined to it."""
        few = at_rest((self._seen_by(meter), *self._knees, *meter))
        return Still((*self._rest, *few[1:]), Mesh((0.0,), few))

    def _seen_by(self, meter: Parts) -> Part:
        """The circuit as a meter and the paths with a knee see it."""
        touched = frozenset(nodes_of((*meter, *self._knees)))
        if touched not in self._few:
            seen = self._mesh.seen_from(sorted(touched))
            self._few[touched] = _Reduced(tuple(_elements(seen)))
        return self._few[touched]


@dataclass(frozen=True, slots=True)
class _Reduced(Part):
    """A circuit at 0 Hz as few of its nodes see it."""

    elements: tuple[Element, ...]

    def lumped(self) -> Iterator[Element]:
        return iter(self.elements)


def _elements(mesh: Mesh) -> Iterator[Element]:
    siemens, amp = mesh.siemens[0].real, mesh.dc_amp[0].real
    for i, a in enumerate(mesh.nodes):
        for j, b in enumerate(mesh.nodes[:i]):
            if siemens[i, j] > 0:
                yield Element("siemens", a, b, float(siemens[i, j]))
        # what is driven into the nodes sums to nothing, so each may come from the first
        if i and amp[i]:
            yield Element("amp", mesh.nodes[0], a, float(amp[i]))
