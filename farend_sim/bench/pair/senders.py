"""What sends on the pair besides the unit: offices their dial tone, neighbours their talk.

Law: an office sends because loop current flows in its feed, whoever draws it; see dial.py.
"""

from collections.abc import Iterator

from farend_sim.bench.pair.dial import DialTone
from farend_sim.bench.pair.talk import talk
from farend_sim.bench.pair.wiring import BEYOND, NearEnd
from line_model.equipment import NOTHING, Equipment
from line_model.neighbours import Laid
from line_model.route import Route
from line_model.spell import Spell
from line_model.standing import Steady
from line_model.terminals import NEAR, Pair


class Senders:
    """The senders of one plant; each office keeps when its tone began."""

    def __init__(self, far_sheath: str) -> None:
        self._beyond = DialTone(BEYOND, far_sheath)
        self._behind = DialTone(NEAR.pair, NEAR.sheath)
        self._theirs: dict[str, DialTone] = {}

    def look(self, spell: Spell, now_us: int, route: Route, near: NearEnd, of: Equipment) -> None:
        """See in which offices loop current flows, in a spell that has just begun.

        Args:
            spell: what holds now.
            now_us: the moment.
            route: with the neighbours that are in the circuit.
            near: with what is behind the near end.
            of: the equipment beyond the unit.
        """
        silent = {*self._theirs.values()}
        for office, joined in self._offices(route, near, of):
            silent.discard(office)
            if joined.equipment == "office" and not joined.ringing:
                office.look(spell, now_us)
            else:
                office.since_us = None
        for office in silent:
            office.since_us = None

    def next_us(self, after_us: int) -> int | None:
        """When the next tone begins of itself."""
        begins = (office.since_us for office in self._all)
        return min((at for at in begins if at is not None and at > after_us), default=None)

    def across(
        self, spell: Spell, pair: Pair, now_us: int, route: Route, near: NearEnd
    ) -> Iterator[Steady]:
        """What all of them put across a pair of nodes now."""
        for office in self._all:
            yield from office.across(spell, pair, now_us)
        for one in _joined(route, near):
            yield from talk(one, spell, pair)

    @property
    def _all(self) -> tuple[DialTone, ...]:
        return (self._beyond, self._behind, *self._theirs.values())

    def _offices(
        self, route: Route, near: NearEnd, beyond: Equipment
    ) -> Iterator[tuple[DialTone, Equipment]]:
        yield self._beyond, beyond
        yield self._behind, near.joined
        for one in _joined(route, near):
            at = one.near
            tone = self._theirs.setdefault(one.pair.name, DialTone(at.pair, at.sheath))
            # in a call no office sends it
            yield tone, NOTHING if one.pair.state == "talking" else one.behind


def _joined(route: Route, near: NearEnd) -> Iterator[Laid]:
    """The neighbours in the circuit whose own equipment is not lifted."""
    return (one for one in route.neighbours if one.pair.name not in near.lifted)
