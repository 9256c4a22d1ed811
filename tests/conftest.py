"""What every folder of tests may use: shipped scenarios on a bench."""

import os

# before numpy is imported: threads only get into each other's way on matrices of this size
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

from pathlib import Path

import pytest

from farend_sim.files import load_situation
from farend_sim.situation import Situation

SCENARIOS = Path(__file__).parent.parent / "scenarios"


def pytest_collection_modifyitems(config: pytest.Config, items: list[pytest.Item]) -> None:
    """What takes hours is left out, unless benchmarks are asked for."""
    if config.getoption("--benchmark-enable"):
        return
    long = [item for item in items if item.get_closest_marker("long")]
    config.hook.pytest_deselected(items=long)
    items[:] = [item for item in items if item not in long]


@pytest.fixture
def good_pair() -> Situation:
    return load_situation(SCENARIOS / "good-pair.toml")
