"""A pair with something on it: offices, telephones, foreign battery and induction, as stories."""

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim.bench.bench import Bench
from farend_sim.bench.wiring import NearEnd, UnitOnPair, unit_pair, wiring
from farend_sim.files import load_situation
from farend_sim.situation import Situation
from farend_sim.unit.contacts import REST, Closed, Contact
from farend_sim.unit.events import PowerBack, PowerLost
from farend_sim.unit.table import AT_REST, SETTLED, State
from line_model.equipment import Equipment
from line_model.network import Mesh
from line_model.plant import Plant, Section
from line_model.route import Route, route
from tests.bench.play import SCENARIOS, Row, heard, readings, rows
from tests.bench.written import KILOMETRE, played, situation

WORKING = load_situation(SCENARIOS / "working-pair.toml")
WEAK = load_situation(SCENARIOS / "into-dial-tone.toml")
"""A working pair whose keypad is too weak beside dial tone."""
OFFICE_BEYOND = '[beyond]\nequipment = "office"\n'
HOLDS = {
    "tone": "63",
    "strap": "18",
    "tip-ground": "29",
    "ring-ground": "30",
    "both-ground": "41",
    "open": "52",
    "off-pair": "07",
}
LOOP_OHM = 430.0
"""The holding loop that `near loop` clips on."""


def dial(bench: Bench, keys: str) -> None:
    """Send keys and let the unit's answer pass."""
    bench.press(keys)
    assert bench.keypad.ends_us is not None
    bench.advance_to(bench.keypad.ends_us + 2_000_000)


def service(bench: Bench) -> tuple[bool, bool, bool]:
    """Whether there is battery at the near end, loop current through a loop, and dial tone."""
    battery_volt = bench.spell.settled("tip", "ring") or 0.0
    bench.clip_lead("loop")
    start_us = bench.now_us
    bench.hears(start_us)
    bench.advance_to(start_us + 1_000_000)
    loop_volt = bench.spell.volt("tip", "ring", bench.now_us) or 0.0
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


@pytest.mark.parametrize(("state", "code"), HOLDS.items())
def test_hold_takes_service_and_its_end_gives_it_back(state: str, code: str) -> None:
    """In every hold there is neither battery nor loop current nor dial tone; after it all three."""
    bench = Bench(WORKING)
    dial(bench, f"#*27{code}*")
    assert (State(state), CUT) == (bench.unit.state, service(bench))
    ends_us = bench.snapshot().far.deadline_us
    assert ends_us is not None
    bench.advance_to(ends_us + 2_000_000)
    assert (bench.unit.state, service(bench)) == (State.IDLE, ON)


@pytest.mark.parametrize(("state", "code"), HOLDS.items())
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
                st.sampled_from([f"#*27{code}*" for code in HOLDS.values()]),
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


# -- dial tone -----------------------------------------------------------------------------------


@pytest.mark.parametrize(("ohm", "dials"), [(3500.0, True), (4200.0, False)])
def test_dial_tone_needs_its_loop_current(tmp_path: Path, ohm: float, dials: bool) -> None:
    """48 V over 400 of feed, 430 of loop, 84 of half a kilometre and the joint: 10.9 or 9.4 mA."""
    body = (
        "[[plant.section]]\ngauge_awg = 24\nlength_m = 500.0\n"
        f'[[trouble]]\nkind = "series"\nconductor = "ring"\nat_m = 100.0\nohm = {ohm}\n'
        + OFFICE_BEYOND
    )
    told = played(tmp_path, body, "listen 2\nnear loop\nlisten 2\nnear clear\nlisten 2\n")
    assert [[], ["dial"] if dials else [], []] == [
        [one["what"] for one in row["heard"]] for row in told if row["step"] == "listen 2"
    ]


def test_lifted_office_is_silent(tmp_path: Path) -> None:
    """An office behind the near end sends no more dial tone once it is lifted, and again after."""
    steps = "near loop\nlisten 2\nlift\nlisten 2\nrestore\nlisten 2\n"
    told = played(tmp_path, KILOMETRE + '[behind]\nequipment = "office"\n', steps)
    assert [len(row["heard"]) for row in told if row["step"] == "listen 2"] == [1, 0, 1]


