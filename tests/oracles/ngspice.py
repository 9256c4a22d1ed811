"""ngspice as an outside check: a script of its commands in, the numbers it prints out."""

import re
import shutil
import subprocess
from collections.abc import Iterable
from pathlib import Path

import pytest

_PRINTED = re.compile(r"^\S+ = (\S+)$", re.MULTILINE)
OPTIONS = ".options numdgt=12 reltol=1e-6 vntol=1e-9 abstol=1e-15 gmin=1e-18 pivtol=1e-24"
"""No conductance of its own to ground, and no pivot of a gigohm taken for zero."""


def run(circuits: Iterable[tuple[str, list[str]]], folder: Path) -> list[complex]:
    """Load circuit after circuit into one process, obey its commands, and return what it prints.

    Args:
        circuits: cards of a circuit without title and end, and the commands for it.
        folder: for the files.
    """
    binary = shutil.which("ngspice")
    if binary is None:
        pytest.skip("ngspice is not installed")
    script = ["* all circuits, one after the other", ".control", "set numdgt=12"]
    for i, (cards, commands) in enumerate(circuits):
        name = folder / f"circuit{i}.cir"
        name.write_text(f"* circuit {i}\n{OPTIONS}\n{cards}\n.end\n", encoding="ascii")
        script += [f"source {name.name}", *commands, "destroy all", "remcirc"]
    script += ["quit", ".endc", ".end", ""]
    main = folder / "main.cir"
    main.write_text("\n".join(script), encoding="ascii")
    told = subprocess.run(
        [binary, "-b", main.name], cwd=folder, capture_output=True, text=True, check=True
    )
    assert "rror" not in told.stdout + told.stderr, told.stdout[-2000:] + told.stderr[-2000:]
    return [_number(text) for text in _PRINTED.findall(told.stdout)]


def _number(text: str) -> complex:
    real, _, imaginary = text.partition(",")
    return complex(float(real), float(imaginary or 0.0))
