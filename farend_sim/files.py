"""Files to objects: scenarios, schemes, units and meters, with all faults of a file at once.

Law: what is read here is a frozen dataclass defined elsewhere, or a BadFileError that names the
file, the line, the key, what was found and what was expected.
"""

from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import Annotated, Any, TypeVar, cast

from pydantic import Discriminator

from farend_sim import shipped, unit_file
from farend_sim.errors import BadFileError, Problem
from farend_sim.loading.document import Document, read_document
from farend_sim.loading.messages import bad_file
from farend_sim.loading.named import as_typed, called, file_of, is_path, not_shipped
from farend_sim.loading.salvage import as_numbered, closed_up, salvage
from farend_sim.loading.validate import Fault, validate
from farend_sim.problems import meters as meter_problems
from farend_sim.problems import scenario as scenario_problems
from farend_sim.scenario import Scenario
from farend_sim.situation import Situation
from farend_sim.unit import scheme_problems
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile
from line_model.meters.profile import MeterProfile

__all__ = [
    "Situation",
    "find",
    "find_meter",
    "find_scenario",
    "find_scheme",
    "find_unit",
    "is_path",
    "load_meter",
    "load_scenario",
    "load_scheme",
    "load_situation",
    "load_unit",
    "situation_of",
]

T = TypeVar("T")


def load_scenario(path: str | Path) -> Scenario:
    """Read a scenario: a file, or the name of a shipped one.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    document = _document(find_scenario(path))
    scenario, problems = _scenario(document)
    return _or_bad(document, scenario, problems)


def load_situation(path: str | Path) -> Situation:
    """Read a scenario and everything it names.

    Raises:
        BadFileError: one of the files has faults; names all of them, file by file.
    """
    file = find_scenario(path)
    return situation_of(_document(file), file, Scenario)


def situation_of(document: Document, file: Path, kind: type[Scenario]) -> Situation:
    """A document's scenario, of a kind, with everything it names; `file` says where names lie.

    Raises:
        BadFileError: one of the files has faults; names all of them, file by file.
    """
    scenario, problems = _scenario(document, kind)
    if scenario is None or problems:
        raise document.bad((*problems, *_unknown_names(document, file.parent)))
    if unknown := _unknown_names(document, file.parent):
        raise document.bad(unknown)
    return _with_files(scenario, file)


def _with_files(scenario: Scenario, file: Path) -> Situation:
    """Load what a scenario names, telling the faults of all those files."""
    bad: list[str] = []

    def take(load: Callable[[str, Path], T], name: str) -> T | None:
        try:
            return load(name, file.parent)
        except BadFileError as error:
            bad.append(str(error))
            return None

    scheme = take(load_scheme, scenario.scheme)
    unit = take(load_unit, scenario.unit)
    meters = {Path(name).stem: take(load_meter, name) for name in scenario.meters}
    if bad or scheme is None or unit is None:
        raise BadFileError("\n".join(bad))
    loaded = {name: meter for name, meter in meters.items() if meter is not None}
    return Situation(scenario=scenario, scheme=scheme, unit=unit, meters=loaded, path=file)


def load_scheme(name_or_path: str, folder: Path) -> Scheme:
    """Read a scheme: a shipped name, or a path inside a folder.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    return _load(Scheme, "schemes", name_or_path, folder, scheme_problems.problems)


