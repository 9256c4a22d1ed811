"""What it tells that a knock was answered, or was not.

Law: whether the unit would hear is asked of the bench's own line and receiver, with each suspect
at its likeliest put on the record; nothing else here knows decibels.
"""

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from farend_sim.bench.line_report import receiver_of
from farend_sim.drill.expert.forecast import LN_OHM, PLACE, SECOND, VOLT
from farend_sim.drill.expert.likelihood import Belief
from farend_sim.situation import Situation
from line_model.plant import Plant

SURPRISE = 0.03
"""How likely a knock goes the other way than the line says. Invented for the demo."""
_NIL = 1e-3
"""A Gaussian that holds less of the posterior is not asked."""


class Ear:
    """Tells whether a unit would hear a knock over the given record with a suspect on it."""

    def __init__(self, situation: Situation, given: Plant) -> None:
        self._situation, self._given = situation, given
        self._known: dict[tuple[object, float, float, float, float], bool] = {}

    def heard(self, beliefs: Sequence[Belief], heard: bool) -> list[Belief]:
        """Beliefs once it is known whether a knock was answered."""
        best = max(belief.log_evidence for belief in beliefs)
        return [self._one(belief, heard, belief.log_evidence - best) for belief in beliefs]

    def _one(self, belief: Belief, heard: bool, log_of_best: float) -> Belief:
        share = belief.share * np.exp(log_of_best)
        factor = np.full(share.size, 1.0)
        for index in np.flatnonzero(share > _NIL):
            as_said = self._hears(belief, int(index)) == heard
            factor[index] = 1 - SURPRISE if as_said else SURPRISE
        weight = belief.share * factor
        total = float(weight.sum())
        log = belief.log_evidence + float(np.log(total))
        return replace(belief, log_evidence=log, share=weight / total)

    def _hears(self, belief: Belief, index: int) -> bool:
        columns = (PLACE, LN_OHM, VOLT, SECOND)
        place, ln_ohm, volt, second = (float(belief.mean[index, k]) for k in columns)
        # to a tenth of the route and a tenth of a nat: hearing does not hang on more, nor on what
        # one section of the record has wrong
        tenths = (round(each / belief.of.length_m, 1) for each in (place, second))
        at_m, second_m = (each * self._given.length_m for each in tenths)
        rough = at_m, round(ln_ohm, 1), round(volt, 1), second_m
        key = belief.suspect, *rough
        if (known := self._known.get(key)) is None:
            troubles = belief.suspect.troubles(at_m, float(np.exp(rough[1])), rough[2], second_m)
            scenario = replace(
                self._situation.scenario, plant=self._given, record=None, trouble=troubles, seed=0
            )
            got = receiver_of(replace(self._situation, scenario=scenario))
            known = self._known[key] = got.hears
        return known
