"""The slip matrix counts every slip once, and says of each what the decoder itself says."""

import random
from functools import cache

import pytest

from farend_sim.scheme_lab.check.distance import PRICE, chance_of, detours
from farend_sim.scheme_lab.check.model import START
from farend_sim.scheme_lab.check.slip_matrix import slipped
from farend_sim.scheme_lab.check.words import begin, play, word, words
from farend_sim.unit.table import Input, State
from tests.scheme_lab.walks import model, scheme
from tests.unit.story import listen, slips

NAMES = ["offset", "terse", "framed", "welded"]


@pytest.mark.parametrize("keys", ["12", "#*2718*", "112233", "*"])
def test_slips_are_each_counted_once(keys: str) -> None:
    """The same set as by brute force, and no slip twice."""
    made = [slip for _, _, slip in slipped(keys, "0123456789*#")]

    assert len(made) == len(set(made))
    assert set(made) == slips(keys)


@pytest.mark.parametrize("name", NAMES)
def test_what_is_still_right_is(name: str) -> None:
    """Playing on from a common beginning is playing it all."""
    of = model(scheme(name))
    start = begin(of, START)
    for meant in words(of.scheme, 2):
        keys = of.scheme.knock + meant.keys
        for _, right, slip in slipped(keys, of.keys):
            assert slip[:right] == keys[:right]
            begun = play(of, start, keys[:right])
            assert play(of, begun, slip, right) == play(of, start, slip)


@pytest.mark.parametrize("name", NAMES)
def test_the_decoder_does_what_the_matrix_says(name: str) -> None:
    """Slips drawn by lot, keyed into decoder and table: the same commands."""
    of = model(scheme(name))
    chance = random.Random(1)
    for meant in words(of.scheme, 5):
        made = list(slipped(of.scheme.knock + meant.keys, of.keys))
        for _, _, slip in chance.sample(made, 40):
            heard, _ = listen(of.scheme, slip, State.IDLE)
            done = [each.input for each in heard if each.input.does]
            got = play(of, begin(of, START), slip)
            assert [of.scheme.commands[did.command].input for did in got.did] == done
            assert got.refused == (Input.REFUSE in [each.input for each in heard])


def test_no_pair_of_slips_is_worse_than_the_worst() -> None:
    """Against pairs of slips drawn by lot, keyed into decoder and table."""
    of = model(scheme("offset"))
    slips = cache(lambda keys: list(slipped(keys, of.keys)))
    chance = random.Random(2)
    told = {each.meant.did: each for each in detours(of)}
    harmful = 0
    for at in (0, 3, 9):
        meant = word(of.scheme, at)
        once = slips(of.scheme.knock + meant.keys)
        for _ in range(8000):
            first, _, keys = chance.choice(once)
            second, _, twice = chance.choice(slips(keys))
            for heard in listen(of.scheme, twice, State.IDLE)[0]:
                is_command = heard.input.does is not None
                if is_command and heard.input is not of.scheme.commands[at].input:
                    harmful += 1
                    price = PRICE.get(heard.input, 1.0)
                    risk = chance_of(of, first) * chance_of(of, second) * price
                    assert risk <= told[meant.did].risk * (1 + 1e-9)
    assert harmful > 0
