"""Troubles that come and go: a pattern that is a function of time, and nodes that stay."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from line_model.network import Mesh
from line_model.parts import Part, Source
from line_model.plant import Coil, Earth, Plant, Section, Tap
from line_model.route import Route, route
from line_model.spell import Spell, Topologies
from line_model.troubles import (
    KINDS,
    BadCoil,
    Battery,
    Bond,
    Induction,
    Leak,
    Reversal,
    Series,
    Split,
    Swing,
    Trouble,
    Wet,
)
from line_model.troubles.present import Away, changes_us, present

PLANT = Plant(
    section=(Section(gauge_awg=24, length_m=2000.0),),
    tap=(Tap(name="T", gauge_awg=26, length_m=200.0, at_m=700.0),),
    earth=(Earth(name="E", at_m=1200.0),),
    coil=(Coil(name="C", at_m=1400.0, millihenry=88.0),),
)
WHEN = Swing(period_s=2.0, share=0.5, regular=True)
"""There for a second, away for a second."""
THERE_US, AWAY_US = 500_000, 1_500_000
CASES: dict[str, Trouble] = {
    "leak": Leak(kind="leak", between=("tip", "ring"), at_m=900.0, ohm=500.0, when=WHEN),
    "on a tap": Leak(
        kind="leak", between=("tip", "sheath"), on="T", at_m=80.0, ohm=500.0, when=WHEN
    ),
    "series": Series(kind="series", conductor="ring", at_m=500.0, when=WHEN),
    "battery": Battery(
        kind="battery", conductor="tip", at_m=1500.0, volt=-48.0, ohm=5e3, when=WHEN
    ),
    "wet": Wet(
        kind="wet", between=("tip", "sheath"), from_m=100.0, to_m=300.0, ohm_km=50.0, when=WHEN
    ),
    "reversal": Reversal(kind="reversal", at_m=1000.0, when=WHEN),
    "split": Split(kind="split", conductor="ring", from_m=400.0, to_m=600.0, when=WHEN),
    "bond": Bond(kind="bond", earth="E", when=WHEN),
    "coil": BadCoil(kind="coil", coil="C", when=WHEN),
    "coil turned": BadCoil(kind="coil", coil="C", wrong="reversed", when=WHEN),
}

swings = st.builds(
    Swing,
    period_s=st.floats(0.2, 100.0),
    share=st.floats(0.01, 0.99),
    regular=st.booleans(),
)


@given(swings, st.integers(0, 99), st.integers(0, 5), st.integers(0, 10**9))
def test_it_changes_when_it_says(swing: Swing, seed: int, index: int, now_us: int) -> None:
    """Between now and the next change nothing changes, and then it does."""
    here = swing.there(seed, index, now_us)
    at_us = swing.changes_us(seed, index, now_us)

    assert at_us > now_us
    assert here == swing.there(seed, index, at_us - 1)
    assert here == swing.there(seed, index, (now_us + at_us) // 2 if at_us > now_us + 1 else now_us)
    assert here != swing.there(seed, index, at_us)


@given(swings, st.integers(0, 99))
def test_it_is_there_for_its_share(swing: Swing, seed: int) -> None:
    """Over whole periods it is there for its share of the time."""
    spans = [swing.span_us(seed, 0, period) for period in range(20)]
    share = sum(end - start for start, end in spans) / (20 * round(swing.period_s * 1e6))

    assert pytest.approx(swing.share, abs=2e-4) == share


def test_seed_and_place_in_the_file_make_the_pattern() -> None:
    """Two seeds, and two troubles of one seed, come and go differently; the same one does not."""
    swing = Swing(period_s=10.0, share=0.3)
    patterns = [
        [swing.span_us(seed, index, period) for period in range(5)]
        for seed, index in ((1, 0), (2, 0), (1, 1), (1, 0))
    ]

    assert patterns[0] == patterns[3]
    assert patterns[0] != patterns[1]
    assert patterns[0] != patterns[2]


def _at(trouble: Trouble, now_us: int) -> Route:
    return route(PLANT, present((trouble,), 0, now_us), 0)


def _nodes(way: Route) -> set[str]:
    return {node for part in way.parts for e in part.lumped() for node in (e.a, e.b)}


every = pytest.mark.parametrize("name", CASES)


def test_every_kind_may_come_and_go() -> None:
    """Each kind has a case here; induction, which has no nodes of its own, a test of its own."""
    assert set(KINDS) == {each.kind for each in CASES.values()} | {"induction"}


@every
def test_its_nodes_stay_when_it_goes(name: str) -> None:
    """There or away, the circuit has the same nodes and the same far end."""
    there, away = (_at(CASES[name], at_us) for at_us in (THERE_US, AWAY_US))

    assert _nodes(there) == _nodes(away)
    assert {*there.far} == {*away.far}
    assert there.parts != away.parts


@every
def test_away_it_is_as_if_it_were_not(name: str) -> None:
    """While a trouble is away the pair reads as one without it, within its joint's milliohm."""
    trouble = CASES[name]
    away, without = _at(trouble, AWAY_US), route(PLANT, (), 0, asked=trouble.needs)

    for pair in (("tip", "ring"), ("tip", "sheath"), ("ring", "sheath")):
        ours = Mesh((0.0, 1000.0), away.parts).ohm(*pair)
        assert pytest.approx(Mesh((0.0, 1000.0), without.parts).ohm(*pair), rel=1e-5) == ours


