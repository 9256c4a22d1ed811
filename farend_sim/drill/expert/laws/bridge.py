"""A bridge: the ohms from the near end to the trouble, as its slide and its loop say.

Law: at balance both ends of the slide are at one voltage, so the slide is divided as the
conductances of good and bad leg to the sheath are, whatever the loop between them. A foreign emf is
left out: a bridge's own voltage is far above it.
"""

from dataclasses import dataclass

import numpy as np

from farend_sim.drill.expert.laws.base import THREE, TWO, UNIFORM, Asked, Seen, at_ends, leads
from farend_sim.drill.expert.looks import Look, Setting
from farend_sim.unit.profile import Electrical
from line_model.fan import Circuit, seen_from
from line_model.meters.bridge import Bridge
from line_model.meters.leads import BAD_GOOD, MINUS, PLUS, THIRD
from line_model.parts import Real
from line_model.terminals import NEAR

_USUAL_OHM = 500.0
"""A loop beyond the trouble, where a reading does not say: invented for the demo."""


@dataclass(frozen=True, slots=True)
class BridgeLaw:
    """One bridge."""

    profile: Bridge
    unit: Electrical

    @property
    def hz(self) -> float:
        return 0.0

    def hookups(self) -> tuple[str, ...]:
        return BAD_GOOD

    def observed(self, pair: Circuit, asked: Asked) -> Real:
        """Ohms from its clips to the trouble; nought where no loop is closed."""
        ohm, _ = self._balance(pair, asked.setting)
        return ohm

    def seen(self, look: Look) -> Seen | None:
        """A number is ohms; no balance and no loop are left to other meters."""
        if look.value is None:
            return None
        profile = self.profile
        loop_ohm = look.loop_ohm or 2 * abs(look.value) + _USUAL_OHM
        counts = (0.5 + profile.accuracy_counts) * profile.resolution_ohm
        # half a step of the slide, and as much again that its detector may not tell
        steps = profile.slide_step * loop_ohm
        sd = float(np.hypot(np.hypot(counts, steps) / UNIFORM, look.spread))
        # half of its accuracy is the loop's, half the slide's, which is of the loop too
        half = profile.accuracy_percent / 200 / UNIFORM
        return Seen(0, look.value, sd, half * (abs(look.value) + loop_ohm))

    def readable(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        """Ohms; where it would not balance, all in one place far away."""
        ohm, loop_ohm = self._balance(pair, setting)
        works = (loop_ohm > 0) & (loop_ohm <= self.profile.full_scale_ohm)
        sd = self.profile.accuracy_percent / 100 * loop_ohm + self.profile.resolution_ohm
        return np.where(works, ohm, -1e3), np.where(works, sd, 1.0)

    def _balance(self, pair: Circuit, setting: Setting) -> tuple[Real, Real]:
        profile = self.profile
        parts = profile.parts("off", setting.across, NEAR)[:3]
        met = at_ends(pair, leads(parts, THREE, setting.lead, 0.0, self.unit), THREE)
        to_bad, to_good = met.between(PLUS, THIRD), met.between(MINUS, THIRD)
        both = to_bad + to_good
        share = np.divide(to_good, both, out=np.full(both.shape, 0.5), where=both > 0)
        across = seen_from(met, TWO).between(*TWO)
        most = 1 / (10 * profile.full_scale_ohm)
        loop_ohm = 1 / np.maximum(across, most)
        lead_ohm = profile.lead_ohm if setting.zeroed else 0.0
        return share * loop_ohm - lead_ohm, loop_ohm
