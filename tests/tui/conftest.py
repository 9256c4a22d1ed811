"""What tests of the screen may use."""

from pathlib import Path

import pytest


@pytest.fixture
def data(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A data folder of the test's own, the tour seen already."""
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path))
    shown = tmp_path / "farend-sim" / "shown"
    shown.mkdir(parents=True)
    (shown / "tour").touch()
    return tmp_path / "farend-sim"