def test_induction_may_come_and_go() -> None:
    """Away, induction drives nothing."""
    hum = Induction(kind="induction", rms_volt=12.0, when=WHEN)
    there, away = (
        [one for part in _at(hum, at_us).parts for one in part.alternating()]
        for at_us in (THERE_US, AWAY_US)
    )

    assert there
    assert away == []


def test_the_first_change_of_all_is_told() -> None:
    """Several troubles: the next change is the earliest of theirs, and none of one that stays."""
    slow = Leak(kind="leak", between=("tip", "ring"), at_m=5.0, ohm=9.0, when=WHEN)
    fast = Leak(
        kind="leak",
        between=("tip", "ring"),
        at_m=5.0,
        ohm=9.0,
        when=Swing(period_s=0.6, share=0.5, regular=True),
    )
    stays = Reversal(kind="reversal", at_m=5.0)

    assert changes_us((slow, fast, stays), 0, 0) == 300_000
    assert changes_us((stays, slow), 0, 0) == 1_000_000
    assert None is changes_us((stays,), 0, 0)
    assert (slow, Away(of=fast), stays) == present((slow, fast, stays), 0, 400_000)


def test_a_repair_moves_no_other_pattern() -> None:
    """With a trouble mended, those behind it in the file swing as they did."""
    first, second = (
        Leak(
            kind="leak",
            between=("tip", "ring"),
            at_m=at_m,
            ohm=9.0,
            when=Swing(period_s=3.0, share=0.2),
        )
        for at_m in (5.0, 6.0)
    )
    file = (first, second)

    for now_us in range(0, 30_000_000, 700_000):
        assert present(file, 1, now_us)[1:] == present((second,), 1, now_us, file)


@every
def test_charge_carries_over(name: str) -> None:
    """As a trouble comes or goes, nothing that is charged jumps: the meter's volts go on."""
    meter: tuple[Part, ...] = (Source("tip", "ring", 10.0, 1e6),)
    solved = Topologies("sheath")
    there, away = (_at(CASES[name], at_us).parts for at_us in (THERE_US, AWAY_US))
    before = Spell.begin((*there, *meter), 0, {}, solved)
    after = Spell.begin((*away, *meter), 30_000, before.capacitors(30_000), solved)

    ends, begins = before.volt("tip", "ring", 30_000), after.volt("tip", "ring", 30_000)
    assert pytest.approx(ends, abs=5e-3) == begins
