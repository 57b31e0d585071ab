"""A file appears whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest

from planner import files


def test_write_whole_replaces_a_file_and_leaves_nothing_else(tmp_path: Path) -> None:
    path = tmp_path / "a.txt"
    path.write_bytes(b"old")
    files.write_whole(path, b"new")
    assert path.read_bytes() == b"new"
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("step", ["replace", "fsync"])
def test_write_whole_keeps_the_old_file_on_any_error_and_names_it(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "a.txt"
    path.write_bytes(b"old")

    def fails(*_: object) -> None:
        raise OSError(28, "No space left on device", "something.part")

    monkeypatch.setattr(files.os, step, fails)
    with pytest.raises(OSError, match="No space left") as caught:
        files.write_whole(path, b"new")
    assert caught.value.filename == str(path)
    assert path.read_bytes() == b"old"
    assert list(tmp_path.iterdir()) == [path]


def test_sweep_parts_removes_parts_of_the_prefix_only(tmp_path: Path) -> None:
    for name in ("split-1.npz.ab.part", "other.part", "split-1.npz"):
        (tmp_path / name).write_bytes(b"x")
    files.sweep_parts(tmp_path, "split-")
    assert sorted(path.name for path in tmp_path.iterdir()) == ["other.part", "split-1.npz"]
