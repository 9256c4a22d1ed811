"""What the tests of the unit share: the shipped files, loaded."""

from pathlib import Path

import pytest

from farend_sim import files
from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme
from farend_sim.unit.firmware import Unit
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture(scope="session")
def scheme() -> Scheme:
    return files.load_scheme("offset", SCENARIOS)


@pytest.fixture(scope="session")
def compiled(scheme: Scheme) -> CompiledScheme:
    return codes.compiled(scheme)


@pytest.fixture(scope="session")
def profile() -> UnitFile:
    return files.load_unit("reference", SCENARIOS)


@pytest.fixture
def unit(compiled: CompiledScheme, profile: UnitFile) -> Unit:
    return Unit(compiled, profile.timing, profile.electrical.tone_hz)
