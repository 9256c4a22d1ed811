"""A working pair: when its office is on it and when not, and what is lifted, as stories."""

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.pair.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.files import load_situation
from farend_sim.unit.contacts import REST, Closed, Contact
from farend_sim.unit.events import PowerBack, PowerLost
from farend_sim.unit.table import AT_REST, SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.plant import Plant, Section
from line_model.route import Route, route
from tests.bench.play import CODES, SCENARIOS, dial, readings, rows, shipped

WORKING = load_situation(SCENARIOS / "working-pair.toml")
LOOP_OHM = 430.0
"""The holding loop that `near loop` clips on."""


def service(bench: Bench) -> tuple[bool, bool, bool]:
    """Whether there is battery at the near end, loop current through a loop, and dial tone."""
    battery_volt = bench.pair.spell.settled("tip", "ring") or 0.0
    bench.clip_lead("loop")
    start_us = bench.now_us
    bench.hears(start_us)
    bench.advance_to(start_us + 1_000_000)
    loop_volt = bench.pair.spell.volt("tip", "ring", bench.now_us) or 0.0
    dials = [one for one in bench.hears(start_us) if one.what == "dial"]
    bench.clip_lead("clear")
    return battery_volt > 40, loop_volt / LOOP_OHM > 0.02, bool(dials)


ON, CUT = (True, True, True), (False, False, False)


def test_idle_leaves_service_on() -> None:
    """Untouched, the pair has its battery, its loop current and its dial tone."""
    assert service(Bench(WORKING)) == ON


def test_attention_takes_service_and_its_lapse_gives_it_back() -> None:
    """From the knock until attention ends the office is off the pair."""
    bench = Bench(WORKING)
    dial(bench, "#*27")
    assert (bench.unit.state, service(bench)) == (State.ATTENTIVE, CUT)
    bench.advance_to(bench.now_us + 60_000_000)
    assert (bench.unit.state, service(bench)) == (State.IDLE, ON)


@pytest.mark.parametrize(("state", "code"), CODES.items())
def test_hold_takes_service_and_its_end_gives_it_back(state: str, code: str) -> None:
    """In every hold there is neither battery nor loop current nor dial tone; after it all three."""
    bench = Bench(WORKING)
    dial(bench, f"#*27{code}*")
    assert (State(state), CUT) == (bench.unit.state, service(bench))
    ends_us = bench.snapshot().far.deadline_us
    assert ends_us is not None
    bench.advance_to(ends_us + 2_000_000)
    assert (bench.unit.state, service(bench)) == (State.IDLE, ON)


@pytest.mark.parametrize(("state", "code"), CODES.items())
def test_power_cut_gives_service_back(state: str, code: str) -> None:
    """Without its battery the unit falls back to service, and stays there when power is back."""
    bench = Bench(WORKING)
    dial(bench, f"#*27{code}*")
    assert State(state) == bench.unit.state
    bench.at_unit(PowerLost())
    assert service(bench) == ON
    bench.at_unit(PowerBack())
    bench.advance_to(bench.now_us + 2_000_000)
    assert service(bench) == ON


def test_release_gives_service_back() -> None:
    """Keyed home out of `open`, the unit puts the office back at once."""
    bench = Bench(WORKING)
    dial(bench, "#*2752*")
    assert service(bench) == CUT
    dial(bench, "#*2796*")
    assert (bench.unit.state, service(bench)) == (State.IDLE, ON)


# -- the series contacts -------------------------------------------------------------------------

_KILOMETRE = route(Plant(section=(Section(gauge_awg=24, length_m=1000.0),)), (), 1)


def _wired(way: Route, closed: Closed, loop: bool = False) -> Mesh:
    """The kilometre with an office beyond and these contacts closed, legal or not, at 0 Hz."""
    unit = UnitOnPair(WORKING.unit.electrical, closed)
    near = NearEnd(lead="loop" if loop else "clear")
    return Mesh((0.0,), wiring(way, unit, near, Equipment(equipment="office")))


