"""A trial on real worker processes: a scheduler and workers that are met over sockets."""

import os
import shutil
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from farend_sim.campaign import Where, WorkersDifferError, run
from farend_sim.files import load_scheme, load_unit
from farend_sim.scheme_lab.population import find_population
from farend_sim.scheme_lab.trial.trial import Trial, plant_row

distributed = pytest.importorskip(
    "distributed", reason="NO CLUSTER IS TESTED: pip install 'farend-sim[cluster]'"
)
ROOT = Path(__file__).parent.parent


@pytest.fixture(scope="module")
def cluster() -> Iterator[Any]:
    """Two worker processes on this machine."""
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None
    ) as made:
        made.wait_for_workers(2, timeout=60)
        yield made


@pytest.fixture
def other_worker(cluster: Any, tmp_path: Path) -> Iterator[str]:
    """A third worker whose code is this code and one comment more; its name."""
    for package in ("farend_sim", "line_model"):
        shutil.copytree(
            ROOT / package, tmp_path / package, ignore=shutil.ignore_patterns("__pycache__")
        )
    with (tmp_path / "farend_sim" / "campaign.py").open("a") as file:
        file.write("# not what is here\n")
    command = [sys.executable, "-m", "distributed.cli.dask_worker", cluster.scheduler_address]
    more = ["--name", "other", "--nthreads", "1", "--no-dashboard", "--no-nanny"]
    worker = subprocess.Popen(
        [*command, *more],
        cwd=tmp_path,
        env={**os.environ, "PYTHONPATH": str(tmp_path)},
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
    )
    with distributed.Client(cluster.scheduler_address, set_as_default=False) as client:
        client.wait_for_workers(3, timeout=60)
        workers = client.scheduler_info(n_workers=-1)["workers"]
        yield next(at for at, one in workers.items() if one["name"] == "other")
    worker.terminate()
    worker.wait(timeout=30)


@pytest.fixture(scope="module")
def work() -> Any:
    here = Path()
    trial = Trial(
        schemes=(("terse", load_scheme("terse", here)),),
        unit=load_unit("reference", here),
        population=find_population("district"),
        jobs=2,
        seed=5,
    )
    return partial(plant_row, trial)


def test_worker_processes_give_the_rows_of_one_core(cluster: Any, work: Any) -> None:
    """Plants of every class, two jobs at each: the same rows, in the same order."""
    assert run(work, range(8), Where(cluster=cluster.scheduler_address)) == run(work, range(8))


def test_a_worker_of_another_version_is_refused(cluster: Any, work: Any, other_worker: str) -> None:
    """One that differs among three is named, and nothing runs."""
    with pytest.raises(WorkersDifferError, match="other code than here on") as told:
        run(work, range(2), Where(cluster=cluster.scheduler_address))

    assert str(told.value).count("tcp://") == 1
    assert other_worker in str(told.value)
