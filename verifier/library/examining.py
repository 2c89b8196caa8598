"""One design of a library: is it as it was approved, and does its certificate still stand?"""

from __future__ import annotations

import hashlib
import os
from pathlib import Path

import msgspec

from verifier.audit.again import check_again
from verifier.audit.outcome import Rejected, Unchecked
from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.evidence.translations import agree
from verifier.library.approvals import Approval
from verifier.library.cache import Looked
from verifier.model.catalogue import SHOWN
from verifier.model.load import Loaded, load, load_text
from verifier.model.normal import normal_digest
from verifier.report.certificate import Certificate
from verifier.report.library import Examined, Status
from verifier.report.result import Mistake, Refused
from verifier.studies.earlier import Earlier, earlier_of
from verifier.studies.options import Options
from verifier.studies.prove import prove
from verifier.transition.compile import compile_circuit

_SMALL = """design small
use standard
supply air
part tap : push_button_3_2
line one : air, tap.1
plug tap.2
"""


def warm() -> None:
    """Reads a small design, so that workers, which are copies of this process, find parser, grammar
    and solvers read and ready."""
    agree(compile_circuit(load_text(_SMALL).circuit))


def examine(
    path: Path, shown: str, approval: Approval | None, options: Options, limits: Limits
) -> Looked:
    """An unchanged design's certificate is checked; everything else is proved anew. shown: the path
    as it is told."""
    try:
        loaded = load(path, limits, shown=shown)
    except SourceError as error:
        refused = Refused(shown, tuple(map(Mistake.of, error.diagnostics)))
        first = error.diagnostics[0]
        reason = f"{first.code}: {first.message}"
        return Looked(Examined(shown, "invalid", reason=reason, refused=refused), {})
    except LimitError as error:
        refused = Refused(shown, (), str(error))
        return Looked(Examined(shown, "invalid", reason=str(error), refused=refused), {})
    folder = os.path.dirname(shown) or "."
    files = {
        os.path.relpath(name, folder): hashlib.sha256(text.encode()).hexdigest()
        for name, text in loaded.texts.items()
        if name != SHOWN
    }
    return Looked(_examined(path, shown, approval, loaded, options), files)


def _examined(
    path: Path, shown: str, approval: Approval | None, loaded: Loaded, options: Options
) -> Examined:
    if approval is None:
        return _proved(path, shown, "unapproved", "", None, loaded, options)
    circuit = loaded.circuit
    if normal_digest(circuit) != approval.circuit:
        reason = f"the circuit {approval.circuit[:16]} was approved, and this is another one"
        return _proved(path, shown, "changed", reason, approval, loaded, options)
    try:
        checked = check_again(circuit, _certificate(path.parent, approval))
    except (Rejected, Unchecked, OSError) as why:
        return _proved(path, shown, "not certified", str(why), approval, loaded, options)
    told = dict(checked.properties)
    if told != approval.verdicts or checked.verdict != approval.verdict:
        reason = "its certificate carries other verdicts than were approved"
        return Examined(shown, "tampered", checked.verdict, reason, approval.by, approval.date)
    return Examined(shown, "approved", checked.verdict, "", approval.by, approval.date)


def _certificate(folder: Path, approval: Approval) -> Certificate:
    name = approval.certificate
    if Path(name).name != name:
        raise Rejected(name, "a certificate lies beside its design")
    content = (folder / name).read_bytes()
    if hashlib.sha256(content).hexdigest() != approval.certificate_sha256:
        raise Rejected(name, "not the certificate that was approved")
    try:
        return msgspec.json.decode(content, type=Certificate)
    except (msgspec.DecodeError, UnicodeDecodeError) as problem:
        raise Rejected(name, str(problem)) from None


def _earlier(folder: Path, approval: Approval | None) -> Earlier | None:
    """What the certificate of an approval has to begin with, whatever became of that."""
    if approval is None:
        return None
    try:
        return earlier_of(_certificate(folder, approval))
    except (Rejected, OSError):
        return None


def _proved(
    path: Path,
    shown: str,
    status: Status,
    reason: str,
    approval: Approval | None,
    loaded: Loaded,
    options: Options,
) -> Examined:
    by, date = ("", "") if approval is None else (approval.by, approval.date)
    try:
        result = prove(loaded, options, earlier=_earlier(path.parent, approval))
    except SourceError as error:
        refused = Refused(shown, tuple(map(Mistake.of, error.diagnostics)))
        return Examined(shown, "invalid", None, error.diagnostics[0].message, by, date, (), refused)
    wrong = tuple(item for item in result.properties if item.verdict != "holds")
    return Examined(shown, status, result.verdict, reason, by, date, wrong)
