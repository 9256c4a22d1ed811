"""Files become objects, whole or not at all, and all faults are told at once."""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from farend_sim import shipped
from farend_sim.errors import BadFileError
from farend_sim.files import load_meter, load_scenario, load_scheme, load_situation, load_unit
from line_model.troubles import Leak

PLAIN = "format = 1\n[[plant.section]]\ngauge_awg = 24\nlength_m = 1000\n"


@pytest.fixture
def scenario(tmp_path: Path) -> Path:
    """A sound scenario in a folder of its own."""
    path = tmp_path / "mine.toml"
    path.write_text(PLAIN, encoding="utf-8")
    return path


def faults(path: Path) -> list[str]:
    """What is told of a bad scenario, without the file's name."""
    with pytest.raises(BadFileError) as caught:
        load_situation(path)
    return [line.removeprefix(f"{path}:") for line in str(caught.value).split("\n")]


def test_all_but_the_plant_has_a_default(scenario: Path) -> None:
    """A scenario of one section loads with the shipped scheme, unit and meters."""
    situation = load_situation(scenario)

    assert (
        situation.scenario.scheme,
        situation.scenario.unit,
        situation.scenario.seed,
    ) == ("offset", "reference", 0)
    assert list(situation.meters) == ["volts", "ohms"]
    assert situation.scenario.noise.level_dbm == -70.0


@pytest.mark.parametrize(
    ("kind", "load"), [("schemes", load_scheme), ("units", load_unit), ("meters", load_meter)]
)
def test_what_ships_is_sound(kind: str, load: Callable[[str, Path], Any], tmp_path: Path) -> None:
    """Every shipped scheme, unit and meter loads by its bare name from wherever a scenario lies."""
    assert all(load(name, tmp_path).title for name in shipped.names(kind))


def test_one_scenario_is_first() -> None:
    """A bare run has exactly one scenario to play."""
    firsts = [name for name in shipped.names("scenarios") if load_scenario(name).first]

    assert [shipped.first_scenario()] == firsts


def test_feet_are_metres_everywhere(scenario: Path) -> None:
    """Any length or place may be typed in feet."""
    trouble = '[[trouble]]\nkind = "leak"\nbetween = ["tip", "ring"]\nat_ft = 1000\nohm = 5\n'
    feet = PLAIN.replace("length_m = 1000", "length_ft = 4000.0") + trouble
    scenario.write_text(feet, encoding="utf-8")

    loaded = load_scenario(scenario)

    assert pytest.approx(1219.2) == loaded.plant.length_m
    leak = loaded.trouble[0]
    assert isinstance(leak, Leak)
    assert pytest.approx(304.8) == leak.at_m
    assert leak.between == ("tip", "ring")


def test_a_place_at_the_very_end_is_on_the_route(scenario: Path) -> None:
    """Lengths that add up with rounding still have their end."""
    sections = "[[plant.section]]\ngauge_awg = 24\nlength_m = 0.1\n" * 3
    tap = "[[plant.tap]]\ngauge_awg = 24\nat_m = 0.3\nlength_m = 5\n"
    scenario.write_text("format = 1\n" + sections + tap, encoding="utf-8")

    assert load_scenario(scenario).plant.tap


def test_all_faults_are_told_at_once(scenario: Path) -> None:
    """A misspelt key hides neither a place past the end nor a name that is not there."""
    scenario.write_text(
        "format = 1\nscheme = 'offest'\nsed = 3\n[[plant.section]]\ngauge_awg = 24\n"
        "length_m = 1000\n[[trouble]]\nkind = 'leek'\n[[trouble]]\nkind = 'reversal'\n"
        "at_m = 2000\n[keypad]\nlevel_dbm = 'loud'\n",
        encoding="utf-8",
    )

    told = faults(scenario)

    starts = ["2: scheme:", "3: sed:", "8: trouble[0].kind:", "11: trouble[1].at_m:"]
    starts += ["13: keypad.level_dbm:"]
    assert len(starts) == len(told)
    assert all(line.startswith(start) for line, start in zip(told, starts, strict=True))


