"""What a technician does along the route, by hand: steps done at once, and what is said of them.

Law: the acts are those of a transcript, so that screen and steps cannot differ. The way and the
handwork pass at once, with no ear on the pair.
"""

from typing import Any

from farend_sim.bench import steps as s
from farend_sim.bench.acts_places import ACTS
from farend_sim.bench.bench import Bench
from line_model.joints import Leg, Side

Typed = dict[str, Any]
_TYPED: Typed = {"line": 0, "text": ""}


class AlongRoute:
    """The verbs along the route; each returns what there is to say."""

    def __init__(self, bench: Bench) -> None:
        self._bench = bench

    @property
    def places(self) -> tuple[str, ...]:
        """Where one may go, near to far."""
        return self._bench.pair.where.places

    def go(self, place: str) -> str:
        """Go to another place."""
        return self._done(s.Go(**_TYPED, place=place), f"You are at {_place(place)}.")

    def look(self, side: Side) -> str:
        """Put the leads on one side of the opened joint."""
        return self._done(s.Look(**_TYPED, side=side), f"The leads look toward the {side} end.")

    def bond(self) -> str:
        """Bond across the sheath."""
        return self._done(s.Bond(**_TYPED), "The sheath is bonded across.")

    def open_joint(self) -> str:
        """Open both legs of the joint."""
        return self._done(s.OpenJoint(**_TYPED), "Both legs are open.")

    def join(self, near: Leg, far: Leg) -> str:
        """Join a leg of the near side to one of the far side."""
        said = f"The near side's {near} is joined to the far side's {far}."
        return self._done(s.Join(**_TYPED, near=near, far=far), said)

    def repair(self, place: str | None, by_m: float = 0.0) -> str:
        """Make good what is at a place, or so many metres on from it."""
        return self._done(s.Repair(**_TYPED, place=place, by_m=by_m), "")

    def _done(self, step: s.Step, said: str) -> str:
        start_us = self._bench.now_us
        row = ACTS[type(step)](self._bench, step)
        self._bench.hears(start_us)
        for key, lead in (("refused", ""), ("found", ""), ("caution", f"{said} Caution: ")):
            if key in row:
                words = lead + row[key]
                return f"{words[:1].upper()}{words[1:]}."
        return said


def _place(place: str) -> str:
    return f"the {place} end" if place in ("near", "far") else place