def test_lifting_one_office_leaves_the_other_dialling(tmp_path: Path) -> None:
    """What is lifted at the near end does not make the office beyond begin anew."""
    body = KILOMETRE + '[behind]\nequipment = "telephone"\n' + OFFICE_BEYOND
    told = played(tmp_path, body, "near loop\nwait 2\nlift\nlisten 0.1\n")
    assert [one["what"] for one in told[-1]["heard"]] == ["dial"]


def test_telephone_off_hook_draws_dial_tone(tmp_path: Path) -> None:
    """Behind the near end and off the hook, it is a loop; on the hook there is none."""
    for hook, dials in (("on", 0), ("off", 1)):
        body = f'{KILOMETRE}[behind]\nequipment = "telephone"\nhook = "{hook}"\n{OFFICE_BEYOND}'
        assert dials == len(played(tmp_path, body, "listen 2\n")[0]["heard"])


def test_keys_into_dial_tone_are_refused_by_the_receiver() -> None:
    """Beside dial tone it gives its own reason and the unit stays idle; without, it answers."""
    told = rows("into-dial-tone")
    into, without = [row for row in told if row["step"] == "keys #*27"]
    assert into["far"]["state"] == "idle"
    assert into["far"]["not_heard"]
    assert all("noise" in why for why in into["far"]["not_heard"])
    assert (without["far"]["state"], "not_heard" in without["far"]) == ("attentive", False)


def test_no_time_no_steady_sound() -> None:
    """A step that takes no time reports neither dial tone nor hum."""
    told = [*rows("not-lifted"), *rows("foreign-battery"), *rows("into-dial-tone")]
    instant = [row for row in told if row["start_s"] == row["t_s"]]
    assert instant
    assert {None} == {str(row["heard"]) if row["heard"] else None for row in instant}


def test_meter_reads_dial_tone_from_where_it_begins() -> None:
    """Begun 0.6 s into the second in which an AC meter looks, 0.4 of its power is in the reading.

    Until then there is a second of hands, 0.3 s of range and 0.8 s of settling.
    """
    values = []
    for loop_at_us in (0, 2_300_000):
        bench = Bench(WORKING)
        bench.clip_meter("ac-volts", "tip-ring")
        bench.start_reading()
        bench.advance_to(loop_at_us)
        bench.clip_lead("loop")
        values.append(bench.finish_reading())
    whole, part = values
    assert whole.value is not None
    assert pytest.approx(whole.value * 0.4**0.5, rel=1e-6) == part.value
    assert (whole.settled, part.settled) == (True, False)


# -- lifted or not ---------------------------------------------------------------------------------


def test_not_lifted_spoils_ohms_both_ways_and_lifted_they_agree() -> None:
    """The office's battery gives two different absurdities; without it both ways are the strap."""
    ohms = [row["value"] for row in readings(rows("not-lifted")) if row["unit"] == "ohm"]
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


# -- induction -------------------------------------------------------------------------------------

_EVEN = "unbalance_percent = 0.0\nunbalance_pf_per_km = 0.0\n"
_HUM = '[[trouble]]\nkind = "induction"\nrms_volt = 12.0\n'
_READ_ALL = "".join(
    f"meter ac-volts {pair}\nread\n" for pair in ("tip-sheath", "ring-sheath", "tip-ring")
)


def _hum_volt(folder: Path, section: str, steps: str = "") -> list[float]:
    """AC readings tip-sheath, ring-sheath and tip-ring with 12 V along the pair."""
    return [row["value"] for row in readings(played(folder, section + _HUM, steps + _READ_ALL))]


def test_both_ends_open_read_half_of_the_induced_voltage(tmp_path: Path) -> None:
    """Evenly induced and open at both ends, the middle is at rest: half stands at each end."""
    tip, ring, _ = _hum_volt(tmp_path, KILOMETRE)
    assert pytest.approx(6.0, rel=0.05) == tip
    assert pytest.approx(6.0, rel=0.05) == ring


def test_one_end_grounded_reads_nearly_all_of_it(tmp_path: Path) -> None:
    """Both legs grounded at the far end: the whole 12 V stands at the near one."""
    tip, ring, _ = _hum_volt(tmp_path, KILOMETRE, "keys #*2741*\nwait 2\n")
    assert pytest.approx(12.0, rel=0.02) == tip
    assert pytest.approx(12.0, rel=0.02) == ring


