"""The bench: what couples the parts, told as stories."""

from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.line_report import line_report
from farend_sim.files import load_situation
from farend_sim.situation import Situation
from farend_sim.unit.contacts import REST, Contact, legal
from farend_sim.unit.events import PowerLost
from farend_sim.unit.table import AT_REST, SETTLED, STATES, State
from tests.bench.play import CODES, SCENARIOS, dial, heard, readings, rows, shipped

SITUATION = load_situation(SCENARIOS / "good-pair.toml")
"""For property tests, whose fixtures would be shared between examples anyway."""


def dial_in_gaps(bench: Bench, keys: str) -> None:
    """Send each key where the unit is silent, as one does by ear."""
    for key in keys:
        while _sounds(bench) or not _sounds(bench, ago_us=60_000):
            if bench.unit.sound is None:
                break
            bench.advance_to(bench.now_us + 10_000)
        bench.press(key)
        bench.advance_to(bench.now_us + 200_000)
    bench.advance_to(bench.now_us + 3_000_000)


def _sounds(bench: Bench, ago_us: int = 0) -> bool:
    sound = bench.unit.sound
    return sound is not None and sound.hz_at(bench.now_us - ago_us) > 0


@pytest.mark.parametrize(("state", "code"), CODES.items())
def test_dialled_command_puts_its_contacts_on(good_pair: Situation, state: str, code: str) -> None:
    """What is keyed at the near end closes just its contacts at the far one, and lets go."""
    bench = Bench(good_pair)
    dial(bench, f"#*27{code}*")
    far = bench.snapshot().far
    assert (State(state), SETTLED[State(state)]) == (far.state, far.closed)
    assert far.deadline_us is not None
    bench.advance_to(far.deadline_us + 2_000_000)
    assert (bench.unit.state, bench.unit.closed) == (State.IDLE, REST)


@pytest.mark.parametrize("state", [s for s in STATES if s != "idle"])
def test_bench_hears_what_the_line_report_says(good_pair: Situation, state: str) -> None:
    """One receiver: dialling a release in a state works just where `line` says it hears.

    In the tone state the report leaves the unit's own tone out; on the bench the keys have to fall
    into its gaps, one each.
    """
    bench = Bench(good_pair)
    dial(bench, f"#*27{CODES[state]}*")
    dial_in_gaps(bench, "#*2796*")
    assert line_report(good_pair, state)["receiver"]["hears"] == (bench.unit.state is State.IDLE)


def test_strap_is_deaf_by_decibels(good_pair: Situation) -> None:
    """In a strap the keypad arrives 35 dB and more below the receiver's floor."""
    receiver = line_report(good_pair, "strap")["receiver"]
    worst = max(receiver["level_dbm"].values()) - receiver["floor_dbm"]
    assert worst < -35
    assert "below the floor" in receiver["why"]
    idle = line_report(good_pair, "idle")["receiver"]
    assert min(idle["level_dbm"].values()) - idle["floor_dbm"] > 30


def test_ohms_meter_left_on_costs_level(good_pair: Situation) -> None:
    """Keys sent with the ohms meter still clipped arrive weaker, by its resistance alone."""
    levels = []
    for meter_on in (False, True):
        bench = Bench(good_pair)
        if meter_on:
            bench.clip_meter("ohms", "tip-ring")
        bench.press("1")
        ohm = bench.pair.spell.transfer_ohm(("tip", "ring"), bench.pair.unit_pair, (697.0,))
        levels.append(abs(ohm[697.0]))
    # 600 ohm against 600 parallel 1 kilohm: 4 dB before the line's own share
    assert 1.2 < levels[0] / levels[1] < 1.6


def test_reading_equals_the_line(good_pair: Situation) -> None:
    """A settled ohms reading is the exact network's, within the meter's accuracy and leads."""
    played = readings(shipped("good-pair"))
    strap = next(row for row in played if row["unit"] == "ohm" and not row["over"])
    expected = line_report(good_pair, "strap")["dc"]["tip-ring"]["ohm"]
    assert strap["value"] == pytest.approx(expected, rel=0.003)
    assert strap["settled"] is True


def test_hold_that_runs_out_spoils_the_reading() -> None:
    """A contact that opens while the display is written leaves a reading that is nobody's."""
    first, second = (row for row in readings(shipped("spoiled-reading")) if row["unit"] == "ohm")
    assert first["settled"] is False
    assert ".." in first["shown"]
    assert second["settled"] is True


def test_technician_is_shown_neither_settled_nor_far() -> None:
    """Without the trainer's switch no row says what only the far end knows."""
    for row in rows("spoiled-reading", show_unit=False):
        assert not {"settled", "far"} & row.keys()


