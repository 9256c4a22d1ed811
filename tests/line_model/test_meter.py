"""A meter's readings on simple circuits: right ones, spoilt ones and absurd ones."""

from dataclasses import replace
from math import isclose

import pytest

from line_model.meters.cycle import Stage
from line_model.meters.leads import MINUS, PLUS
from line_model.meters.meter import Meter
from line_model.meters.profile import Cycle, Ohms, OhmsRange, Volts, VoltsRange
from line_model.network import Mesh
from line_model.parts import Capacitor, Part, Resistor, Source
from line_model.route import route
from line_model.spell import Spell, Topologies
from line_model.transient import Capacitors
from tests.line_model.circuits import bare

CYCLE = Cycle(hands_s=0.5, range_s=0.25, settle_s=0.5, sample_s=1.0, looks=4)
OHMS = Ohms(
    format=1,
    kind="ohms",
    title="Ohms",
    source={},
    lead_ohm=0.2,
    accuracy_percent=0.5,
    accuracy_counts=2,
    cycle=CYCLE,
    range=(
        OhmsRange(full_scale_ohm=400.0, resolution_ohm=0.1, internal_ohm=1e3, source_volt=1.0),
        OhmsRange(full_scale_ohm=4e3, resolution_ohm=1.0, internal_ohm=1e4, source_volt=1.0),
        OhmsRange(full_scale_ohm=4e6, resolution_ohm=1e3, internal_ohm=1e6, source_volt=1.0),
    ),
)
VOLTS = Volts(
    format=1,
    kind="volts",
    title="Volts",
    source={},
    lead_ohm=0.2,
    accuracy_percent=0.5,
    accuracy_counts=2,
    cycle=CYCLE,
    range=(VoltsRange(full_scale_volt=200.0, resolution_volt=0.01, internal_ohm=1e7),),
)


def _read(
    meter: Meter, before: tuple[Part, ...], after: tuple[Part, ...] = (), at_us: int = 0
) -> None:
    """Drive a meter through one cycle; at a moment the circuit changes from one to the other."""
    solved = Topologies("sheath")
    capacitors: Capacitors = {}
    meter.start(0)
    now_us = 0
    while meter.deadline_us is not None:
        end_us = meter.deadline_us
        cuts = [at_us] if after and now_us < at_us < end_us else []
        for stop_us in (*cuts, end_us):
            circuit = after if after and now_us >= at_us else before
            spell = Spell.begin((*circuit, *meter.parts()), now_us, capacitors, solved)
            if meter.attends:
                meter.take(spell, now_us, stop_us)
            capacitors, now_us = spell.capacitors(stop_us), stop_us
            if stop_us == at_us and after:
                meter.switched()
        meter.wake(end_us, spell)


def _resistor(ohm: float) -> tuple[Part, ...]:
    return (Resistor("tip", "ring", ohm), Resistor("ring", "sheath", 1.0))


def _clipped(profile: Ohms | Volts, across: str = "tip-ring", error: float = 0.0) -> Meter:
    meter = Meter("m", profile, error)
    meter.clip(across)
    return meter


@pytest.mark.parametrize(
    ("ohm", "shown"),
    [(0.0001, "0.4"), (150.0, "150.4"), (2000.0, "2000"), (1.5e6, "1500000")],
)
def test_ohms_of_a_resistor(ohm: float, shown: str) -> None:
    """The value is the resistor and both leads, to the digits of the range that it takes."""
    meter = _clipped(OHMS)
    _read(meter, _resistor(ohm))

    assert meter.reading is not None
    assert pytest.approx(ohm + 0.4, rel=1e-6) == meter.reading.value
    assert (shown, True, False) == (
        meter.reading.shown,
        meter.reading.settled,
        meter.reading.over,
    )


def test_a_cycle_takes_its_stages() -> None:
    """Hands, one range stage a range tried, settling and sampling: 2.75 s with three ranges."""
    meter = _clipped(OHMS)
    meter.start(0)
    stages, now_us = [], 0
    solved = Topologies("sheath")
    while meter.deadline_us is not None:
        stages.append(meter.stage)
        started_us, now_us = now_us, meter.deadline_us
        spell = Spell.begin((*_resistor(1e6), *meter.parts()), started_us, {}, solved)
        if meter.attends:
            meter.take(spell, started_us, now_us)
        meter.wake(now_us, spell)

    expected = [Stage.HANDS, *3 * [Stage.RANGE], Stage.SETTLE, *4 * [Stage.SAMPLE]]
    assert expected == stages
    assert now_us == 500_000 + 3 * 250_000 + 500_000 + 1_000_000


def test_zeroed_leads_are_taken_off() -> None:
    """Once the leads were touched together, they are no longer in the reading."""
    meter = _clipped(OHMS)
    assert meter.zero()
    _read(meter, _resistor(150.0))

    assert meter.reading is not None
    assert meter.reading.shown == "150.0"
    assert not _clipped(VOLTS).zero()


