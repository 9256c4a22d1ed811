"""The pair along its route: what stands at each of its nodes, for the trainer's drawing of it.

Law: read from the spell that holds, never from a model of its own. No technician sees any of it.
"""

from collections.abc import Iterator
from dataclasses import dataclass

from line_model.route import Route
from line_model.spell import Spell

Triple = tuple[str, str, str]


@dataclass(frozen=True, slots=True)
class Along:
    """One place of the route; a series trouble has two of them at the same place."""

    at_m: float
    tip_volt: float | None
    """DC against the sheath there; None with no path between them."""
    ring_volt: float | None
    sheath_volt: float | None
    """The sheath's own, against the near sheath."""


def along(route: Route, spell: Spell, at_us: int) -> tuple[Along, ...]:
    """What stands along the route at a moment, near to far."""
    return tuple(_at(at_m, nodes, spell, at_us) for at_m, nodes in places(route))


def places(route: Route) -> Iterator[tuple[float, Triple]]:
    """Each place of the route with the nodes of its tip, ring and sheath [m]."""
    at_m, last = 0.0, None
    for stretch in route.main:
        if stretch.near != last:
            yield at_m, _triple(stretch.near)
        at_m += stretch.length_m
        last = stretch.far
        yield at_m, _triple(stretch.far)


def _triple(nodes: tuple[str, ...]) -> Triple:
    """The pair's own nodes; neighbours' legs follow them."""
    tip, ring, sheath = nodes[:3]
    return tip, ring, sheath


def _at(at_m: float, nodes: Triple, spell: Spell, at_us: int) -> Along:
    tip, ring, sheath = nodes
    return Along(
        at_m,
        spell.volt(tip, sheath, at_us),
        spell.volt(ring, sheath, at_us),
        spell.volt(sheath, "sheath", at_us),
    )