def test_hum_between_the_legs_comes_of_unbalance_alone(tmp_path: Path) -> None:
    """Even legs read zero between them; legs that differ from section to section, millivolts.

    One uniform section does not do it: open at both ends, either of its legs rests at its middle.
    """
    even = _hum_volt(tmp_path, 2 * (KILOMETRE + _EVEN))[2]
    uniform = _hum_volt(tmp_path, KILOMETRE)[2]
    uneven = _hum_volt(tmp_path, KILOMETRE + KILOMETRE + "unbalance_pf_per_km = 2625.0\n")[2]
    assert pytest.approx(0.0, abs=1e-9) == even
    assert uniform < 1e-5
    assert 0.001 <= uneven < 0.2


# -- foreign battery -------------------------------------------------------------------------------

_BATTERY = (
    '[[trouble]]\nkind = "battery"\nconductor = "tip"\nat_m = 500.0\nvolt = -50.0\nohm = 5e3\n'
)
_TWO_METERS = 'format = 1\nmeters = ["volts", "needle.toml"]\n'


def _shipped_meter(folder: Path, name: str, file: str, *changes: tuple[str, str]) -> None:
    """Write a meter like a shipped one but for some of its text."""
    text = (SCENARIOS / "meters" / f"{name}.toml").read_text("utf-8")
    for old, new in changes:
        assert old in text
        text = text.replace(old, new)
    (folder / file).write_text(text, "utf-8")


def test_two_voltmeters_disagree_over_foreign_battery(tmp_path: Path) -> None:
    """Behind 5 kilohm, 10 megohm reads 50 V and 100 kilohm 47.6; ring's volts are a ghost."""
    _shipped_meter(tmp_path, "volts", "needle.toml", ("10e6", "100e3"), ("10 megohm", "100 kilohm"))
    steps = "".join(
        f"meter {name} {pair}\nwait 30\nread\n"
        for pair in ("tip-sheath", "ring-sheath")
        for name in ("volts", "needle")
    )
    told = readings(played(tmp_path, KILOMETRE + _BATTERY, steps, _TWO_METERS))
    tip, tip_needle, ring, ring_needle = (row["value"] for row in told)
    assert pytest.approx(-49.97, rel=0.004) == tip
    assert pytest.approx(-50.0 * 100 / 105, rel=0.004) == tip_needle
    assert ring < -0.5
    assert -0.02 < ring_needle <= 0.0
    assert all(row["settled"] for row in told)


# -- a telephone off hook --------------------------------------------------------------------------


def test_telephone_off_hook_is_open_to_a_volt_and_a_loop_to_nine(tmp_path: Path) -> None:
    """Its diodes do not conduct at a 1 V test; at 9 V it reads a few hundred ohms more."""
    section = "[[plant.section]]\ngauge_awg = 24\nlength_m = 100.0\n"
    body = f'{section}[beyond]\nequipment = "telephone"\nhook = "off"\n'
    _shipped_meter(tmp_path, "ohms", "one.toml", ("source_volt = 1.5", "source_volt = 1.0"))
    _shipped_meter(
        tmp_path,
        "ohms",
        "nine.toml",
        ("source_volt = 1.5", "source_volt = 9.0"),
        ("internal_ohm = 1000.0", "internal_ohm = 200.0"),
    )
    head = 'format = 1\nmeters = ["one.toml", "nine.toml"]\n'
    steps = "".join(f"meter {one} {pair}\nread\n" for one in ("one", "nine") for pair in _WAYS)
    told = [row["value"] for row in readings(played(tmp_path, body, steps, head))]
    assert min(told[:2]) > 5e6
    # v = 3 + 180 i behind 17 ohm of loop, i = (9 - 3) / (200 + 180 + 17.6)
    amp = 6 / (200 + 180 + 17.6)
    assert pytest.approx(3 / amp + 180 + 17.6, rel=0.005) == told[2]
    assert pytest.approx(told[2], rel=0.001) == told[3]


_WAYS = ("tip-ring", "ring-tip")


def test_a_leak_with_a_breakdown_is_clean_until_it_breaks_down(tmp_path: Path) -> None:
    """Ohms at 1.5 V find nothing of a leak that conducts above 20 V; office battery does."""
    leak = (
        '[[trouble]]\nkind = "leak"\nbetween = ["tip", "ring"]\nat_m = 400.0\n'
        "ohm = 2000.0\nbreakdown_volt = 20.0\n"
    )
    clean = readings(played(tmp_path, KILOMETRE + leak, "meter ohms tip-ring\nwait 60\nread\n"))
    assert clean[0]["over"] is True
    fed = played(tmp_path, KILOMETRE + leak + OFFICE_BEYOND, "meter volts tip-ring\nread\n")
    # 28 V over 2000 of leak, 400 of feed, 0.2 of contacts and 600 m of loop
    loop_ohm = 2 * 84.22 * 0.6 * 1.015
    volt = 20 + 28 * 2000 / (2000 + 400.2 + loop_ohm)
    assert pytest.approx(volt, rel=0.006) == readings(fed)[0]["value"]


