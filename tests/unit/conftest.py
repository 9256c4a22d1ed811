"""What the tests of the unit share: the shipped files, loaded."""

import json
import tomllib
from pathlib import Path
from typing import Any, TypeVar

import pytest
from pydantic import TypeAdapter

from farend_sim.unit import codes
from farend_sim.unit.codes import CompiledScheme, Scheme
from farend_sim.unit.firmware import Unit
from farend_sim.unit.profile import UnitProfile

SCENARIOS = Path(__file__).parents[2] / "scenarios"
Loaded = TypeVar("Loaded")


def read(kind: type[Loaded], name: str) -> Loaded:
    """Load a shipped file, strictly."""
    table: dict[str, Any] = tomllib.loads((SCENARIOS / name).read_text(encoding="utf-8"))
    table.pop("receiver", None)  # belongs to whoever has samples
    return TypeAdapter(kind).validate_json(json.dumps(table), strict=True)


@pytest.fixture(scope="session")
def scheme() -> Scheme:
    return read(Scheme, "schemes/offset.toml")


@pytest.fixture(scope="session")
def compiled(scheme: Scheme) -> CompiledScheme:
    return codes.compile(scheme)


@pytest.fixture(scope="session")
def profile() -> UnitProfile:
    return read(UnitProfile, "units/reference.toml")


@pytest.fixture
def unit(compiled: CompiledScheme, profile: UnitProfile) -> Unit:
    return Unit(compiled, profile.timing, profile.electrical.tone_hz)