def test_nothing_comes_back_over_a_hard_short() -> None:
    """Over half an ohm no reply is heard, whatever is sent."""
    assert heard(shipped("nothing-back")) == []


def test_unit_answers_over_an_open_leg() -> None:
    """Tones creep over one open leg: the knock is answered though the loop reads over."""
    played = shipped("creeping-tones")
    assert heard(played)
    assert readings(played)[1]["over"] is True


def test_what_cannot_be_done_is_refused_and_the_run_goes_on() -> None:
    """A step that makes no sense now says why, and the next one is played."""
    played = rows("good-pair", "read\nmeter off\nzero\nlift\nunit battery in\nnote end")
    assert ["refused" in row for row in played] == [True] * 5 + [False]


def test_battery_out_and_in_forgets(good_pair: Situation) -> None:
    """Without its battery the unit is deaf and its contacts rest; the button then does nothing."""
    played = rows(
        "good-pair",
        "keys #*2718*\nlisten 2\nunit battery out\nunit wake\nkeys #*27\nlisten 2\n"
        "unit battery in\nlisten 2\nkeys #*27\nlisten 2",
    )
    assert played[2]["far"] == {"state": "unpowered", "closed": ["series"], "deadline_s": None}
    assert "battery" in played[3]["refused"]
    assert played[5]["heard"] == []
    assert played[9]["heard"]


def test_switched_off_unit_wakes_at_its_button() -> None:
    """A helper's long press sends the unit to sleep; the button wakes it, and it says so."""
    played = rows(
        "good-pair", "unit off\nkeys #*27\nlisten 2\nunit wake\nlisten 2\nkeys #*27\nlisten 2"
    )
    assert played[0]["far"]["state"] == "asleep"
    assert played[2]["heard"] == []
    assert played[4]["heard"]
    assert played[6]["heard"]


def test_reversed_clips_exchange_the_grounded_leg() -> None:
    """Clipped on reversed, the unit's tip is the pair's ring; without its lead there is none."""
    story = "keys #*2729*\nlisten 2\nmeter ohms ring-sheath\nread"
    assert readings(rows("good-pair", story))[0]["over"] is True
    assert readings(rows("good-pair", f"unit clip reversed\n{story}"))[0]["over"] is False
    assert readings(rows("good-pair", f"unit clip reversed no-ground\n{story}"))[0]["over"] is True


def test_off_pair_takes_the_units_share_off(good_pair: Situation) -> None:
    """In off-pair the insulation reads the pair's own; the unit's leak is in it otherwise."""
    idle = line_report(good_pair, "idle")["dc"]["tip-ring"]["ohm"]
    alone = line_report(good_pair, "off-pair")["dc"]["tip-ring"]["ohm"]
    leak = good_pair.unit.electrical.leak_ohm
    assert 1 / idle == pytest.approx(1 / alone + 1 / leak, rel=1e-6)


@pytest.mark.parametrize("cut_us", range(0, 3_000_000, 101_000))
def test_power_cut_at_every_moment_ends_at_rest(cut_us: int) -> None:
    """Whenever the battery goes during a dialled command, the contacts rest and stay legal."""
    bench = Bench(SITUATION)
    bench.press("#*2718*")
    bench.advance_to(cut_us)
    assert legal(bench.unit.closed)
    bench.at_unit(PowerLost())
    bench.advance_to(cut_us + 70_000_000)
    assert (bench.unit.state, bench.unit.closed) == (State.UNPOWERED, REST)


KEYS = st.text("0123456789*#,", min_size=1, max_size=14)


@settings(max_examples=25, deadline=None)
@given(strings=st.lists(st.tuples(KEYS, st.integers(0, 3_000_000)), max_size=4))
def test_any_keys_leave_legal_contacts(strings: list[tuple[str, int]]) -> None:
    """Through the real line, any keys at any times end in a legal state and go home by timer."""
    bench = Bench(SITUATION)
    for keys, gap_us in strings:
        bench.press(keys)
        assert bench.keypad.ends_us is not None
        bench.advance_to(bench.keypad.ends_us + gap_us)
        assert legal(bench.unit.closed)
    longest_s = max(command.longest_s or 0 for command in SITUATION.scheme.command)
    bench.advance_to(bench.now_us + round(longest_s * 1e6) + 10_000_000)
    assert bench.unit.state in AT_REST


def test_noise_drowns_the_keys(good_pair: Situation) -> None:
    """With noise at the keypad's own level the unit hears nothing that it would act on."""
    loud = replace(good_pair.scenario, noise=replace(good_pair.scenario.noise, level_dbm=-3.0))
    bench = Bench(replace(good_pair, scenario=loud))
    dial(bench, "#*2718*")
    assert Contact.STRAP not in bench.unit.closed