def test_a_path_at_its_knee_does_not_chatter(tmp_path: Path) -> None:
    """On a metre of pair that floats at tens of volts, rounding flips no path to and fro."""
    body = (
        "[[plant.section]]\ngauge_awg = 19\nlength_m = 1.0\n"
        '[[trouble]]\nkind = "leak"\nbetween = ["tip", "sheath"]\nat_m = 1.0\n'
        "ohm = 100e3\nbreakdown_volt = 0.2\n"
        '[[trouble]]\nkind = "series"\nconductor = "sheath"\nat_m = 1.0\n' + OFFICE_BEYOND
    )
    bench = Bench(situation(tmp_path, body))
    bench.press("#*2752*")
    starts_us = set()
    for until_us in range(1_000, 5_000_000, 1_000):
        bench.advance_to(until_us)
        starts_us.add(bench.spell.start_us)
    assert bench.unit.state is State.OPEN
    assert len(starts_us) < 60


# -- time ------------------------------------------------------------------------------------------


def test_a_moment_asked_for_is_reached() -> None:
    """Digits that are heard on the way cut no wait short."""
    bench = Bench(WORKING)
    bench.press("#*27")
    for until_us in range(30_000, 2_000_000, 30_000):
        bench.advance_to(until_us)
        assert until_us == bench.now_us


def _story(of: Situation, cuts_us: list[int]) -> list[object]:
    """Loop, dial tone, keys into it, a strap, an AC reading over dial tone's start."""
    bench = Bench(of)
    script = [
        (0, lambda: bench.clip_lead("loop")),
        (300_000, lambda: bench.press("#*2718*")),
        (1_700_000, lambda: bench.clip_lead("clear")),
        (1_800_000, lambda: bench.press("#*2752*")),
        (4_500_000, lambda: bench.clip_meter("ac-volts", "tip-ring")),
        (4_600_000, lambda: bench.press("#*2796*")),
        (6_800_000, lambda: bench.clip_lead("loop")),
        (6_810_000, bench.start_reading),
        (7_100_000, lambda: bench.clip_lead("clear")),
        (8_650_000, lambda: bench.clip_lead("loop")),
        (12_000_000, bench.unclip_meter),
        (12_100_000, lambda: bench.clip_lead("clear")),
    ]
    seen: list[object] = []
    since_us = 0
    for at_us, act in script:
        for cut_us in sorted(cut for cut in cuts_us if bench.now_us < cut < at_us):
            bench.advance_to(cut_us)
        bench.advance_to(at_us)
        seen += [bench.snapshot(), *bench.hears(since_us), *bench.receiver.refusals]
        since_us = at_us
        act()
    return seen


_WHOLE: list[object] = []


@settings(max_examples=12, deadline=None)
@given(cuts=st.lists(st.integers(0, 12_100_000), max_size=60))
def test_slicing_time_changes_nothing_on_a_working_pair(cuts: list[int]) -> None:
    """However time is sliced, dial tone, keys beside it, contacts and AC readings are the same."""
    if not _WHOLE:
        _WHOLE.extend(_story(WEAK, []))
    assert _story(WEAK, cuts) == _WHOLE


def test_story_has_what_it_tells_of() -> None:
    """The sliced story holds dial tone, a refused key, a hold and a reading."""
    told = _story(WEAK, [])
    kinds = {getattr(one, "what", type(one).__name__) for one in told}
    assert {"dial", "reply", "Refused", "Snapshot"} <= kinds


def test_same_seed_same_transcript(tmp_path: Path) -> None:
    """Written twice and played twice, not a number differs; another seed's does."""
    body = KILOMETRE + _HUM + OFFICE_BEYOND
    steps = "near loop\nkeys #*27\nlisten 2\nnear clear\n" + _READ_ALL

    def told(seed: int) -> list[Row]:
        return played(tmp_path, body, steps, f'format = 1\nseed = {seed}\nmeters = ["ac-volts"]\n')

    assert told(3) == told(3)
    assert told(3) != told(4)
    assert heard(told(3))
