"""No byte of a folder of evidence can change unnoticed."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path
from random import Random

import pytest
from folders import Files, audited, made, put, rejection, sealed

from verifier.audit.folder import read
from verifier.audit.outcome import Rejected
from verifier.report.bundle import CIRCUIT, MANIFEST, REFUTATION

SEED = 20
"""Of the positions that are changed, the same on every run."""


def places(path: str, content: bytes, count: int) -> list[int]:
    """Positions in a file: the first, the last, and others at random."""
    random = Random(f"{SEED} {path}")
    return [0, len(content) - 1, *(random.randrange(len(content)) for _ in range(count))]


def flipped(content: bytes, position: int, path: str) -> bytes:
    """Another byte at the position, drawn at random."""
    other = content[position] ^ Random(f"{SEED} {path} {position}").randrange(1, 256)
    return content[:position] + bytes([other]) + content[position + 1 :]


def refused(folder: Path) -> str:
    """Why the folder is refused before anything in it is believed."""
    with pytest.raises(Rejected) as refusal:
        read(folder)
    return str(refusal.value)


def test_every_folder_is_accepted_as_it_is(each: Files, tmp_path: Path) -> None:
    outcomes = audited(each, tmp_path, without=())
    assert [one.status for one in outcomes] == ["accepted"] * len(outcomes)


def test_another_byte_in_any_file(each: Files, tmp_path: Path) -> None:
    put(each, tmp_path)
    tried = 0
    for path, content in each.items():
        for position in places(path, content, 100 if path == MANIFEST else 2):
            (tmp_path / path).write_bytes(flipped(content, position, path))
            where = refused(tmp_path).split(":")[0]
            assert where in (path, MANIFEST)
            tried += 1
        (tmp_path / path).write_bytes(content)
    assert tried == 4 * len(each) + 98
    read(tmp_path)


def test_every_byte_of_a_proof(tmp_path: Path) -> None:
    files = made("compartment")
    put(files, tmp_path)
    path = next(path for path in files if path.endswith("claim.json") and len(files[path]) > 100)
    for position in range(len(files[path])):
        (tmp_path / path).write_bytes(flipped(files[path], position, path))
        assert refused(tmp_path) == f"{path}: not the file that the manifest lists"


def test_files_cut_short_and_longer(each: Files, tmp_path: Path) -> None:
    put(each, tmp_path)
    for path, content in each.items():
        for other in (b"", content[:-1], content[: len(content) // 2], content + b"\n"):
            if other != content:
                (tmp_path / path).write_bytes(other)
                assert refused(tmp_path).split(":")[0] in (path, MANIFEST)
        (tmp_path / path).write_bytes(content)


def test_files_missing_and_renamed(each: Files, tmp_path: Path) -> None:
    put(each, tmp_path)
    for path in each:
        if path != MANIFEST:
            (tmp_path / path).rename(tmp_path / "elsewhere")
            assert refused(tmp_path)
            (tmp_path / "elsewhere").unlink()
            told = refused(tmp_path)
            assert told == f"{path}: missing" or told.endswith("an empty folder")
            put({path: each[path]}, tmp_path)


def test_files_exchanged(each: Files, tmp_path: Path) -> None:
    """Of every two neighbours that differ."""
    names = sorted(path for path in each if path != MANIFEST)
    put(each, tmp_path)
    for one, other in pairwise(names):
        if each[one] != each[other]:
            put({one: each[other], other: each[one]}, tmp_path)
            assert refused(tmp_path) == f"{one}: not the file that the manifest lists"
            put({one: each[one], other: each[other]}, tmp_path)


@pytest.mark.parametrize("path", ["note.txt", "proofs/001/more.cnf", "proofs/999/claim.json"])
def test_a_file_too_many(path: str, tmp_path: Path) -> None:
    files = made("compartment")
    assert refused(put({**files, path: b"{}\n"}, tmp_path)) == f"{path}: not in the manifest"


def test_what_is_no_ordinary_file(tmp_path: Path) -> None:
    folder = put(made("compartment"), tmp_path / "folder")
    (folder / "proofs" / "none").mkdir()
    assert "an empty folder" in refused(folder)
    (folder / "proofs" / "none").rmdir()
    (folder / CIRCUIT).rename(tmp_path / "circuit")
    (folder / CIRCUIT).symlink_to(tmp_path / "circuit")
    assert "a link" in refused(folder)


def test_a_manifest_that_says_the_same_in_other_signs(tmp_path: Path) -> None:
    files = made("compartment")
    files[MANIFEST] = files[MANIFEST].replace(b'"version"', b'"more": 1, "version"')
    assert "not written the one way" in refused(put(files, tmp_path))


def test_the_digest_that_was_told(tmp_path: Path) -> None:
    """A folder that is sound and not the one that was meant."""
    digest = read(put(made("compartment"), tmp_path / "a"))[0].digest
    assert rejection(audited(made("compartment"), tmp_path / "b", digests=[digest])) == ("", "")
    step, words = rejection(audited(made("mixed"), tmp_path / "c", digests=[digest]))
    assert step == "files"
    assert "none of those asked" in words


@pytest.mark.parametrize("name", ["latch", "signals"])
def test_another_byte_under_a_new_digest(name: str, tmp_path: Path) -> None:
    """Whoever seals the folder again: no file has a byte that no step looks at, but comments of the
    source and steps of a refutation, which may be others as long as it refutes."""
    files = made(name)
    for path, content in files.items():
        free = path.startswith("source/") or path.endswith(REFUTATION) or path == MANIFEST
        if not free:
            position = places(path, content, 1)[2]
            changed = sealed({**files, path: flipped(content, position, path)})
            step, words = rejection(audited(changed, tmp_path / path.replace("/", "_")))
            assert step in ("source", "obligations", "sequences", "verdicts"), (path, words)
