"""A folder of evidence: its manifest, its digest, and its text for people.

The manifest lists every other file with its digest, and has a digest of its own. Everything in the
folder follows from the design, the verdicts and the proofs: the same input gives the same bytes.
"""

from __future__ import annotations

import hashlib

import msgspec

from verifier.evidence.claims import Claim, in_words, posed
from verifier.model.catalogue import SHOWN
from verifier.report.json import text_of
from verifier.report.manifest import File, Manifest
from verifier.report.result import DesignResult, Result, exit_status
from verifier.report.text import closing_text, design_text
from verifier.transition import dimacs, smt2
from verifier.transition.compiled import Compiled

MANIFEST = "manifest.json"
CIRCUIT = "circuit.json"
RESULT = "result.json"
REPORT = "report.txt"
READ_ME = "README.md"
SOURCE = "source"
PROOFS = "proofs"
FAULTS = "faults"
SEQUENCES = "sequences"
SCRIPT = "obligations.smt2"
CLAUSES = "obligations.cnf"
REFUTATION = "obligations.drat"
CLAIM = "claim.json"
CLAIM_WORDS = "claim.txt"
PROOF_FILES = (CLAIM, CLAIM_WORDS, SCRIPT, CLAUSES, REFUTATION)


def inside(folder: str, path: str) -> str:
    """The path in a folder of the folder of evidence, "" for the latter itself."""
    return f"{folder}/{path}" if folder else path


def folder_of(tolerance: int) -> str:
    """Where the evidence of properties lies that tolerate the same faults; they are numbered from
    0, in the order of the source."""
    return f"{FAULTS}/{tolerance + 1}"


def place_of(shown: str) -> str:
    """Where the text of a source file lies; files of the design are told from its own folder."""
    return "catalogue/standard.ilk" if shown == SHOWN else f"{SOURCE}/{shown}"


def proof_files(compiled: Compiled, claim: Claim) -> dict[str, bytes]:
    """All files of a proof but its refutation. Raises Misfit if it does not fit the circuit."""
    sheet = posed(compiled, claim)
    return {
        CLAIM: text_of(claim),
        CLAIM_WORDS: in_words(compiled, claim).encode(),
        SCRIPT: smt2.script(sheet).encode(),
        CLAUSES: dimacs.text(sheet).encode(),
    }


def result_files(design: DesignResult, cautions: tuple[str, ...]) -> dict[str, bytes]:
    """The verdicts on one design, for machines and for people."""
    result = Result((design,), (), exit_status([design], []), cautions)
    report = f"{design_text(design)}{closing_text(result)}"
    return {RESULT: text_of(result), REPORT: report.encode()}


def file_of(path: str, content: bytes) -> File:
    return File(path, len(content), hashlib.sha256(content).hexdigest())


def sealed(manifest: Manifest) -> Manifest:
    """With its digest."""
    bare = msgspec.structs.replace(manifest, digest="")
    digest = hashlib.sha256(text_of(bare)).hexdigest()
    return msgspec.structs.replace(manifest, digest=digest)


def manifest_from(text: bytes) -> Manifest:
    """Raises msgspec.DecodeError for what is no manifest, or one of another version."""
    return msgspec.json.decode(text, type=Manifest)


_WORDS = """\
# Evidence for {title}

Verdict: {verdict}. Made by `shutproof prove --evidence`; `shutproof audit` checks all of it. Nobody
has to trust either: the files can be checked by other people's programs, on any machine.

| file | has |
|---|---|
| `manifest.json` | every file with its digest; what carries the verdict on each case |
| `source/` | the design, as it was read |
| `circuit.json` | the circuit that the design means (`shutproof schema circuit`) |
| `result.json`, `report.txt` | the verdicts (`shutproof schema result`) |
| `proofs/N/claim.json`, `claim.txt` | what is proved, and the invariant: one lemma a line |
| `proofs/N/obligations.smt2` | what must be impossible, as SMT-LIB: every answer must be `unsat` |
| `proofs/N/obligations.cnf`, `.drat` | the same as clauses, and a proof that they clash |
| `sequences/N.json`, `N.txt` | runs from the start, for machines and for people |
| `faults/M/` | of properties that tolerate faults: the circuit with these, its proofs and runs |

With a checker of DRAT proofs and nothing else (here dratify, in an environment of its own):

```sh
python3 -m venv drat && drat/bin/pip install -q dratify && drat/bin/python - <<'END'
from pathlib import Path
from dratify import check_proof, parse_dimacs
for clauses in sorted(Path().glob("**/obligations.cnf")):
    proof = clauses.with_suffix(".drat").read_text()
    result = check_proof(parse_dimacs(clauses.read_text()), proof)
    print(clauses, "refuted" if result.ok and result.reached_empty else "NOT REFUTED")
END
```

With a solver that reads SMT-LIB: `z3 FILE` or `cvc5 --incremental FILE` for each of the scripts.

That the obligations are those of the design is what `shutproof audit` adds: it reads the source
again, writes the obligations down again, replays the sequences, and looks for the evidence behind
every verdict. What it takes on trust is the translation from the design to its obligations.

A proof holds for the design as written, under the rules and the assumptions named in the report. It
replaces no test of the built trailer. Local codes come first.
"""


def read_me(manifest: Manifest) -> bytes:
    """The text for people; it depends on nothing but the manifest's head."""
    title = manifest.title or manifest.design
    revision = f", revision {manifest.revision}" if manifest.revision else ""
    words = {"title": f"{manifest.design}: {title}{revision}", "verdict": manifest.verdict}
    return _WORDS.format(**words).encode()
