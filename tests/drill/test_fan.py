"""Many pairs side by side: they are the named network's, and the expert's laws are the meters'."""

from dataclasses import replace
from itertools import combinations
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, wiring
from farend_sim.drill.expert.axes import axes
from farend_sim.drill.expert.doubt import Doubt
from farend_sim.drill.expert.forecast import Forecast
from farend_sim.drill.expert.hypothesis import Suspect, suspects
from farend_sim.drill.expert.laws import Asked, laws
from farend_sim.drill.expert.looks import Setting
from farend_sim.drill.expert.records import Record
from farend_sim.drill.expert.sight import Sight
from farend_sim.drill.solving.settled import SettledPair
from farend_sim.files import load_meter, load_situation
from farend_sim.situation import Situation
from farend_sim.unit.table import SETTLED, PairState
from farend_sim.unit.table import State as UnitState
from line_model.equipment import Equipment
from line_model.errors import LineError
from line_model.fan import FRONT, Circuit, seen_from, volt_across
from line_model.network import Mesh
from line_model.plant import Earth, Loading, Plant, Section, Tap
from line_model.route import route
from line_model.two_port import Values

STATES = ("idle", "strap", "tip-ground", "ring-ground", "both-ground", "open", "off-pair")
METERS = ("volts", "ohms", "bridge", "capacitance")
RECORD = Plant(
    section=(
        Section(gauge_awg=24, length_m=900.0, unbalance_percent=0.0, unbalance_pf_per_km=0.0),
        Section(
            gauge_awg=26,
            length_m=700.0,
            unbalance_percent=0.0,
            unbalance_pf_per_km=0.0,
            absorption_percent=80.0,
        ),
    ),
    tap=(
        Tap(
            name="T",
            at_m=400.0,
            gauge_awg=24,
            length_m=150.0,
            unbalance_percent=0.0,
            unbalance_pf_per_km=0.0,
        ),
        Tap(
            name="at the joint",
            at_m=900.0,
            gauge_awg=26,
            length_m=210.0,
            unbalance_percent=0.0,
            unbalance_pf_per_km=0.0,
        ),
    ),
    earth=(
        Earth(name="stile", at_m=400.0, ohm=40.0, volt=-0.3),
        Earth(name="weir", at_m=900.0, ohm=12.0, volt=0.7),
        Earth(name="mast", at_m=1600.0, ohm=90.0, volt=-2.0),
    ),
    temperature_c=12.0,
    far_earth_volt=1.1,
)


@pytest.fixture(scope="module")
def situation() -> Situation:
    """The reference unit and every meter whose law the expert has, on a record with a tap."""
    shipped = load_situation("good-pair")
    meters = {name: load_meter(name, Path()) for name in METERS}
    return replace(shipped, scenario=replace(shipped.scenario, plant=RECORD), meters=meters)


def forecast(situation: Situation) -> Forecast:
    """What suspects would read on the record."""
    electrical = situation.unit.electrical
    sight = Sight(RECORD, electrical, situation.scenario.beyond, axes(Record(RECORD, 1.0), Doubt()))
    return Forecast(sight, laws(situation.meters, electrical))


def with_trouble(situation: Situation, suspect: Suspect, at: tuple[float, ...]) -> Situation:
    """The same with a suspect's trouble on the plant."""
    trouble = suspect.troubles(*at)
    return replace(situation, scenario=replace(situation.scenario, trouble=trouble))


@settings(max_examples=25, deadline=None)
@given(
    index=st.integers(0, len(suspects()) - 1),
    at_m=st.floats(1.0, 1599.0),
    second_m=st.floats(1.0, 1599.0),
    ln_ohm=st.floats(-2.0, 15.0),
    state=st.sampled_from(STATES),
    hz=st.sampled_from((0.0, 30.0)),
)
def test_side_by_side_is_the_named_network(
    index: int, at_m: float, second_m: float, ln_ohm: float, state: str, hz: float
) -> None:
    """Any suspect anywhere, in any state: the exact network's branches to 1e-5, and its volts.

    With taps and earth bonds on the way, at a joint and at the end too, and damp insulation.
    """
    shipped = load_situation("good-pair")
    situation = replace(shipped, scenario=replace(shipped.scenario, plant=RECORD))
    suspect, ohm = suspects()[index], float(np.exp(ln_ohm))
    volt = -50.0 if suspect.volt is not None else 0.0
    theta = np.array([[at_m, ln_ohm, volt, second_m]])
    fan = forecast(replace(situation, meters={}))
    pairs = fan.pairs(suspect, theta, np.zeros(fan.sight.axes.count), ((state, hz),))

    true = with_trouble(situation, suspect, (at_m, ohm, volt, second_m)).scenario
    way = route(true.plant, true.trouble, 0)
    unit = UnitOnPair(situation.unit.electrical, SETTLED[UnitState(state)])
    mesh = Mesh((hz,), wiring(way, unit, NearEnd(), true.beyond))
    for a, b in combinations(FRONT, 2):
        two = seen_from(pairs[state, hz], (a, b))
        seen = two.between(a, b)[0]
        expected = mesh.ohm(a, b)[0]
        if expected is None:
            assert seen == 0
        else:
            assert expected == pytest.approx(complex(1 / seen), rel=1e-5)
        if hz == 0.0 and expected is not None:
            stands = float(volt_across(two, a, b)[0])
            assert mesh.volt(a, b) == pytest.approx(stands, rel=1e-4, abs=1e-4)