def test_over_range() -> None:
    """Nothing between the terminals reads `over`, without a value, and it is settled."""
    meter = _clipped(OHMS)
    _read(meter, (Resistor("tip", "sheath", 1.0), Resistor("ring", "sheath", 1e12)))

    assert meter.reading is not None
    assert (
        meter.reading.value,
        meter.reading.over,
        meter.reading.shown,
        meter.reading.settled,
    ) == (None, True, "over", True)


def test_own_error_stays_within_accuracy() -> None:
    """An instrument at the edge of its accuracy reads half a percent high."""
    meter = _clipped(OHMS, error=1.0)
    _read(meter, _resistor(299.6))

    assert meter.reading is not None
    assert pytest.approx(300.0 * 1.005, rel=1e-6) == meter.reading.value


@pytest.mark.parametrize(("to_ohm", "shown"), [(1e9, "150.4 .. over"), (300.0, "150.4 .. 300.4")])
def test_a_contact_that_drops_while_sampling(to_ohm: float, shown: str) -> None:
    """What switches in mid-sample spoils the reading: it wanders and is not settled."""
    meter = _clipped(OHMS)
    _read(meter, _resistor(150.0), _resistor(to_ohm), at_us=1_900_000)

    assert meter.reading is not None
    assert not meter.reading.settled
    assert shown == meter.reading.shown


def test_a_contact_that_drops_before_sampling_does_no_harm() -> None:
    """What switches while the meter settles is only another reading."""
    meter = _clipped(OHMS)
    _read(meter, _resistor(150.0), _resistor(300.0), at_us=900_000)

    assert meter.reading is not None
    assert (meter.reading.shown, meter.reading.settled) == ("300.4", True)


def _foreign(volt: float) -> tuple[Part, ...]:
    return (Source("tip", "sheath", volt, 5e3), Resistor("ring", "sheath", 1.0))


def test_ohms_on_foreign_battery_are_absurd_and_turn_with_the_leads() -> None:
    """On a battery an ohmmeter reads nonsense, negative one way round, and another nonsense."""
    values = {}
    for across in ("tip-sheath", "sheath-tip"):
        meter = _clipped(OHMS, across)
        _read(meter, _foreign(-0.4))
        assert meter.reading is not None
        values[across] = meter.reading.value

    one, other = values.values()
    assert one is not None
    assert other is not None
    assert one < 2500.0
    assert other > 5500.0
    hard = _clipped(OHMS, "tip-sheath")
    _read(hard, _foreign(-3.0))
    assert hard.reading is not None
    assert hard.reading.value is not None
    assert hard.reading.value < 0


def test_volts_turn_with_the_leads() -> None:
    """A voltmeter reads minus with its leads changed over, and its own resistance loads."""
    readings = []
    for across in ("tip-sheath", "sheath-tip"):
        meter = _clipped(VOLTS, across)
        _read(meter, _foreign(-50.0))
        assert meter.reading is not None
        readings.append(meter.reading)

    assert [reading.shown for reading in readings] == ["-49.98", "49.98"]
    assert isclose(-50.0 * 1e7 / (1e7 + 5e3 + 0.4), readings[0].value or 0.0, rel_tol=1e-6)


def test_both_legs_to_the_sheath() -> None:
    """`tip+ring-sheath` joins both legs: their leaks read as in parallel."""
    meter = _clipped(OHMS, "tip+ring-sheath")
    _read(meter, (Resistor("tip", "sheath", 600.0), Resistor("ring", "sheath", 300.0)))

    assert meter.reading is not None
    assert pytest.approx(200.4, abs=0.05) == meter.reading.value


def test_a_capacitor_that_still_charges_is_not_settled() -> None:
    """Halfway to an open that never ends, a reading is a number, and not a settled one."""
    meter = _clipped(replace(OHMS, range=OHMS.range[-1:]))
    _read(meter, (Capacitor("tip", "ring", 5e-6),))

    assert meter.reading is not None
    assert meter.reading.value is not None
    assert not meter.reading.settled


def test_leads_of_no_ohms_spoil_no_insulation() -> None:
    """20 m of good cable stand at the source's volts but for their insulation, and never above."""
    at = OhmsRange(full_scale_ohm=1e12, resolution_ohm=1.0, internal_ohm=1e7, source_volt=100.0)
    meter = _clipped(replace(OHMS, lead_ohm=0.0, range=(at,)), "tip-sheath")
    parts = (*route(bare(20.0), (), 0).parts, *meter.parts())
    spell = Spell.begin(parts, 0, {}, Topologies("sheath"))

    exact = Mesh((0.0,), parts).volt(PLUS, MINUS)
    assert pytest.approx(exact, rel=3e-7) == spell.volt(PLUS, MINUS, 10**11)
