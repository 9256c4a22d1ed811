"""Dial tone: what draws it, what it drowns, and what a meter makes of it."""

from pathlib import Path

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.files import load_situation
from tests.bench.play import SCENARIOS, shipped
from tests.bench.written import KILOMETRE, played

WORKING = load_situation(SCENARIOS / "working-pair.toml")
OFFICE_BEYOND = '[beyond]\nequipment = "office"\n'


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
    told = shipped("into-dial-tone")
    into, without = [row for row in told if row["step"] == "keys #*27"]
    assert into["far"]["state"] == "idle"
    assert into["far"]["not_heard"]
    assert all("noise" in why for why in into["far"]["not_heard"])
    assert (without["far"]["state"], "not_heard" in without["far"]) == ("attentive", False)


def test_no_time_no_steady_sound() -> None:
    """A step that takes no time reports neither dial tone nor hum."""
    told = [*shipped("not-lifted"), *shipped("foreign-battery"), *shipped("into-dial-tone")]
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
