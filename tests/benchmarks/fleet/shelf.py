"""The folder of a generated library: written, approved, looked at again, changed."""

from __future__ import annotations

import json
import tempfile
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path

from msgspec import Struct, structs

from tests.benchmarks.fleet.plans import Plan, drawn
from tests.benchmarks.fleet.source import Expected, expected, text_of
from verifier.audit.again import check_again
from verifier.audit.claimed import by_both
from verifier.cli.files import write_whole
from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew, Task, ask_all
from verifier.engines.worker import Failure
from verifier.library.approving import approve
from verifier.library.cache import Cache, NoCache
from verifier.library.examining import warm
from verifier.library.regress import Entry, Far, regress
from verifier.model.load import load, load_text
from verifier.report.library import Examined, LibraryResult
from verifier.studies.bundle import certificate_of
from verifier.studies.earlier import Earlier, earlier_of
from verifier.studies.options import Options
from verifier.studies.prove import prove_and_keep

OPTIONS = Options(jobs=1)
SIGNED = ("the generator", "one of a generated library", "2026-01-01")


def write(folder: Path, plans: Sequence[Plan], *, faults: bool) -> dict[str, Expected]:
    """A folder for each design, and what is expected of all in expected.json. By file."""
    known = {}
    for plan in plans:
        one = expected(plan, faults=faults)
        path = folder / one.file
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(text_of(plan, faults=faults), encoding="utf-8")
        known[one.file] = one
    told = json.dumps([structs.asdict(one) for one in known.values()], indent=1)
    (folder / "expected.json").write_text(f"{told}\n", encoding="utf-8")
    return known


def plans_of(seed: int, count: int) -> list[Plan]:
    return drawn(seed, count)


class Approved(Struct, frozen=True):
    certificate: str


def approve_all(folder: Path, known: dict[str, Expected], crew: Crew) -> list[str]:
    """Those that are expected to hold, as `shutproof approve` does it. What went wrong."""
    paths = [folder / one.file for one in known.values() if not one.violated]
    warm()
    wrong: list[str] = []

    def accept(number: int, outcome: Approved | Failure) -> None:
        if isinstance(outcome, Failure):
            wrong.append(f"{paths[number]}: approve {outcome.words}")

    tasks = [Task(path.name, lambda path=path: _approved(path), Approved) for path in paths]
    ask_all(crew, tasks, accept)
    return wrong


def _approved(path: Path) -> Approved:
    loaded = load(path, Limits())
    result, study = prove_and_keep(loaded, OPTIONS)
    certificate = certificate_of(loaded, result, study)
    check_again(loaded.circuit, certificate, by_both)
    told = approve(path, loaded, result, certificate, None, SIGNED, write_whole)
    return Approved(told.certificate)


def looked_at(
    folder: Path, crew: Crew, cache: Cache | None = None, far: Far | None = None
) -> LibraryResult:
    return regress(folder, OPTIONS, Limits(), crew, cache or NoCache(), lambda *_: None, far)


@contextmanager
def local_cluster(machines: int) -> Iterator[Far]:
    """Processes that listen on loopback, and have all read a small design."""
    from distributed import LocalCluster

    from verifier.library.cluster import Cluster

    with LocalCluster(
        n_workers=machines,
        threads_per_worker=1,
        host="127.0.0.1",
        dashboard_address=None,
        silence_logs=50,
    ) as running:
        address = running.scheduler_address
        cluster = Cluster(address, OPTIONS, Limits(), Crew(jobs=1))
        try:
            with tempfile.TemporaryDirectory() as place:
                known = write(Path(place), drawn(1, 4)[3:], faults=False)
                small = Entry(Path(place) / next(iter(known)), "small")
                cluster.ask_all([small] * (2 * machines), lambda *_: None)
            yield cluster.ask_all
        finally:
            cluster.close()


def objections(
    result: LibraryResult, known: dict[str, Expected], *, approved: bool
) -> Iterator[str]:
    """Where the library does not look as it must."""
    found = {one.file: one for one in result.designs}
    if set(found) != set(known):
        yield "these are not the designs of the library"
        return
    for file, wanted in known.items():
        yield from _objections(found[file], wanted, approved=approved)


def _objections(found: Examined, wanted: Expected, *, approved: bool) -> Iterator[str]:
    status = "approved" if approved and not wanted.violated else "unapproved"
    if found.status != status:
        yield f"{found.file}: {found.status} ({found.reason}) and not {status}"
    broken = tuple(item.name for item in found.properties)
    if broken != wanted.violated:
        yield f"{found.file}: {broken} do not hold, and not {wanted.violated}"
    if found.verdict != ("violated" if wanted.violated else "holds"):
        yield f"{found.file}: {found.verdict}"


def changed(plan: Plan) -> Plan:
    """The trailer with an air filter that it did not have, or without the one that it had."""
    return structs.replace(plan, filter=not plan.filter)


def proved_again(plan: Plan, earlier: Earlier | None) -> bool:
    """Whether a changed design gets the verdict that it must get."""
    loaded = load_text(text_of(plan, faults=False), f"{plan.name}.ilk")
    result, _ = prove_and_keep(loaded, OPTIONS, earlier=earlier)
    broken = tuple(item.name for item in result.properties if item.verdict != "holds")
    return broken == expected(plan, faults=False).violated


def clauses_before(plan: Plan) -> Earlier:
    """What was proved of a design, by name."""
    loaded = load_text(text_of(plan, faults=False), f"{plan.name}.ilk")
    result, study = prove_and_keep(loaded, OPTIONS)
    return earlier_of(certificate_of(loaded, result, study))
