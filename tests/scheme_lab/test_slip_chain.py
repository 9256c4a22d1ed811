"""A trial's rates beside exact probabilities: on a perfect line only the fingers are to chance.

The chain walks keys, decoder and table with every slip's probability; the trial draws slips, sends
samples and lets the receiver hear them. They share the account of slips and the firmware's decoder.
"""

import copy
import math
from collections import defaultdict
from dataclasses import replace
from pathlib import Path

import pytest

from farend_sim.files import load_scheme, load_unit
from farend_sim.scheme_lab.population import Fingers, PlantClass, find_population
from farend_sim.scheme_lab.slips import beside, outcomes
from farend_sim.scheme_lab.trial.dialling import Meant, meant
from farend_sim.scheme_lab.trial.draw import wish
from farend_sim.scheme_lab.trial.trial import OUTCOMES, Trial, plant_row
from farend_sim.unit.codes import compiled
from farend_sim.unit.decoder import Decoder
from farend_sim.unit.table import AT_REST, TABLE, Input, State

SLIP_PERCENT = 12.0
HERE = Path()
PERFECT = PlantClass(
    name="perfect", share=1, gauges_awg=(22,), sections=(1, 1), length_m=(500, 500),
    noise_dbm=(-110, -110), source="a test",
)  # fmt: skip


def perfect_trial(scheme: str, jobs: int) -> Trial:
    """One try each, no pause for the knock's reply, an even pace, a clean line."""
    district = find_population("district")
    fingers = replace(
        district.fingers, on_ms=(80, 80), off_ms=(80, 80), spread_percent=0, listens_percent=0,
        slip_percent=(SLIP_PERCENT, SLIP_PERCENT), tries=1,
    )  # fmt: skip
    return Trial(
        schemes=((scheme, load_scheme(scheme, HERE)),),
        unit=load_unit("reference", HERE),
        population=replace(district, plants=(PERFECT,), fingers=fingers),
        jobs=jobs,
        seed=9,
    )


class Place:
    """Where a walk has come to: decoder, state, and what has been done so far."""

    def __init__(self, decoder: Decoder) -> None:
        self.decoder, self.state, self.verdict = decoder, State.IDLE, "lost"

    def key(self) -> tuple[object, ...]:
        held = tuple(getattr(self.decoder, name) for name in Decoder.__slots__ if name != "_scheme")
        return (*held, self.state, self.verdict)

    def after(self, typed: str, want: Meant) -> "Place":
        """Return where some keys lead."""
        place = Place(copy.copy(self.decoder))
        place.state, place.verdict = self.state, self.verdict
        for key in typed:
            heard = place.decoder.hear(key, 0, place.state)
            if heard is None:
                continue
            place.state = TABLE[place.state, heard.input][0]
            if place.state in AT_REST:
                place.decoder.close()
            if heard.input.does is not None:
                right = heard.input is want.input and want.hold_us in (None, heard.hold_us)
                if place.verdict != "other":
                    place.verdict = "done" if right else "other"
            elif heard.input is Input.REFUSE and place.verdict == "lost":
                place.verdict = "refused"
        return place


def exact(trial: Trial, want: Meant) -> dict[str, float]:
    """Return the probability of each outcome of dialling once."""
    scheme, keys = trial.schemes[0][1], want.knock + want.command
    fingers: Fingers = trial.population.fingers
    fronts: list[dict[object, tuple[Place, float]]] = [{} for _ in range(len(keys) + 1)]
    start = Place(Decoder(compiled(scheme)))
    fronts[0][start.key()] = (start, 1.0)
    for at in range(len(keys)):
        for place, chance in fronts[at].values():
            for one in outcomes(fingers, SLIP_PERCENT, keys, at, scheme.keys):
                then = place.after(one.typed, want)
                front = fronts[at + one.taken]
                known = front.get(then.key(), (then, 0.0))[1]
                front[then.key()] = (then, known + chance * one.probability)
    told: dict[str, float] = defaultdict(float)
    for place, chance in fronts[-1].values():
        told[place.verdict] += chance
    return told


@pytest.mark.parametrize("scheme", ["offset", "terse", "framed"])
def test_rates_are_the_exact_ones(scheme: str) -> None:
    """Every outcome's count lies within four standard deviations of what the chain says."""
    trial = perfect_trial(scheme, 500)
    told = plant_row(trial, 0)["schemes"][scheme]["outcome"]
    code = compiled(trial.schemes[0][1])
    # three digits of seconds would make the chain long, and add no other kind of slip
    jobs = [n for n in range(trial.jobs) if wish(trial.seed, 0, n).does != "set-hold"]
    wants = [meant(code, wish(trial.seed, 0, job)) for job in jobs]
    by_keys = {want.command: want for want in wants}
    exactly = {keys: exact(trial, want) for keys, want in by_keys.items()}
    chances = [exactly[want.command] for want in wants]

    for at, outcome in enumerate(OUTCOMES):
        counted = sum(told[job] == at for job in jobs)
        expected = sum(one[outcome] for one in chances)
        spread = math.sqrt(sum(one[outcome] * (1 - one[outcome]) for one in chances))
        assert abs(counted - expected) <= 4 * spread + 1e-9, outcome
    assert 50 < sum(one["done"] for one in chances) < 450


def test_outcomes_of_a_key_are_all_there_are() -> None:
    """Their probabilities sum to one, at the last key too."""
    fingers = find_population("district").fingers

    for keys in ("5", "*0", "#*27"):
        for at in range(len(keys)):
            total = sum(one.probability for one in outcomes(fingers, 7.0, keys, at, "0123456789*#"))
            assert total == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("key", "near"), [("5", "12346789"), ("1", "245"), ("0", "789*#"), ("#", "890")]
)
def test_keys_that_touch_a_key(key: str, near: str) -> None:
    """By the pad that everybody knows: a finger lands beside, above or across."""
    assert set(beside(key, "0123456789*#")) == set(near)
