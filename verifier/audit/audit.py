"""The check of a folder of evidence, without any of the search that made it.

Each step trusts only what the steps before it have shown. What is trusted without a check is the
code that reads designs, compiles them, writes obligations down, and simulates.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator
from pathlib import Path

from msgspec import Struct

from verifier.audit.cases import Replayed
from verifier.audit.folder import read
from verifier.audit.outcome import STEPS, Outcome, Rejected, Step, Unchecked
from verifier.audit.proofs import Proof, by_cvc5, by_drat, by_z3, read_proofs
from verifier.audit.verdicts import Judge, read_sequences
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.evidence.translations import agree
from verifier.model.circuit import Circuit
from verifier.model.load import Loaded, load
from verifier.model.tolerant import tolerances, woven
from verifier.report.bundle import (
    CIRCUIT,
    PROOF_FILES,
    PROOFS,
    READ_ME,
    REPORT,
    RESULT,
    SEQUENCES,
    SOURCE,
    folder_of,
    inside,
    place_of,
    read_me,
)
from verifier.report.json import circuit_text
from verifier.report.manifest import Manifest
from verifier.shipped import LANGUAGE
from verifier.transition.compile import compile_circuit
from verifier.transition.compiled import Compiled
from verifier.transition.recovery import recovery


class Wanted(Struct, frozen=True):
    """digests: if there are any, the folder must have one of them.   without: steps left out, of
    those that ask programs of other people; an audit without all of them shows less."""

    digests: Collection[str] = ()
    without: Collection[str] = ()


def audit(folder: Path, wanted: Wanted, limits: Limits) -> Iterator[Outcome]:
    """What comes of each step, as soon as it is known; the first that rejects is the last taken."""
    auditing = _Auditing(folder, wanted, limits)
    going_on = True
    for step in STEPS:
        if not going_on:
            yield Outcome(step, "not reached")
        elif step in wanted.without:
            yield Outcome(step, "left out")
        else:
            try:
                yield Outcome(step, "accepted", auditing.take(step))
            except Rejected as rejection:
                yield Outcome(step, "rejected", str(rejection))
                going_on = False
            except Unchecked as reason:
                yield Outcome(step, "unchecked", str(reason))
                going_on = step not in ("versions", "source")


class _Auditing:
    """What the steps taken so far have read: each step sets what the next ones use."""

    manifest: Manifest
    files: dict[str, bytes]
    loaded: Loaded
    circuits: dict[str, Circuit]  # by the folder of its evidence: "" of the design's own
    compiled: dict[str, Compiled]
    proofs: dict[str, dict[str, Proof]]
    sequences: dict[str, dict[str, Replayed]]

    def __init__(self, folder: Path, wanted: Wanted, limits: Limits) -> None:
        self._folder = folder
        self._wanted = wanted
        self._limits = limits

    def take(self, step: Step) -> str:
        """What the step found, in words. Raises Rejected and Unchecked."""
        match step:
            case "files":
                return self._files()
            case "versions":
                return self._versions()
            case "source":
                return self._source()
            case "translations":
                return self._translations()
            case "obligations":
                return self._obligations()
            case "z3":
                return by_z3(self._all_proofs())
            case "cvc5":
                return by_cvc5(self._all_proofs())
            case "drat":
                return by_drat(self._all_proofs())
            case "sequences":
                return self._sequences()
            case "verdicts":
                return self._verdicts()

    def _files(self) -> str:
        self.manifest, self.files = read(self._folder)
        digest = self.manifest.digest
        if self._wanted.digests and digest not in self._wanted.digests:
            raise Rejected(
                str(self._folder), f"its digest is {digest}, which is none of those asked"
            )
        return f"{len(self.files)} files, digest {digest}"

    def _versions(self) -> str:
        if self.manifest.language != LANGUAGE:
            theirs = f"the design is in version {self.manifest.language} of the language"
            raise Unchecked(f"{theirs}; this program knows version {LANGUAGE}")
        made = (f"{name} {number}" for name, number in sorted(self.manifest.made_with.items()))
        return f"made with {', '.join(made)}"

    def _source(self) -> str:
        """The circuit is what the design means to us, too."""
        own = self.manifest.source
        if place_of(own) not in self.files:
            raise Rejected(place_of(own), "missing")
        root = self._folder / SOURCE
        try:
            self.loaded = load(root / own, self._limits, root=root, shown=own)
        except SourceError as mistakes:
            first = mistakes.diagnostics[0]
            raise Rejected(place_of(own), f"{first.code}: {first.message}") from None
        except LimitError as limit:
            raise Unchecked(str(limit)) from None
        for shown, text in self.loaded.texts.items():
            if self.files.get(place_of(shown)) != text.encode():
                raise Rejected(place_of(shown), "not the text that the design is made of")
        circuit = self.loaded.circuit
        self.circuits = {"": circuit, **self._with_faults(circuit)}
        for folder, one in self.circuits.items():
            if self.files.get(inside(folder, CIRCUIT)) != circuit_text(one):
                raise Rejected(inside(folder, CIRCUIT), "not the circuit that the design means")
        return f"{len(circuit.parts)} parts, {len(circuit.properties)} properties"

    def _with_faults(self, circuit: Circuit) -> dict[str, Circuit]:
        """The circuits of which properties are judged that tolerate faults, and are decided."""
        named = {one.folder for one in self.manifest.properties}
        return {
            folder_of(number): woven(circuit, tolerance)
            for number, tolerance in enumerate(tolerances(circuit))
            if folder_of(number) in named
        }

    def _translations(self) -> str:
        """What obligations are written from, by the second translation of each circuit."""
        self.compiled = {}
        compared = 0
        for folder, circuit in self.circuits.items():
            compiled = self.compiled[folder] = compile_circuit(circuit)
            comparison = agree(compiled)
            for p, item in enumerate(circuit.properties):
                # Of the sound circuit nothing is asked about what tolerates faults.
                if item.form == "recovers" and item.tolerating is None:
                    for i in range(len(item.instances)):
                        comparison.recovery(recovery(compiled, p, i), p, i)
            if comparison.open:
                raise Unchecked(f"it is open whether both agree on {comparison.open[0].what}")
            compared += comparison.compared
        return f"{compared} definitions and conditions are the same in both"

    def _obligations(self) -> str:
        self.proofs = {
            folder: read_proofs(compiled, self.files, folder)
            for folder, compiled in self.compiled.items()
        }
        count = sum(map(len, self.proofs.values()))
        return f"those of {count} proofs follow from the circuit and the claims"

    def _all_proofs(self) -> dict[str, Proof]:
        """By the places where they lie."""
        return {
            inside(folder, f"{PROOFS}/{number}"): proof
            for folder, proofs in self.proofs.items()
            for number, proof in proofs.items()
        }

    def _sequences(self) -> str:
        self.sequences = {
            folder: read_sequences(circuit, self.manifest, self.files, folder)
            for folder, circuit in self.circuits.items()
        }
        return f"{sum(map(len, self.sequences.values()))} replayed by the simulator"

    def _verdicts(self) -> str:
        judge = Judge(self.loaded, self.circuits, self.proofs, self.sequences)
        design = judge.design(self.manifest, self.files)
        if self.files.get(READ_ME) != read_me(self.manifest):
            raise Rejected(READ_ME, "not what follows from the manifest")
        known = {RESULT, REPORT, READ_ME, *map(place_of, self.loaded.texts)}
        known |= {f"{place}/{name}" for place in self._all_proofs() for name in PROOF_FILES}
        for folder, sequences in self.sequences.items():
            kinds = ("json", "txt")
            known |= {inside(folder, f"{SEQUENCES}/{n}.{k}") for n in sequences for k in kinds}
            known.add(inside(folder, CIRCUIT))
        strange = sorted(set(self.files) - known)
        if strange:
            raise Rejected(strange[0], "no verdict rests on it")
        open_ones = judge.undecided(design)
        left = f"; nothing is said of {', '.join(open_ones)}" if open_ones else ""
        cases = sum(len(item.instances) for item in design.properties)
        return f"{design.verdict}: {len(design.properties)} properties, {cases} cases{left}"
