"""Reading files: includes inside the project folder only, nothing that is no ordinary file."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from verifier.diagnostics.diagnostic import LimitError, SourceError
from verifier.diagnostics.limits import Limits
from verifier.model.load import load, load_text

ROOT = 'design heron "with files"\nsupply tractor\nnever "x": high(air)\n'
PIECE = "kind lamp\n  ports in\nend\npart {name} : lamp\n"


def codes(path: Path, root: Path | None = None) -> list[str]:
    with pytest.raises(SourceError) as caught:
        load(path, root=root)
    return [d.code for d in caught.value.diagnostics]


@pytest.fixture
def project(tmp_path: Path) -> Path:
    folder = tmp_path / "project"
    (folder / "kinds").mkdir(parents=True)
    (folder / "kinds" / "lamp.ilk").write_text("kind lamp\n  ports in\nend\n")
    (tmp_path / "outside.ilk").write_text("kind lamp\n  ports in\nend\n")
    return folder


def design(folder: Path, *includes: str) -> Path:
    path = folder / "heron.ilk"
    lines = "".join(f'include "{name}"\n' for name in includes)
    path.write_text(
        f"{ROOT}{lines}part one : lamp\npart two : lamp\nline air : tractor, one.in, two.in\n"
    )
    return path


def test_includes_once_and_by_any_way(project: Path) -> None:
    (project / "kinds" / "both.ilk").write_text('include "lamp.ilk"\ninclude "../kinds/lamp.ilk"\n')
    loaded = load(design(project, "kinds/both.ilk", "./kinds/lamp.ilk"))
    assert [part.name for part in loaded.circuit.parts] == ["one", "two"]
    shown = (project / "heron.ilk").as_posix()
    inner = (project / "kinds" / "lamp.ilk").as_posix()
    assert set(loaded.texts) == {shown, inner, (project / "kinds" / "both.ilk").as_posix()}


def test_links_inside_are_followed_and_links_outside_refused(project: Path) -> None:
    (project / "inner.ilk").symlink_to(project / "kinds" / "lamp.ilk")
    assert load(design(project, "inner.ilk")).circuit.parts
    (project / "outer.ilk").symlink_to(project.parent / "outside.ilk")
    assert "E0202" in codes(design(project, "outer.ilk"))
    (project / "folder").symlink_to(project.parent, target_is_directory=True)
    assert "E0202" in codes(design(project, "folder/outside.ilk"))
    (project / "loop.ilk").symlink_to(project / "loop.ilk")
    assert codes(design(project, "loop.ilk"))[0] in ("E0201", "E0202")


def test_a_larger_root_may_be_named(project: Path) -> None:
    path = design(project, "../outside.ilk")
    assert "E0202" in codes(path)
    assert load(path, root=project.parent).circuit.parts
    assert codes(path, root=project / "kinds") == ["E0201"]


@pytest.mark.parametrize(
    "name",
    ["/etc/passwd", "~/x.ilk", "..\\\\outside.ilk", "C:/x.ilk", "../outside.ilk", "", "kinds"],
)
def test_paths_that_are_refused(project: Path, name: str) -> None:
    assert "E0202" in codes(design(project, name))


def test_pipes_and_folders_are_refused_without_waiting(project: Path) -> None:
    os.mkfifo(project / "pipe.ilk")
    (project / "folder.ilk").mkdir()
    assert codes(design(project, "pipe.ilk", "folder.ilk"))[:2] == ["E0201", "E0201"]
    assert codes(project / "pipe.ilk") == ["E0201"]
    assert codes(project) == ["E0201"]
    assert codes(project / "none.ilk") == ["E0201"]


def test_syntax_mistakes_of_all_files_at_once(project: Path) -> None:
    (project / "bad.ilk").write_text("kind lamp\n  ports\nend\n")
    (project / "binary.ilk").write_bytes(b"kind \xff\xfe")
    path = design(project, "bad.ilk", "binary.ilk")
    path.write_text(path.read_text() + "line : tractor\n")
    with pytest.raises(SourceError) as caught:
        load(path)
    # A design with a syntax mistake is not followed: what it includes may be misread.
    assert {Path(d.span.file).name for d in caught.value.diagnostics} == {"heron.ilk"}
    with pytest.raises(SourceError) as caught:
        load(design(project, "bad.ilk", "binary.ilk"))
    assert {Path(d.span.file).name for d in caught.value.diagnostics} == {"bad.ilk", "binary.ilk"}
    assert {Path(name).name for name in caught.value.texts} >= {"bad.ilk", "binary.ilk"}


def test_a_text_includes_nothing() -> None:
    with pytest.raises(SourceError) as caught:
        load_text(ROOT + 'include "kinds/lamp.ilk"\n')
    assert [d.code for d in caught.value.diagnostics] == ["E0202"]


def test_limits_name_their_options(project: Path) -> None:
    path = design(project, "kinds/lamp.ilk")
    with pytest.raises(LimitError, match="--max-bytes"):
        load(path, Limits(max_bytes=20))
    with pytest.raises(LimitError, match="--max-files"):
        load(path, Limits(max_files=1))
    with pytest.raises(LimitError, match="--max-members"):
        load(path, Limits(max_members=1))
    nested = "design x\n" + "".join(
        f"assembly a{n}\n  part inner : a{n + 1}\nend\n" for n in range(9)
    )
    nested += "assembly a9\nend\npart outer : a0\n"
    with pytest.raises(LimitError, match="--max-depth"):
        load_text(nested, limits=Limits(max_depth=5))


@pytest.mark.parametrize(
    "statement",
    [
        "part lamp[1..999999999] : lamp",
        "place tank[1..30000, 1..30000]",
        "line air : tractor, one[1..999999999].in",
        'never "x": high(air) for any i in 1..999999999 where i = i',
        'never "x": every i in 1..999999: every j in 1..999999: high(one[i * j].in)',
    ],
)
def test_nothing_expands_without_bound(statement: str) -> None:
    text = "design x\nsupply tractor\nkind lamp\n  ports in\nend\npart one[1..2] : lamp\n"
    with pytest.raises((LimitError, SourceError)):
        load_text(text + statement + "\n")