def find_scheme(name_or_path: str, *, draft: bool = False) -> Scheme:
    """Read a scheme that a person names: a shipped name, or any path.

    Args:
        name_or_path: as typed.
        draft: let pass what is dangerous but can be run, for those who examine it.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    checks = scheme_problems.faults if draft else scheme_problems.problems
    return find(Scheme, "schemes", name_or_path, checks)


def find(
    kind: type[T],
    folder: shipped.Kind,
    name_or_path: str,
    problems: Callable[[T], tuple[Problem, ...]] = lambda thing: (),
) -> T:
    """Read any kind of file that a person names: a shipped name, or any path.

    Raises:
        BadFileError: it has faults; names all of them.
    """
    return _load(kind, folder, *as_typed(name_or_path), problems)


def find_unit(name_or_path: str) -> UnitFile:
    """Read a unit that a person names, likewise."""
    return load_unit(*as_typed(name_or_path))


def load_unit(name_or_path: str, folder: Path) -> UnitFile:
    """Read a unit, likewise."""
    return _load(UnitFile, "units", name_or_path, folder, unit_file.problems)


def load_meter(name_or_path: str, folder: Path) -> MeterProfile:
    """Read a meter, likewise."""
    kind = cast(type[MeterProfile], Annotated[MeterProfile, Discriminator("kind")])
    return _load(kind, "meters", name_or_path, folder, meter_problems.problems)


def find_meter(name_or_path: str) -> MeterProfile:
    """Read a meter that a person names, likewise."""
    return load_meter(*as_typed(name_or_path))


def find_scenario(path: str | Path) -> Path:
    """The file of a scenario: a path, or the name of a shipped one.

    Raises:
        BadFileError: there is no shipped scenario of that name.
    """
    name = str(path)
    if is_path(name) or isinstance(path, Path) or Path(name).is_file():
        return Path(path)
    if name not in shipped.names("scenarios"):
        raise bad_file(name, [(None, not_shipped("", "scenarios", name))])
    return shipped.shipped("scenarios", name)


def _document(path: Path) -> Document:
    return read_document(path, called(path))


def _scenario(
    document: Document, kind: type[Scenario] = Scenario
) -> tuple[Scenario | None, tuple[Problem, ...]]:
    """A scenario's faults, of single keys and between keys alike."""
    remark = scenario_problems.remark
    validated = validate(kind, document.metres, document.table, remark)
    between: tuple[Problem, ...] = ()
    if validated.thing is not None:
        between = scenario_problems.problems(validated.thing)
    elif (rest := salvage(document.metres.table, validated.faults)) is not None:
        between = _between(rest, document, kind)
    return validated.thing, (
        *document.metres.problems,
        *(fault.problem for fault in validated.faults),
        *(document.as_typed(problem) for problem in between),
    )


def _between(rest: dict[str, Any], document: Document, kind: type[Scenario]) -> tuple[Problem, ...]:
    """The faults between keys of what a faulty scenario has left."""
    metres = replace(document.metres, table=closed_up(rest))
    validated = validate(kind, metres, document.table)
    if validated.thing is None:
        return ()
    return tuple(as_numbered(each, rest) for each in scenario_problems.problems(validated.thing))


def _load(
    kind: type[T],
    folder_name: shipped.Kind,
    name: str,
    folder: Path,
    problems: Callable[[T], tuple[Problem, ...]],
) -> T:
    """Read a file that a scenario names."""
    found = file_of(folder_name, name, folder, "")
    if isinstance(found, Problem):
        raise bad_file(name, [(None, found)])
    document = _document(found)
    validated = validate(kind, document.metres, document.table)
    faults: tuple[Fault, ...] = validated.faults
    between = () if validated.thing is None else problems(validated.thing)
    told = (*document.metres.problems, *(fault.problem for fault in faults), *between)
    return _or_bad(document, validated.thing, told)


def _or_bad(document: Document, thing: T | None, problems: tuple[Problem, ...]) -> T:
    if thing is None or problems:
        raise document.bad(problems)
    return thing


def _unknown_names(document: Document, folder: Path) -> tuple[Problem, ...]:
    """What a scenario names and is not there; tells it of the scenario's own keys.

    What it does not name ships.
    """
    table = document.table
    named: list[tuple[str, shipped.Kind, Any]] = [
        ("scheme", "schemes", table.get("scheme")),
        ("unit", "units", table.get("unit")),
    ]
    meters = table.get("meters", [])
    if isinstance(meters, list):
        named += [(f"meters[{index}]", "meters", name) for index, name in enumerate(meters)]
    found = (
        file_of(kind, name, folder, path) for path, kind, name in named if isinstance(name, str)
    )
    return tuple(each for each in found if isinstance(each, Problem))
