"""Long runs may be interrupted, and divided, and still look at each circuit once."""

from __future__ import annotations

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from tests.agreement import deep
from tests.log import Log, OtherSource


@pytest.fixture
def compared(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Numbers of the circuits that were compared; number 33 disagrees."""
    numbers: list[int] = []

    def compare(number: int) -> tuple[Counter[str], str]:
        numbers.append(number)
        return (Counter(), "a traceback") if number == 33 else (Counter(proved=1), "")

    monkeypatch.setattr(deep, "compare", compare)
    return numbers


def run(*arguments: object) -> int:
    return deep.main(list(map(str, arguments)))


def test_an_interrupted_run_goes_on(
    compared: list[int], tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    log, honest = tmp_path / "log", deep.compare_batch

    def interrupted(numbers: range) -> dict[str, Any]:
        if numbers.start == 60:
            raise KeyboardInterrupt
        return honest(numbers)

    monkeypatch.setattr(deep, "compare_batch", interrupted)
    with pytest.raises(KeyboardInterrupt):
        run("--seed", 7, "--count", 90, "--log", log)
    assert compared == list(range(7, 60))
    with log.open("a") as file:
        file.write('{"source": "cut sh')
    monkeypatch.setattr(deep, "compare_batch", honest)
    assert run("--seed", 7, "--count", 90, "--log", log) == 1
    assert compared == list(range(7, 97))
    assert run("--seed", 7, "--count", 90, "--log", log) == 1
    assert len(compared) == 90


def test_shards_do_everything_once(
    compared: list[int], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    logs = [tmp_path / str(k) for k in range(3)]
    for k in (1, 0):
        run("--seed", 40, "--count", 130, "--shard", f"{k + 1}/3", "--log", logs[k])
    assert run("--seed", 40, "--count", 130, "--sum", *logs) == 3
    run("--seed", 40, "--count", 130, "--shard", "3/3", "--log", logs[2])
    assert sorted(compared) == list(range(40, 170))
    capsys.readouterr()
    assert run("--seed", 40, "--count", 130, "--sum", *logs, logs[0]) == 0
    assert "130  proved\n130 circuits, 0 disagreements" in capsys.readouterr().out


def test_a_disagreement_stays_in_the_log(
    compared: list[int], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "log"
    assert run("--seed", 20, "--count", 20, "--log", log) == 1
    capsys.readouterr()
    assert run("--seed", 20, "--count", 20, "--sum", log) == 1
    assert "circuit 33:\na traceback" in capsys.readouterr().out


def test_logs_of_other_source_are_refused(
    compared: list[int], tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    log = tmp_path / "log"
    run("--seed", 0, "--count", 20, "--log", log)
    line = json.loads(log.read_text())
    log.write_text(json.dumps({**line, "source": "older"}) + "\n")
    before = log.read_bytes()
    assert run("--seed", 0, "--count", 40, "--log", log) == 2
    assert "other source" in capsys.readouterr().err
    assert log.read_bytes() == before
    with pytest.raises(OtherSource):
        Log(log, "newer")


def test_what_is_compared() -> None:
    """One batch in earnest: every question, races and rest are among it."""
    source = deep._loaded()
    line = deep.compare_batch(range(300, 303))
    assert set(deep._loaded()) <= set(source), "loaded late, so the log's digest misses it"
    assert {"tests/agreement/deep.py", "verifier/engines/directed.py"} <= set(source)
    assert line["disagreed"] == {}
    said = line["said"]
    for word in ("proved", "reached", "portfolio", "directed", "rest", "no race", "ends alike"):
        assert any(word in one for one in said), said