def test_strap_over_closed_series_contacts_would_draw_120_ma() -> None:
    """Wired as the unit never is: 48 V over twice 200 ohm, and both legs near -24 V."""
    closed = frozenset({Contact.SERIES, Contact.STRAP})
    mesh = _wired(_KILOMETRE, closed)
    tip, ring = unit_pair(_KILOMETRE, UnitOnPair(WORKING.unit.electrical, closed))
    across = mesh.volt(tip, ring)
    assert across is not None
    # 0.1 ohm of strap; feed 400, two series contacts of 0.1
    assert pytest.approx(48 / 400.3, rel=1e-6) == across / 0.1
    assert pytest.approx(-24.0, abs=0.02) == mesh.volt("tip", "sheath")
    assert pytest.approx(-24.0, abs=0.02) == mesh.volt("ring", "sheath")


@pytest.mark.parametrize("state", State)
def test_office_feeds_through_the_unit_only_at_rest(state: State) -> None:
    """With a loop at the near end: loop current in idle, asleep and unpowered, else none."""
    mesh = _wired(_KILOMETRE, SETTLED.get(state, REST), loop=True)
    tip_volt = mesh.volt("beyond.tip", _KILOMETRE.far[2])
    assert tip_volt is not None
    assert (state in AT_REST) == (-tip_volt / 200 > 0.02)
    assert (state not in AT_REST) == (abs(tip_volt) / 200 < 1e-9)


@settings(max_examples=20, deadline=None)
@given(
    strings=st.lists(
        st.tuples(
            st.one_of(
                st.text("0123456789*#,", min_size=1, max_size=8),
                st.sampled_from([f"#*27{code}*" for code in CODES.values()]),
            ),
            st.integers(0, 2_000_000),
        ),
        min_size=1,
        max_size=3,
    )
)
def test_any_keys_never_put_the_office_on_a_unit_at_work(
    strings: list[tuple[str, int]],
) -> None:
    """At every moment the series contacts are closed only in idle, asleep or without power."""
    bench = Bench(WORKING)
    for keys, gap_us in strings:
        bench.press(keys)
        assert bench.keypad.ends_us is not None
        until_us = bench.keypad.ends_us + gap_us
        while bench.now_us < until_us:
            bench.advance_to(min(until_us, bench.now_us + 37_000))
            assert Contact.SERIES not in bench.unit.closed or bench.unit.state in AT_REST


# -- lifted or not ---------------------------------------------------------------------------------


def test_not_lifted_spoils_ohms_both_ways_and_lifted_they_agree() -> None:
    """The office's battery gives two different absurdities; without it both ways are the strap."""
    ohms = [row["value"] for row in readings(shipped("not-lifted")) if row["unit"] == "ohm"]
    spoiled, spoiled_too, one_way, other_way = ohms
    assert spoiled < 0 > spoiled_too
    assert abs(spoiled / spoiled_too) > 2
    assert pytest.approx(one_way, rel=1e-3) == other_way
    # 2.2 km of 24 gauge, laid 1.5 % longer, 0.1 ohm of strap
    assert pytest.approx(2 * 84.22 * 2.2 * 1.015, rel=0.005) == one_way


@pytest.mark.parametrize(
    ("steps", "refused"),
    [
        ("lift\nlift", [None, "it is lifted already"]),
        ("restore", ["nothing is lifted"]),
        ("lift\nrestore\nrestore", [None, None, "nothing is lifted"]),
        ("lift\nrestore\nlift", [None, None, None]),
    ],
)
def test_lift_and_restore_know_what_is_lifted(steps: str, refused: list[str | None]) -> None:
    """What makes no sense is refused with the reason."""
    assert refused == [row.get("refused") for row in rows("not-lifted", steps)]


def test_nothing_to_lift_is_said() -> None:
    """On a pair with nothing behind it there is nothing to lift, nor to put back."""
    assert [row["refused"] for row in rows("good-pair", "lift\nrestore")] == [
        "nothing is behind the near end of this pair",
        "nothing is lifted",
    ]