def test_a_scenario_may_bring_its_own_files(scenario: Path) -> None:
    """A name that is a path is read from beside the scenario; a meter goes by its stem."""
    (scenario.parent / "mine").mkdir()
    shutil.copy(shipped.shipped("meters", "ohms"), scenario.parent / "mine" / "bridge.toml")
    scenario.write_text("meters = ['mine/bridge.toml']\n" + PLAIN, encoding="utf-8")

    assert list(load_situation(scenario).meters) == ["bridge"]


def test_two_meters_of_one_name_are_refused(scenario: Path) -> None:
    """Steps call a meter by its name, so two files may not share one."""
    shutil.copy(shipped.shipped("meters", "ohms"), scenario.parent / "ohms.toml")
    scenario.write_text("meters = ['ohms', 'ohms.toml']\n" + PLAIN, encoding="utf-8")

    assert faults(scenario) == [
        "1: meters[1]: found 'ohms.toml', a second meter named 'ohms', expected each name once"
    ]


def test_a_link_does_not_leave_the_folder(
    scenario: Path, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """A link inside the folder to a file outside is outside."""
    outside = tmp_path_factory.mktemp("outside") / "unit.toml"
    shutil.copy(shipped.shipped("units", "reference"), outside)
    (scenario.parent / "unit.toml").symlink_to(outside)
    scenario.write_text("unit = 'unit.toml'\n" + PLAIN, encoding="utf-8")

    assert "leaves the folder" in faults(scenario)[0]


def test_a_fault_in_a_named_file_is_told_of_that_file(scenario: Path) -> None:
    """The message names the unit's file and line, not the scenario's."""
    text = shipped.shipped("units", "reference").read_text(encoding="utf-8")
    (scenario.parent / "unit.toml").write_text(text.replace("[timing]", "[timming]"), "utf-8")
    scenario.write_text("unit = 'unit.toml'\n" + PLAIN, encoding="utf-8")

    with pytest.raises(BadFileError, match=r"unit\.toml:\d+: timming: found an unknown key"):
        load_situation(scenario)


@pytest.mark.parametrize("name", ["nowhere.toml", "no/where", "nowhere"])
def test_a_missing_file_is_told_plainly(name: str) -> None:
    """Neither a missing path nor an unknown name is a traceback."""
    with pytest.raises(BadFileError, match=r"nowhere|no/where"):
        load_scenario(name)


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    """A folder in a file's place is told as one."""
    with pytest.raises(BadFileError, match="found a folder, expected a file"):
        load_scenario(tmp_path)


@pytest.mark.parametrize(
    "text",
    ["x = " + "[" * 9000, "x = " + "9" * 5000, "x = 0x" + "f" * 5000, "x_ft = 1" + "0" * 400],
    ids=["deep", "long", "hexadecimal", "long-feet"],
)
def test_absurd_files_are_told_plainly(scenario: Path, text: str) -> None:
    """What the parser itself chokes on is a bad file, too."""
    scenario.write_text(text, encoding="utf-8")

    assert faults(scenario)


@given(text=st.text(max_size=60) | st.text("[]=.'\"#{}a1\n", max_size=40))
def test_no_text_breaks_the_reader(tmp_path_factory: pytest.TempPathFactory, text: str) -> None:
    """Whatever is in a file, it loads or is told to be bad."""
    path = tmp_path_factory.getbasetemp() / "any.toml"
    path.write_text(text, encoding="utf-8", newline="")

    with pytest.raises(BadFileError):
        load_scenario(path)


def test_a_faulty_record_hides_nothing_and_adds_nothing(scenario: Path) -> None:
    """One wrong gauge of a record is one fault: no place is judged by the rest of it."""
    access = "[[plant.access]]\nname = 'Culvert'\nat_m = 950\n"
    record = "[[record.section]]\ngauge_awg = 24\nlength_m = 500\n"
    wrong = "[[record.section]]\ngauge_awg = 25\nlength_m = 500\n"
    scenario.write_text(PLAIN + access + record + wrong, encoding="utf-8")

    assert [told.split(":")[:2] for told in faults(scenario)] == [
        ["12", " record.section[1].gauge_awg"]
    ]
