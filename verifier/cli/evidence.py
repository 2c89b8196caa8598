"""Where `prove` puts its evidence."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import TYPE_CHECKING

import click

from verifier.cli.folders import check_replaceable, write_folder

if TYPE_CHECKING:
    from verifier.model.load import Loaded
    from verifier.report.result import DesignResult
    from verifier.studies.options import Options
    from verifier.studies.watching import Watcher


class Keeping:
    """A folder below `folder` for each design that is proved; none if there is no `folder`."""

    def __init__(self, folder: Path | None) -> None:
        self._folder = folder
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

        if self._folder is None:
            return prove(loaded, search, properties, watcher)
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
        return result

    def _read_on_the_way(self, files: Iterable[tuple[str, bytes]]) -> Iterator[tuple[str, bytes]]:
        from verifier.report.bundle import MANIFEST, manifest_from

        for path, content in files:
            if path == MANIFEST:
                self._digest = manifest_from(content).digest
            yield path, content
