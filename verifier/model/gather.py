"""Following `use` and `include` from the file of a design to everything that it is made of."""

from __future__ import annotations

from dataclasses import dataclass, field
from pathlib import Path
from posixpath import normpath

from msgspec import Struct

from verifier.diagnostics.diagnostic import Diagnostic, SourceError
from verifier.diagnostics.limits import Limits, exceeded
from verifier.diagnostics.span import Span
from verifier.model.catalogue import CATALOGUES, Catalogue, kinds_named, standard_catalogue
from verifier.model.mistakes import Mistakes, did_you_mean
from verifier.model.reading import SUFFIX, Unreadable, inside, read_text
from verifier.syntax import tree
from verifier.syntax.parse import parse


class Gathered(Struct, frozen=True):
    """A design with all its files. `statements`: in order, kinds and assemblies taken out.

    kinds: the user's and, of the catalogue, those that the design names. own_kinds: names of the
    user's. known_kinds: names of all, the catalogue's included.
    """

    design: tree.Design
    revision: str
    statements: tuple[tree.Statement, ...]
    kinds: dict[str, tree.Kind]
    own_kinds: tuple[str, ...]
    known_kinds: tuple[str, ...]
    assemblies: dict[str, tree.Assembly]
    texts: dict[str, str]


@dataclass(eq=False)
class Gathering:
    """Files so far. `open_files` are those whose includes are being followed, outermost first.

    root: the project folder (resolved), None for a text without a folder.
    """

    limits: Limits
    root: Path | None
    mistakes: Mistakes = field(default_factory=Mistakes)
    texts: dict[str, str] = field(default_factory=dict)
    statements: list[tree.Statement] = field(default_factory=list)
    kinds: dict[str, tree.Kind] = field(default_factory=dict)
    catalogue: Catalogue | None = None
    assemblies: dict[str, tree.Assembly] = field(default_factory=dict)
    done: set[Path] = field(default_factory=set)
    open_files: list[tuple[Path, str]] = field(default_factory=list)

    # ---- files

    def file(self, source: tree.Source, real: Path | None, *, included: bool) -> None:
        """Take in the statements of a parsed file, in order, following what it names."""
        self.open_files.append((real or Path(), source.path))
        if real is not None:
            self.done.add(real)
        for statement in source.statements:
            if isinstance(statement, tree.Use):
                self._use(statement)
            elif isinstance(statement, tree.Include):
                self._include(statement, source.path, real)
            elif isinstance(statement, tree.Kind):
                self._kind(statement)
            elif isinstance(statement, tree.Assembly):
                self._assembly(statement)
            elif included and isinstance(statement, tree.Design | tree.Revision):
                told = "an included file has no `design` or `revision` of its own"
                self.mistakes.add("E0206", statement.span, told)
            else:
                self.statements.append(statement)
        self.open_files.pop()

    def parsed(self, text: str, shown: str) -> tree.Source | None:
        """The tree of a text; its syntax errors join the others."""
        self.texts[shown] = text
        try:
            return parse(text, shown, self.limits)
        except SourceError as problem:
            self.mistakes.extend(problem.diagnostics)
            return None

    def _use(self, statement: tree.Use) -> None:
        if statement.name not in CATALOGUES:
            self.mistakes.add(
                "E0204",
                statement.span,
                f"there is no catalogue `{statement.name}`",
                hint=did_you_mean(statement.name, CATALOGUES)
                or "kinds of your own come by `include`",
            )
            return
        if self.catalogue is not None:
            return
        self.catalogue = standard_catalogue(self.limits)

    def _include(self, statement: tree.Include, shown: str, real: Path | None) -> None:
        code = "E0202"
        try:
            if self.root is None or real is None:
                raise Unreadable("a text without a folder cannot include files")
            if not statement.path.endswith(SUFFIX):
                raise Unreadable(f"names of designs end in {SUFFIX}")
            wanted = inside(real.parent, self.root, statement.path)
            around = [path for path, _ in self.open_files]
            if wanted in around:
                names = [name for _, name in self.open_files[around.index(wanted) :]]
                told = " includes ".join(f"`{name}`" for name in (*names, names[0]))
                self.mistakes.add("E0203", statement.span, f"a circle of includes: {told}")
                return
            if wanted in self.done:
                return
            if len(self.done) >= self.limits.max_files:
                raise exceeded(self.limits, "max_files", shown, "files")
            code = "E0201"
            name = normpath(f"{_folder(shown)}{statement.path}")
            text = read_text(wanted, name, self.limits, follow=False)
        except Unreadable as reason:
            told = f"`{statement.path}` cannot be included: {reason}"
            self.mistakes.add(code, statement.span, told)
            return
        except SourceError as problem:
            self.mistakes.extend(problem.diagnostics)
            self.texts.update(problem.texts)
            return
        self.done.add(wanted)
        source = self.parsed(text, name)
        if source is not None:
            self.file(source, wanted, included=True)

    # ---- kinds and assemblies

    def _kind(self, kind: tree.Kind) -> None:
        if self._free(kind.name, kind.span):
            self.kinds[kind.name] = kind

    def _from_catalogue(self, catalogue: Catalogue) -> None:
        """Add the catalogue's kinds that the design names; tell those that it declares again."""
        spans = {kind.name: kind.span for kind in self.kinds.values()}
        spans.update((assembly.name, assembly.span) for assembly in self.assemblies.values())
        for name, own in spans.items():
            if name in catalogue.blocks:
                self.mistakes.add(
                    "E0301",
                    own,
                    f"`{name}` is already a kind of the catalogue",
                    related=((catalogue.place(name), "the catalogue has it here"),),
                    hint="take another name for a kind of your own",
                )
        wanted = set(kinds_named((*self.statements, *self.assemblies.values())))
        source = self.parsed(catalogue.excerpt(wanted), catalogue.shown)
        self.texts[catalogue.shown] = catalogue.text
        for item in source.statements if source else ():
            if isinstance(item, tree.Kind):
                self.kinds.setdefault(item.name, item)

    def _assembly(self, assembly: tree.Assembly) -> None:
        if self._free(assembly.name, assembly.span):
            self.assemblies[assembly.name] = assembly
        for number, name in enumerate(assembly.parameters):
            if name in assembly.parameters[:number]:
                self.mistakes.add("E0301", assembly.span, f"parameter `{name}` is named twice")

    def _free(self, name: str, span: Span) -> bool:
        first: Span | None = None
        if name in self.kinds:
            first = self.kinds[name].span
        elif name in self.assemblies:
            first = self.assemblies[name].span
        if first is not None:
            self.mistakes.add(
                "E0301",
                span,
                f"there are two kinds or assemblies `{name}`",
                related=((first, "the other is here"),),
            )
        return first is None

    # ---- the whole

    def gathered(self, shown: str) -> Gathered:
        """Everything, once the files are read. Raises `SourceError` if anything was wrong."""
        own_kinds = tuple(self.kinds)
        if self.catalogue is not None:
            self._from_catalogue(self.catalogue)
        designs = [s for s in self.statements if isinstance(s, tree.Design)]
        revisions = [s for s in self.statements if isinstance(s, tree.Revision)]
        self._once([design.span for design in designs], "design")
        self._once([revision.span for revision in revisions], "revision")
        if not designs and not self.mistakes.any_errors:
            self.mistakes.add(
                "E0205",
                Span(shown, 1, 1, 1, 1),
                "this file has no `design`: it can be included, but not proved",
                hint='begin with `design NAME "what it is"`',
            )
        self.mistakes.stop_if_errors(self.texts)
        return Gathered(
            design=designs[0],
            revision=revisions[0].text if revisions else "",
            statements=tuple(self.statements),
            kinds=self.kinds,
            own_kinds=own_kinds,
            known_kinds=(*own_kinds, *(self.catalogue.blocks if self.catalogue else ())),
            assemblies=self.assemblies,
            texts=self.texts,
        )

    def _once(self, spans: list[Span], word: str) -> None:
        for again in spans[1:]:
            self.mistakes.add(
                "E0206",
                again,
                f"a file has one `{word}`",
                related=((spans[0], "the first is here"),),
            )


def _folder(shown: str) -> str:
    """The folder part of a file's name as shown, with its slash."""
    return shown[: shown.rfind("/") + 1]


def unreadable(shown: str, reason: Unreadable) -> SourceError:
    """The error for a design's own file."""
    span = Span(shown, 1, 1, 1, 1)
    told = f"`{shown}` cannot be read: {reason}"
    return SourceError((Diagnostic(span, "E0201", told),), {shown: ""})
