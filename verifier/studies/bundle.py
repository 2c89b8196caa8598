"""Everything that a third party needs to check the verdicts on a design, as files of a folder."""

from __future__ import annotations

import posixpath
from collections.abc import Iterator, Mapping
from importlib.metadata import version
from typing import TypeVar

from msgspec import Struct, structs

from verifier.diagnostics.span import Span
from verifier.evidence.claims import Claim, Free, Unreachable, posed, resolved
from verifier.evidence.error import EvidenceError
from verifier.evidence.named import Table
from verifier.evidence.sequences import recorded
from verifier.model.catalogue import SHOWN
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded
from verifier.model.normal import normal_digest
from verifier.model.tolerant import tolerances, woven
from verifier.report import bundle
from verifier.report.certificate import Certificate, Strand
from verifier.report.json import circuit_text, text_of
from verifier.report.manifest import Carrying, File, Manifest
from verifier.report.result import DesignResult
from verifier.shipped import LANGUAGE
from verifier.solving.refutation import refute
from verifier.studies.claims import claims_of
from verifier.studies.covering import RACES, Covering, Sequence
from verifier.studies.modelling import CAUTIONS
from verifier.studies.sequence_text import sequence_text
from verifier.studies.study import Study
from verifier.transition import dimacs
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled

Value = TypeVar("Value")

MAKERS = ("shutproof", "z3-solver", "python-sat")


def bundle_files(loaded: Loaded, result: DesignResult, study: Study) -> Iterator[tuple[str, bytes]]:
    """Paths and contents, the manifest last. Names of source files are told from the design's own
    folder, so that nothing depends on where it lay.

    Raises EvidenceError for a verdict that nothing carries, or a proof that cannot be refuted.
    """
    names = _told_from_its_folder(loaded.texts)
    circuit = _renamed(loaded.circuit, names)
    design = _renamed(structs.replace(result, file=names[result.file]), names)
    parts = _parts(circuit, design, study)
    carrying = _carrying(parts, design)
    files: list[File] = []

    def listed(path: str, content: bytes) -> tuple[str, bytes]:
        files.append(bundle.file_of(path, content))
        return path, content

    for shown, text in loaded.texts.items():
        yield listed(bundle.place_of(names[shown]), text.encode())
    for name, content in bundle.result_files(design, CAUTIONS).items():
        yield listed(name, content)
    for part in parts:
        for path, content in part.files():
            yield listed(bundle.inside(part.folder, path), content)
    manifest = Manifest(
        design=circuit.name,
        title=circuit.title,
        revision=circuit.revision,
        source=design.file,
        verdict=design.verdict,
        properties=carrying,
        files=(),
        made_with={name: version(name) for name in MAKERS},
        language=LANGUAGE,
    )
    yield listed(bundle.READ_ME, bundle.read_me(manifest))
    whole = structs.replace(manifest, files=tuple(sorted(files, key=lambda file: file.path)))
    yield bundle.MANIFEST, text_of(bundle.sealed(whole))


def certificate_of(loaded: Loaded, result: DesignResult, study: Study) -> Certificate:
    """The same evidence without what follows from it: no scripts, clauses, refutations or texts.

    Raises EvidenceError for a verdict that nothing carries.
    """
    parts = _parts(loaded.circuit, result, study)
    races = [item for item in result.properties if item.free and item.name == RACES]
    return Certificate(
        circuit=normal_digest(loaded.circuit),
        language=LANGUAGE,
        verdict=result.verdict,
        properties=_carrying(parts, result),
        strands=tuple(part.strand() for part in parts),
        accepted={x.label: x.accepted for item in races for x in item.instances if x.accepted},
        others=races[0].others if races else "",
        made_with={name: version(name) for name in MAKERS},
    )


