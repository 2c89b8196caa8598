"""All designs of a folder, each in a worker of its own: what becomes of one costs no other."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from msgspec import Struct

from verifier.diagnostics.limits import Limits
from verifier.engines.crew import Crew, Task, ask_all, can_have_workers
from verifier.engines.worker import Failure
from verifier.library.approvals import NAME, Approval, Tampered, current, read
from verifier.library.cache import Cache, Looked
from verifier.library.examining import examine, warm
from verifier.report.library import Examined, LibraryResult, exit_status
from verifier.studies.modelling import CAUTIONS
from verifier.studies.options import Options

Told = Callable[[int, int, Examined], None]
"""Is told each answer with how many there are so far, and how many there will be."""


class Entry(Struct, frozen=True):
    """A design to look at; or an answer that is known without looking."""

    path: Path
    shown: str
    approval: Approval | None = None
    known: Examined | None = None


Accept = Callable[[int, Looked | Failure], None]
"""Gets the number of an entry and its outcome, in the order of the entries."""
Far = Callable[[Sequence[Entry], Accept], None]
"""Has entries looked at elsewhere (cluster.py)."""


def regress(
    folder: Path,
    options: Options,
    limits: Limits,
    crew: Crew,
    cache: Cache,
    told: Told,
    far: Far | None = None,
) -> LibraryResult:
    """Looks at every design below the folder, in the order of their paths."""
    entries = list(listed(folder))
    answers: dict[int, Examined] = {}
    hits = 0

    def answered(number: int, answer: Examined) -> None:
        answers[number] = answer
        told(len(answers), len(entries), answer)

    asked: list[int] = []
    for number, entry in enumerate(entries):
        known = entry.known
        if known is None:
            known = cache.known(entry.path, entry.shown, entry.approval)
            hits += known is not None
        if known is not None:
            answered(number, known)
        else:
            asked.append(number)

    def accept(place: int, outcome: Looked | Failure) -> None:
        number = asked[place]
        entry = entries[number]
        if isinstance(outcome, Failure):
            reason = f"its worker {outcome.words}"
            answered(number, Examined(entry.shown, "failed", reason=reason))
        else:
            cache.keep(entry.path, entry.shown, entry.approval, outcome)
            answered(number, outcome.examined)

    if far is not None:
        far([entries[number] for number in asked], accept)
    elif asked:
        warm()
        tasks = [_task(entries[number], options, limits) for number in asked]
        if can_have_workers():
            ask_all(crew, tasks, accept)
        else:
            for place, task in enumerate(tasks):
                accept(place, task.work())
    designs = tuple(answers[number] for number in range(len(entries)))
    return LibraryResult(str(folder), designs, hits, exit_status(designs), CAUTIONS)


def _task(entry: Entry, options: Options, limits: Limits) -> Task[Looked]:
    def work() -> Looked:
        return examine(entry.path, entry.shown, entry.approval, options, limits)

    return Task(entry.shown, work, Looked)


def listed(folder: Path) -> list[Entry]:
    """The designs below a folder and those that are approved there, by path."""
    found: dict[Path, Entry] = {}
    files = sorted(path for path in folder.rglob("*.ilk") if path.is_file())
    folders = {path.parent for path in files} | {
        path.parent for path in folder.rglob(NAME) if path.is_file()
    }
    approved: dict[Path, dict[str, Approval]] = {}
    spoilt: dict[Path, str] = {}
    for one in sorted(folders):
        try:
            approved[one] = current(read(one))
        except Tampered as why:
            approved[one], spoilt[one] = {}, str(why)
    for path in files:
        shown = _shown(path, folder)
        approval = approved[path.parent].get(path.name)
        if path.parent in spoilt and states_design(path):
            reason = f"{NAME}: {spoilt[path.parent]}"
            found[path] = Entry(path, shown, None, Examined(shown, "tampered", reason=reason))
        elif approval is not None or states_design(path):
            found[path] = Entry(path, shown, approval)
    for one, approvals in approved.items():
        for name, approval in approvals.items():
            path = one / name
            shown = _shown(path, folder)
            if path not in found:
                gone = Examined(shown, "missing", None, "", approval.by, approval.date)
                found[path] = Entry(path, shown, approval, gone)
    return sorted(found.values(), key=lambda entry: (entry.shown, entry.path))


def _shown(path: Path, folder: Path) -> str:
    """The path from the folder; bytes in it that are no text are spelt out."""
    told = path.relative_to(folder).as_posix()
    return told.encode("utf-8", "surrogateescape").decode("utf-8", "backslashreplace")


def states_design(path: Path) -> bool:
    """Whether the file states a design; one that cannot be read is taken for one, so that somebody
    hears of it. Files that others include state none."""
    try:
        text = path.read_text(encoding="utf-8")
    except (OSError, UnicodeDecodeError):
        return True
    return any(line.split("#")[0].split()[:1] == ["design"] for line in text.splitlines())