@pytest.mark.parametrize(
    ("meter", "across", "state"),
    [
        ("volts", "tip-sheath", "idle"),
        ("ohms", "tip-ring", "strap"),
        ("ohms", "ring-sheath", "tip-ground"),
        ("bridge", "bad=tip good=ring", "strap"),
        ("bridge", "bad=ring good=tip", "strap"),
        ("capacitance", "tip-ring", "idle"),
        ("capacitance", "ring-sheath", "strap"),
    ],
)
@pytest.mark.parametrize("label", ["none", "leak tip-sheath", "leak tip-ring", "series ring"])
def test_a_law_tells_what_the_meter_settles_to(
    situation: Situation, meter: str, across: str, state: PairState, label: str
) -> None:
    """What the expert reckons with lies within what it says of the display's own steps."""
    suspect = next(one for one in suspects() if one.label == label)
    at = (700.0, 8000.0, 0.0)
    fan = forecast(situation)
    theta = np.array([[at[0], np.log(at[1]), at[2], 0.0]])
    setting = Setting(meter=meter, across=across, state=state)
    look = SettledPair(with_trouble(situation, suspect, at)).look(setting)
    seen = fan.meters[meter].seen(look)
    if seen is None:
        assert meter in ("bridge", "capacitance")  # no balance, or too leaky
        return
    nu = np.zeros(fan.sight.axes.count)
    pairs = fan.pairs(suspect, theta, nu, (fan.channel(setting),))
    observed = float(fan.observed(pairs, Asked(setting, seen.range))[0])
    off = max(0.0, abs(observed - seen.value) - seen.slack)

    # the instrument's own gain is within its limit, root three of its standard deviation
    assert off <= 3 * seen.sd + 1.8 * abs(seen.gain)


_AXES = st.sampled_from(((), (3,), (2, 1), (4, 1, 1), (2, 3)))
_BRANCHES = st.dictionaries(
    st.sampled_from([*combinations("abcde", 2)]), st.tuples(_AXES, st.floats(-9.0, 3.0))
)


@given(branches=_BRANCHES)
def test_what_is_alike_along_an_axis_needs_none(
    branches: dict[tuple[str, str], tuple[tuple[int, ...], float]],
) -> None:
    """A circuit with every array written out along all axes is the same, to rounding."""

    def along(shape: tuple[int, ...], log: float) -> Values:
        spread = np.arange(np.prod(shape, dtype=int)).reshape(shape) / 7
        return np.asarray(10.0 ** (log + spread))

    lean = Circuit({pair: along(*of) for pair, of in branches.items()}, {"a": np.array(-1.0)})
    whole = lean.each(lambda value: np.broadcast_to(value, (4, 2, 3)).copy())
    for a, b in combinations("abc", 2):
        expected = seen_from(whole, "abc").between(a, b)
        actual = np.broadcast_to(seen_from(lean, "abc").between(a, b), expected.shape)
        np.testing.assert_allclose(actual, expected, rtol=1e-12)


def test_a_loaded_record_is_refused(situation: Situation) -> None:
    """Of load coils the expert knows nothing, and says so rather than leave them out."""
    loaded = replace(RECORD, loading=Loading(kind="H88"))
    loose = axes(Record(loaded, 1.0), Doubt())
    sight = Sight(loaded, situation.unit.electrical, Equipment(), loose)

    with pytest.raises(LineError, match="load coils"):
        _ = sight.runs
