"""Files that are no designs: a clear refusal on standard error, status 2, never a traceback."""

from __future__ import annotations

import json
import os
from pathlib import Path

import pytest
from command import HERON, shutproof
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

COMMANDS = (["prove"], ["check"], ["format"], ["export", "--as", "circuit"])


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_missing_file(command: list[str], tmp_path: Path) -> None:
    done = shutproof(*command, tmp_path / "absent.ilk")
    assert (done.returncode, done.stdout) == (2, "")
    assert "there is no such file" in done.stderr


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_folder(command: list[str], tmp_path: Path) -> None:
    done = shutproof(*command, tmp_path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "not an ordinary file" in done.stderr


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_named_pipe_does_not_hang(command: list[str], tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "pipe.ilk")
    done = shutproof(*command, tmp_path / "pipe.ilk")
    assert done.returncode == 2


@pytest.mark.parametrize(
    "content",
    [b"", b"\n\n", b"# nothing\n", b"\xff\xfe\x00d", b"\x00" * 50, b"part part part", b"((((" * 50],
    ids=repr,
)
@pytest.mark.parametrize("command", ["prove", "check"])
def test_content_that_is_no_design(command: str, content: bytes, tmp_path: Path) -> None:
    path = tmp_path / "text.ilk"
    path.write_bytes(content)
    done = shutproof(command, path)
    assert (done.returncode, done.stdout) == (2, "")
    assert "error" in done.stderr
    assert "Traceback" not in done.stderr


@settings(max_examples=60, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(content=st.one_of(st.binary(max_size=200), st.text(max_size=200).map(str.encode)))
def test_any_bytes_are_refused_in_order(content: bytes, tmp_path: Path) -> None:
    """In this process, since it is the same code and a thousand times faster."""
    from verifier.diagnostics.diagnostic import LimitError, SourceError
    from verifier.diagnostics.render import render
    from verifier.model.load import load

    path = tmp_path / "bytes.ilk"
    path.write_bytes(content)
    refusal: SourceError | LimitError | None = None
    try:
        load(path)
    except (SourceError, LimitError) as error:
        refusal = error
    if isinstance(refusal, SourceError):
        assert "error" in render(refusal.diagnostics, refusal.texts)
    elif isinstance(refusal, LimitError):
        assert "--max-" in str(refusal)


def test_limits_name_the_option_that_raises_them() -> None:
    done = shutproof("check", "--max-bytes", "100", HERON)
    assert done.returncode == 2
    assert "--max-bytes" in done.stderr
    assert shutproof("check", "--max-members", "2", HERON).stderr.count("--max-members") == 1


def test_sound_designs_are_not_lost_among_refused_ones(tmp_path: Path) -> None:
    done = shutproof("prove", "--json", tmp_path / "absent.ilk", HERON)
    result = json.loads(done.stdout)
    assert done.returncode == result["exit_status"] == 2
    assert [one["design"] for one in result["designs"]] == ["heron"]
    assert [one["mistakes"][0]["code"] for one in result["refused"]] == ["E0201"]


def test_strict_turns_warnings_into_errors(tmp_path: Path) -> None:
    path = tmp_path / "plugged.ilk"
    path.write_text(
        'design plugged "a warning and nothing worse"\nuse standard\nsupply tractor\n'
        "part pick : push_pull_3_2\npart lamp : visual_indicator\n"
        "line air : tractor, pick.1\nline lift : pick.2, lamp.in\nplug pick.10, pick.3\n"
    )
    assert shutproof("check", path).returncode == 0
    done = shutproof("check", "--strict", path)
    assert done.returncode == 2
    assert "warning" in done.stderr
