"""How many dialled commands a minute a trial does, and half an hour of talk beside a peer."""

import os
import re
import time
from pathlib import Path

import numpy as np
import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from farend_sim.control.keypad import KeypadSettings, clean_samples
from farend_sim.files import load_scheme, load_unit
from farend_sim.scheme_lab.population import find_population
from farend_sim.scheme_lab.trial.trial import Trial, plant_row
from tests.oracles.peers import multimon, ours, spandsp, speech, theirs

HERE = Path()
KNOCK = re.compile(r"#\*[0-9]{2}")


def test_dialled_commands_a_minute(benchmark: BenchmarkFixture) -> None:
    """One core, by its own clock; beside rendering alone in the same run."""
    trial = Trial(
        schemes=(("offset", load_scheme("offset", HERE)),),
        unit=load_unit("reference", HERE),
        population=find_population("district"),
        jobs=100,
        seed=1,
    )

    def tried() -> int:
        rows = [plant_row(trial, number) for number in range(4)]
        return sum(sum(row["schemes"]["offset"]["tries"]) for row in rows)

    start = time.process_time()
    count = benchmark.pedantic(tried, rounds=1)
    taken_s = time.process_time() - start

    start = time.process_time()
    for _ in range(count):
        clean_samples("#*2718*", KeypadSettings())
    rendered_s = time.process_time() - start
    print(
        f"\n{60 * count / taken_s:.0f} dialled commands a minute and core, "
        f"{os.cpu_count()} cores; rendering clean keys alone takes {rendered_s / taken_s:.2f} of it"
    )
    assert count >= 400


@pytest.mark.outside
def test_half_an_hour_of_talk(benchmark: BenchmarkFixture, tmp_path: Path) -> None:
    """False digits and false knocks, and the time that both take on the same recording.

    Unless it is timed, three minutes of the half hour have to do.
    """
    talk, library = speech(tmp_path, 30.0 if benchmark.enabled else 3.0, seed=2), spandsp()

    start = time.process_time()
    own = benchmark.pedantic(ours, args=(talk,), rounds=1)
    own_s = time.process_time() - start
    start = time.process_time()
    peer = theirs(library, talk)
    peer_s = time.process_time() - start

    third = multimon(tmp_path, talk)

    read = {"ours": own, "spandsp": peer, "multimon-ng": third}
    counted = "; ".join(
        f"{name} {len(digits)} digits {digits!r}, {digits.count('#*')} begun and "
        f"{len(KNOCK.findall(digits))} whole knocks of any number"
        for name, digits in read.items()
    )
    print(
        f"\n{len(talk) / 8000 / 60:.0f} min of talk at -13 dBm, false: {counted}\n"
        f"{len(talk) / 8000 / own_s:.0f} x real time, in C {len(talk) / 8000 / peer_s:.0f} x, "
        f"ratio {peer_s / own_s:.3f}"
    )
    assert len(own) <= max(2, len(peer), len(third))
    assert "#*27" not in own
    assert np.isfinite(talk).all()
