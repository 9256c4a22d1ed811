"""Drills that a trainee is given do not tell what is wrong."""

import tomllib
from dataclasses import replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from farend_sim import shipped
from farend_sim.drill.files import find_drill, sealed_text
from farend_sim.drill.seal import BrokenSealError, Sealed, deciphered, enciphered
from farend_sim.drill.told import cautions_text, record_text, ticket_text
from farend_sim.drill.work import kept
from farend_sim.drill.work.attempt import Attempt
from farend_sim.errors import BadFileError
from farend_sim.loading.toml_text import table_of, toml_text
from tests.drill.working import NAMES, authored, steps_of

TELLING = ("trouble", "between", "conductor", "unit_faults", "expert", "practice", "skills")


def test_the_shipped_are_the_authors() -> None:
    """Every author's drill ships, sealed; what is under the seal is the author's text as it is."""
    assert set(NAMES) == set(shipped.names("drills"))
    assert [authored(name).sealed for name in NAMES] == [find_drill(name).sealed for name in NAMES]


@pytest.mark.parametrize("name", NAMES)
def test_a_sealed_file_does_not_tell(name: str) -> None:
    """Neither the trouble's words and figures nor the expert's are in a sealed file in clear."""
    drill = authored(name)
    text = shipped.shipped("drills", name).read_text(encoding="utf-8")
    assert [word for word in TELLING if word in tomllib.loads(text).get("drill", {})] == []
    assert [word for word in TELLING if f"\n{word}" in text or f"[{word}" in text] == []
    lines = [line for line in steps_of(drill) if line.startswith("answer kind")]
    assert [line for line in lines if line in text] == []
    places = _figures(name)
    clear = text.partition("[sealed]")[0] + ticket_text(drill) + record_text(drill)
    assert [figure for figure in places if figure in clear] == []


def _figures(name: str) -> list[str]:
    """The figures of a drill's troubles that are none of its plant's and ticket's."""
    table = tomllib.loads(authored(name).sealed.source)
    plant = toml_text(table["plant"]) + toml_text(table.get("record", {}))
    told = plant + table["drill"]["ticket"]
    values = [value for trouble in table.get("trouble", []) for value in trouble.values()]
    figures = [f"{value:g}" for value in values if isinstance(value, float) and value > 9]
    return [figure for figure in figures if figure not in told]


def test_a_trainee_s_rows_do_not_tell() -> None:
    """What is shown while a drill is worked holds no state of the unit, nor whether it settled."""
    for name in ("mill-end-4", "pump-house-15"):
        drill = authored(name)
        attempt = Attempt(drill)
        rows = [attempt.do(step) for step in steps_of(drill) if not step.startswith("answer")]
        keys = {key for row in rows for key in row}
        assert set() == keys & {"far", "settled", "trouble", "truth"}
        assert "1322" not in str(rows)


def test_cautions_are_on_every_drill() -> None:
    """Every sealed file and every sitting's opening says that local codes come first."""
    texts = [shipped.shipped("drills", name).read_text(encoding="utf-8") for name in NAMES]
    assert all("local\n# codes and licensed practice come first" in text for text in texts)
    assert "local codes and licensed practice come first" in cautions_text()


@settings(max_examples=40)
@given(source=st.text(), steps=st.text())
def test_a_seal_keeps_what_is_under_it(source: str, steps: str) -> None:
    """Whatever is sealed comes out as it was, and not one of its longer words is to be read."""
    sealed = Sealed(source, steps)
    assert sealed == deciphered(enciphered(sealed))


@settings(max_examples=40)
@given(at=st.integers(0, 400), by=st.integers(1, 127))
def test_a_broken_seal_is_told(at: int, by: int) -> None:
    """No changed letter passes for a whole seal."""
    text = enciphered(authored("foundry-yard-2").sealed)
    changed = text[:at] + chr((ord(text[at]) + by) % 128) + text[at + 1 :]
    if changed != text:
        with pytest.raises(BrokenSealError):
            deciphered(changed)


def test_a_broken_file_is_told(tmp_path: Path) -> None:
    """A sealed file that was cut is refused with its line."""
    text = sealed_text(authored("foundry-yard-2"))
    file = tmp_path / "cut.toml"
    file.write_text(text.replace(text[-60:-40], ""), encoding="utf-8")
    with pytest.raises(BadFileError, match=r"cut\.toml:\d+: sealed\.text: found a broken seal"):
        find_drill(file)


def test_an_author_s_mistakes_are_told(tmp_path: Path) -> None:
    """Faults of a scenario and of [drill] are told at once, with their lines."""
    source = authored("mill-end-4").sealed.source
    file = tmp_path / "mine.toml"
    file.write_text(
        source.replace("budget_s = 900", "budget_s = 9").replace("at_m = 1322", "at_m = 9322"),
        encoding="utf-8",
    )
    with pytest.raises(BadFileError) as told:
        find_drill(file)
    assert "drill.budget_s" in str(told.value)
    assert "trouble[0].at_m" in str(told.value)


@pytest.mark.parametrize("name", NAMES)
def test_toml_that_is_written_reads_back(name: str) -> None:
    """A scenario written as TOML reads back as itself."""
    scenario = authored(name).situation.scenario
    table = tomllib.loads(toml_text(table_of(scenario)))
    assert toml_text(table_of(scenario)) == toml_text(table)


@given(text=st.text(st.characters(exclude_categories=("Cs",), exclude_characters="\r")))
def test_any_text_is_written_as_toml(text: str) -> None:
    """Quotes, line ends and backslashes come back as they were."""
    plain = "".join(c for c in text if c == "\n" or c == "\t" or (ord(c) >= 32 and ord(c) != 127))
    assert plain == tomllib.loads(toml_text({"note": plain}))["note"]


def test_another_seed_is_another_attempt() -> None:
    """The same drill with another seed has other instruments: they read a little otherwise."""
    drill = authored("mill-end-4")
    texts = []
    for seed in (1, 2):
        attempt = kept.start(replace(drill), seed=seed)
        rows = [attempt.do(step) for step in ("lift", "wait 60", "meter ohms tip-ring", "read")]
        texts.append(rows[-1]["shown"])
    assert texts[0] != texts[1]
