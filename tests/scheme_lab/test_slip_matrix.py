"""The slip matrix counts every slip once, and says of each what the decoder itself says."""

import random

import pytest

from farend_sim.scheme_lab.automaton import Place
from farend_sim.scheme_lab.distance import CHANCE, PRICE, detours, distance
from farend_sim.scheme_lab.model import Moment
from farend_sim.scheme_lab.slip_matrix import HARM, matrix, slipped
from farend_sim.scheme_lab.words import play, word, words
from farend_sim.unit.table import Input, State
from tests.scheme_lab.walks import model, scheme
from tests.unit.story import listen
from tests.unit.test_slips import slips

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
    start = Moment(State.IDLE, Place())
    for meant in words(of.scheme, 2):
        keys = of.scheme.knock + meant.keys
        for _, right, slip in slipped(keys, of.keys):
            assert slip[:right] == keys[:right]
            begun = play(of, start, keys[:right])
            assert play(of, start, slip, begun, right) == play(of, start, slip)


@pytest.mark.parametrize("name", NAMES)
def test_the_decoder_does_what_the_matrix_says(name: str) -> None:
    """Slips drawn by lot, keyed into decoder and table: the same commands."""
    of = model(scheme(name))
    chance = random.Random(1)
    for meant in words(of.scheme, 5):
        made = list(slipped(of.scheme.knock + meant.keys, of.keys))
        for _, _, slip in chance.sample(made, 40):
            heard, _ = listen(of.scheme, slip, State.IDLE)
            done = [each.input for each in heard if each.input.value.startswith("command-")]
            got = play(of, Moment(State.IDLE, Place()), slip)
            assert [of.scheme.commands[did.command].input for did in got.did] == done
            assert got.refused == (Input.REFUSE in [each.input for each in heard])


@pytest.mark.parametrize("name", NAMES)
def test_matrix_and_distance_agree(name: str) -> None:
    """A distance of one is a slip that does something else, and the other way round."""
    of = model(scheme(name))
    made = matrix(of, 3)
    harmed = sum(made.count[key] for key in made.count if key[2] == HARM[0])

    assert (distance(detours(of)) == 1) == (harmed > 0)


@pytest.mark.parametrize(("name", "at"), [("offset", 3), ("offset", 0), ("framed", 5)])
def test_the_worst_pair_of_slips_is_the_worst(name: str, at: int) -> None:
    """Against every pair of slips of a word, by brute force."""
    of = model(scheme(name))
    meant = word(of.scheme, at)
    start = Moment(State.IDLE, Place())
    risk = {"": 0.0}
    for first, _, once in slipped(of.scheme.knock + meant.keys, of.keys):
        for second, _, twice in slipped(once, of.keys):
            for did in play(of, start, twice).did:
                if did != meant.did:
                    price = PRICE.get(of.scheme.commands[did.command].input, 1.0)
                    risk[twice] = max(risk.get(twice, 0.0), each(first) * each(second) * price)

    (found,) = [one for one in detours(of) if one.meant.did == meant.did]

    assert found.slips == 2
    assert pytest.approx(found.risk) == max(risk.values())


def each(kind: str) -> float:
    """The chance of one slip of a kind on a pad of twelve keys."""
    return CHANCE[kind] / (11 if kind in ("wrong", "extra") else 1)
