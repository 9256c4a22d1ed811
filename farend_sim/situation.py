"""A scenario with everything it names: what the bench, the labs and the commands are given."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from farend_sim.scenario import Scenario
from farend_sim.unit.scheme import Scheme
from farend_sim.unit_file import UnitFile
from line_model.meters.profile import MeterProfile


@dataclass(frozen=True, slots=True, kw_only=True)
class Situation:
    """One scenario, its scheme, its unit and its meters, loaded and sound."""

    scenario: Scenario
    scheme: Scheme
    unit: UnitFile
    meters: Mapping[str, MeterProfile]
    """By the names that steps use: a shipped name, or a file's name without its ending."""
    path: Path
    """The scenario's file."""
