"""The check's automaton is the unit: random walks of both, and a library of automata."""

import random

import pytest

from farend_sim.scheme_lab.check.model import BY_HAND
from tests.scheme_lab.walks import WatchedUnit, model, variants, words

VARIANTS = variants()


@pytest.mark.parametrize("name", VARIANTS)
def test_unit_and_automaton_walk_together(name: str) -> None:
    """Keys, pauses, holds that end and acts by hand: the same state and the same attention."""
    of = VARIANTS[name]
    compared = 0
    for seed in range(40):
        chance = random.Random(seed)
        unit, now_us = WatchedUnit(model(of)), 0
        for _ in range(40):
            now_us += chance.choice([160_000, 1_000_000, 5_000_000, 31_000_000, 70_000_000])
            acts = chance.random() < 0.05
            for symbol in [chance.choice(list(BY_HAND))] if acts else words(of, chance):
                now_us += chance.choice([80_000, 160_000, 160_000, 3_000_000])
                unit.happen(symbol, now_us)
                assert (unit.at.state, unit.at.place.attentive) == (unit.state, unit.attentive)
                compared += 1
    assert compared > 3000
