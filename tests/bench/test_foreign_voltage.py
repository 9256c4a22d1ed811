"""What should not be on a pair: hum, foreign battery, paths that conduct above a knee."""

from pathlib import Path

import pytest

from farend_sim.bench.bench import Bench
from farend_sim.unit.table import State
from tests.bench.play import SCENARIOS, Row, heard, readings
from tests.bench.written import KILOMETRE, played, situation

OFFICE_BEYOND = '[beyond]\nequipment = "office"\n'
_EVEN = "unbalance_percent = 0.0\nunbalance_pf_per_km = 0.0\n"


_HUM = '[[trouble]]\nkind = "induction"\nrms_volt = 12.0\n'


_READ_ALL = "".join(
    f"meter ac-volts {pair}\nread\n" for pair in ("tip-sheath", "ring-sheath", "tip-ring")
)


def _hum_volt(folder: Path, section: str, steps: str = "") -> list[float]:
    """AC readings tip-sheath, ring-sheath and tip-ring with 12 V along the pair."""
    return [row["value"] for row in readings(played(folder, section + _HUM, steps + _READ_ALL))]


@pytest.mark.parametrize(
    ("steps", "volt", "within"), [("", 6.0, 0.05), ("keys #*2741*\nwait 2\n", 12.0, 0.02)]
)
def test_half_of_the_induced_voltage_or_all(
    tmp_path: Path, steps: str, volt: float, within: float
) -> None:
    """Of 12 V, both ends open, half stands at each end; both legs grounded there, all of it."""
    tip, ring, _ = _hum_volt(tmp_path, KILOMETRE, steps)
    assert pytest.approx([volt, volt], rel=within) == [tip, ring]


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
        starts_us.add(bench.pair.spell.start_us)
    assert bench.unit.state is State.OPEN
    assert len(starts_us) < 60


def test_another_seed_another_transcript(tmp_path: Path) -> None:
    """Noise, unbalance and instruments are the seed's own: with another, numbers differ."""
    body = KILOMETRE + _HUM + OFFICE_BEYOND
    steps = "near loop\nkeys #*27\nlisten 2\nnear clear\n" + _READ_ALL

    def told(seed: int) -> list[Row]:
        return played(tmp_path, body, steps, f'format = 1\nseed = {seed}\nmeters = ["ac-volts"]\n')

    one, other = told(3), told(4)
    assert one != other
    assert heard(one)
