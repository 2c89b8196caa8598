"""A library looked at by the machines of a cluster: here two processes that listen on loopback."""

from __future__ import annotations

import os
import signal
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from distributed import Client, LocalCluster

from tests.benchmarks.families import FAMILIES
from tests.library.shelf import LAMP, shutproof
from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew
from verifier.engines.worker import Failure
from verifier.library.cache import NoCache
from verifier.library.cluster import Cluster, NoCluster, files_of
from verifier.library.regress import listed, regress
from verifier.report.library import Examined, LibraryResult
from verifier.studies.options import Options

OPTIONS = Options(jobs=1)
# dask warns of much that is its own.
pytestmark = pytest.mark.filterwarnings("ignore")


@pytest.fixture(scope="module")
def machines() -> Iterator[Any]:
    with LocalCluster(
        n_workers=2,
        threads_per_worker=1,
        host="127.0.0.1",
        dashboard_address=None,
        silence_logs=50,
    ) as cluster:
        yield cluster


@pytest.fixture
def many(library: Path) -> Path:
    """The approved two, and lamps: broken ones, one that includes a file, one that is no design."""
    lamps = library / "more"
    lamps.mkdir()
    for number in range(6):
        (lamps / f"lamp_{number}.ilk").write_text(LAMP.replace("design lamp", f"design l{number}"))
    (lamps / "broken.ilk").write_text(LAMP.replace("tractor is present and ", ""))
    (lamps / "none.ilk").write_text("design x\npart y : z\n")
    (lamps / "kinds").mkdir()
    (lamps / "kinds" / "plain.ilk").write_text("kind plain\n  ports 1, 2\n  passage 1-2\nend\n")
    piped = LAMP.replace("use standard", 'use standard\ninclude "kinds/plain.ilk"').replace(
        "line shown : button.2, lamp.in",
        "part pipe : plain\nline half : button.2, pipe.1\nline shown : pipe.2, lamp.in",
    )
    (lamps / "piped.ilk").write_text(piped)
    return library


def far(folder: Path, address: str, told: list[str], at_first: Any = lambda: None) -> LibraryResult:
    cluster = Cluster(address, OPTIONS, Limits(), Crew(jobs=1))

    def tell(done: int, among: int, one: Examined) -> None:
        told.append(one.file)
        if len(told) == 1:
            at_first()

    try:
        return regress(folder, OPTIONS, Limits(), Crew(), NoCache(), tell, cluster.ask_all)
    finally:
        cluster.close()


def near(folder: Path) -> LibraryResult:
    return regress(folder, OPTIONS, Limits(), Crew(), NoCache(), lambda *_: None)


def test_a_machine_that_dies_in_the_middle(many: Path, machines: Any) -> None:
    """Nothing is lost, nothing is told twice, and all is as one machine says it."""
    told: list[str] = []

    def kill() -> None:
        with Client(machines.scheduler_address, set_as_default=False) as client:
            victim = next(iter(client.run(os.getpid).values()))
        os.kill(victim, signal.SIGKILL)

    found = far(many, machines.scheduler_address, told, kill)
    here = near(many)
    assert found == here
    assert told == [one.file for one in found.designs]
    assert len(told) == len(set(told)) == 11


def test_the_command(many: Path, machines: Any) -> None:
    done = shutproof("regress", many, "--cluster", machines.scheduler_address, "--json")
    here = shutproof("regress", many, "--json")
    assert (done.returncode, done.stdout) == (here.returncode, here.stdout), done.stderr
    assert done.returncode == 1


def test_each_design_is_asked_in_a_child_that_can_be_killed(many: Path, machines: Any) -> None:
    """One that is not waited for, although it takes a while to read, and its machine goes on."""
    (many / "more" / "large.ilk").write_text(FAMILIES["bank"].member(20, 4).text)
    hasty = Crew(jobs=1, patience=0.001)
    cluster = Cluster(machines.scheduler_address, OPTIONS, Limits(), hasty)
    told: list[Any] = []
    entries = [one for one in listed(many) if one.shown in ("more/large.ilk", "more/none.ilk")]
    try:
        cluster.ask_all(entries, lambda _, outcome: told.append(outcome))
    finally:
        cluster.close()
    assert isinstance(told[0], Failure)
    assert told[0].kind == "hang"
    assert told[1].examined.status == "invalid"


def test_what_is_sent(many: Path) -> None:
    entries = {one.shown: one for one in listed(many)}
    assert set(files_of(entries["more/piped.ilk"])) == {"piped.ilk", "kinds/plain.ilk"}
    approved = entries["lamps/lamp.ilk"]
    assert approved.approval is not None
    assert set(files_of(approved)) == {"lamp.ilk", approved.approval.certificate}
    outside = many / "more" / "lamp_0.ilk"
    outside.write_text(f'include "../lamps/lamp.ilk"\n{LAMP}')
    assert set(files_of({one.shown: one for one in listed(many)}["more/lamp_0.ilk"])) == {
        "lamp_0.ilk"
    }


def test_no_cluster_there(many: Path) -> None:
    with pytest.raises(NoCluster, match="no cluster answers at nowhere"):
        Cluster("nowhere", OPTIONS, Limits(), Crew())