class _Part:
    """What carries the verdicts on properties of one circuit: the design's own, or one with faults.

    carrying: of each property, whether it is a free one, and what carries it.
    """

    def __init__(self, folder: str, circuit: Circuit, design: DesignResult, study: Study) -> None:
        told = (*study.runs, *study.witnessed)
        runs = (*map(Sequence, told), *(Sequence(*loop) for loop in study.loops))
        covering = Covering(circuit, claims_of(study), runs, tuple(study.partings))
        covering.always(Free())
        found = [structs.replace(one, folder=folder) for one in covering.design(design)]
        self.folder = folder
        self.carrying = [(x.free, one) for x, one in zip(design.properties, found, strict=True)]
        self._circuit = circuit
        self._covering = covering

    def files(self) -> Iterator[tuple[str, bytes]]:
        """Their paths from the part's folder, and contents."""
        circuit, compiled = self._circuit, compile_circuit(self._circuit)
        carrying = [one for _, one in self.carrying]
        yield bundle.CIRCUIT, circuit_text(circuit)
        for claim, number in self._covering.claims.items():
            for name, content in _proof(compiled, claim).items():
                yield f"{bundle.PROOFS}/{number}/{name}", content
        for one, number in self._covering.sequences.items():
            place = f"{bundle.SEQUENCES}/{number}"
            yield f"{place}.json", text_of(recorded(circuit, one.run, one.loop_from))
            words = sequence_text(circuit, one.run, one.loop_from, number, carrying)
            yield f"{place}.txt", words

    def strand(self) -> Strand:
        covering, circuit = self._covering, self._circuit
        compiled, table = compile_circuit(self._circuit), Table()
        proofs = {number: _by_name(compiled, c, table) for c, number in covering.claims.items()}
        return Strand(
            self.folder,
            table.names,
            proofs,
            {
                number: recorded(circuit, one.run, one.loop_from)
                for one, number in covering.sequences.items()
            },
        )


def _by_name(compiled: Compiled, claim: Claim, table: Table) -> Claim:
    """Its lemmas over places in a table of names."""
    if isinstance(claim, Free):
        return claim
    system = resolved(compiled, claim)[0] if isinstance(claim, Unreachable) else compiled.system
    return structs.replace(claim, lemmas=table.placed(system, claim.lemmas))


def _parts(circuit: Circuit, design: DesignResult, study: Study) -> list[_Part]:
    return [_sound(circuit, design, study), *_tolerant(circuit, design, study)]


def _carrying(parts: list[_Part], design: DesignResult) -> tuple[Carrying, ...]:
    """In the order of the result."""
    carried = {(one.name, free): one for part in parts for free, one in part.carrying}
    return tuple(carried[item.name, item.free] for item in design.properties)


def _sound(circuit: Circuit, design: DesignResult, study: Study) -> _Part:
    mine = tuple(item for item in design.properties if item.tolerating is None)
    return _Part("", circuit, structs.replace(design, properties=mine), study)


def _tolerant(circuit: Circuit, design: DesignResult, study: Study) -> Iterator[_Part]:
    known = tolerances(circuit)
    for place in sorted(study.tolerant):
        names = {circuit.properties[number].name for number in known[place].properties}
        mine = tuple(x for x in design.properties if not x.free and x.name in names)
        own = structs.replace(design, properties=mine)
        faulty = woven(circuit, known[place])
        yield _Part(bundle.folder_of(place), faulty, own, study.tolerant[place])


def _proof(compiled: Compiled, claim: Claim) -> dict[str, bytes]:
    """Its files, and a refutation by a solver that keeps a record of its steps."""
    _, clauses, _ = dimacs.clauses_of(posed(compiled, claim))
    refutation = refute(clauses)
    if refutation is None:
        raise EvidenceError("the clauses of a proof that was accepted can be met")
    return {**bundle.proof_files(compiled, claim), bundle.REFUTATION: refutation.encode()}


def _told_from_its_folder(texts: Mapping[str, str]) -> dict[str, str]:
    """New names of the source files: the paths from the folder of the first, the design's own."""
    folder = posixpath.dirname(next(iter(texts))) or "."
    return {shown: shown if shown == SHOWN else posixpath.relpath(shown, folder) for shown in texts}


def _renamed(value: Value, names: Mapping[str, str]) -> Value:
    """The value with every place in a source file told by the file's new name."""
    return _put(value, names)  # type: ignore[return-value]


def _put(value: object, names: Mapping[str, str]) -> object:
    if isinstance(value, Span):
        return structs.replace(value, file=names[value.file])
    if isinstance(value, Struct):
        fields = {name: getattr(value, name) for name in value.__struct_fields__}
        put = {name: _put(inner, names) for name, inner in fields.items()}
        return structs.replace(value, **put)
    if isinstance(value, tuple):
        return tuple(_put(inner, names) for inner in value)
    return value
