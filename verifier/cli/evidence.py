"""Where `prove` puts its evidence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from itertools import count
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli.files import FileTrouble, write_whole
from verifier.cli.folders import check_replaceable, write_folder

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.result import DesignResult
    from verifier.studies.options import Options
    from verifier.studies.study import Study
    from verifier.studies.watching import Watcher


class Keeping:
    """A folder below `folder` for each design that is proved; none if there is no `folder`."""

    def __init__(self, folder: Path | None, runs: Path | None = None) -> None:
        self._folder = folder
        self._runs = runs
        self._taken: dict[str, str] = {}
        self._digest = ""

    def prove(
        self,
        loaded: Loaded,
        search: Options,
        properties: tuple[str, ...],
        watcher: Watcher | None = None,
    ) -> DesignResult:
        """The verdicts, once their evidence is written; tells its digest on standard error.

        Raises what `verifier.studies.prove.prove` raises, and FileTrouble.
        """
        from verifier.studies.prove import prove, prove_and_keep

        if self._folder is None and self._runs is None:
            return prove(loaded, search, properties, watcher)
        if self._folder is None:
            result, study = prove_and_keep(loaded, search, properties, watcher)
            self._write_runs(loaded, result, study)
            return result
        from verifier.studies.bundle import bundle_files

        name = loaded.circuit.name
        folder = self._folder / name
        # Some file systems do not tell small letters from capitals.
        if name.lower() in self._taken:
            other = self._taken[name.lower()]
            raise click.UsageError(f"the designs {other} and {name} would share {folder}")
        self._taken[name.lower()] = name
        check_replaceable(folder)
        result, study = prove_and_keep(loaded, search, properties, watcher)
        write_folder(folder, self._read_on_the_way(bundle_files(loaded, result, study)))
        click.echo(f"Evidence for {name}: {folder}, digest {self._digest}", err=True)
        self._write_runs(loaded, result, study)
        return result

    def _write_runs(self, loaded: Loaded, result: DesignResult, study: Study) -> None:
        """A .run file for each story, below the folder for runs."""
        if self._runs is None:
            return
        from verifier.runs.read import SUFFIX
        from verifier.runs.write import script_text
        from verifier.studies.told_runs import told_runs

        folder = self._runs / loaded.circuit.name
        taken: set[str] = set()
        for name, script in told_runs(loaded.circuit, result, study):
            number = next(k for k in count(1) if _numbered(name, k) not in taken)
            taken.add(_numbered(name, number))
            try:
                folder.mkdir(parents=True, exist_ok=True)
            except OSError as error:
                raise FileTrouble(f"{folder} cannot be made: {error.strerror}") from None
            file = folder / f"{_numbered(name, number)}{SUFFIX}"
            write_whole(file, script_text(script).encode())
        if taken:
            told = "run" if len(taken) == 1 else "runs"
            click.echo(f"{len(taken)} {told} of {loaded.circuit.name}: {folder}", err=True)

    def _read_on_the_way(self, files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
        from verifier.report.bundle import MANIFEST, manifest_from

        for path, content in files:
            if path == MANIFEST:
                self._digest = manifest_from(content).digest
            yield path, content


def _numbered(name: str, number: int) -> str:
    return name if number == 1 else f"{name}-{number}"
