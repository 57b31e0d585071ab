"""The cache saves time and never changes an answer."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from filelock import FileLock
from split_telescope import telescope

from planner.optics.figure import Figure
from planner.verdict.pairs import cache as split_cache
from planner.verdict.pairs.cache import cache_name, cached_split_tables

POWERS, PUPILS = (60.0, 150.0), (2.567, 1.027)


@pytest.fixture
def builds(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """A list that grows by one whenever tables are built."""
    made: list[int] = []
    real = split_cache.build_split_tables

    def counted(*arguments: object) -> object:
        made.append(1)
        return real(*arguments)  # type: ignore[arg-type]

    monkeypatch.setattr(split_cache, "build_split_tables", counted)
    return made


def test_a_second_call_reads_the_same_tables(tmp_path: Path, builds: list[int]) -> None:
    first = cached_split_tables(tmp_path / "new", telescope(), POWERS, PUPILS)
    second = cached_split_tables(tmp_path / "new", telescope(), POWERS, PUPILS)
    assert len(builds) == 1
    assert np.array_equal(first.steps, second.steps)
    assert np.array_equal(first.powers, second.powers) and first.instrument == second.instrument


@pytest.mark.parametrize("content", [b"", b"PK\x03\x04 not a zip", b"\x93NUMPY"])
def test_a_damaged_file_is_built_anew(tmp_path: Path, builds: list[int], content: bytes) -> None:
    path = tmp_path / cache_name(telescope(), POWERS, PUPILS)
    path.write_bytes(content)
    cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    assert len(builds) == 1


def test_a_cut_off_file_is_built_anew(tmp_path: Path, builds: list[int]) -> None:
    cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    path = tmp_path / cache_name(telescope(), POWERS, PUPILS)
    path.write_bytes(path.read_bytes()[:-1000])
    cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    assert len(builds) == 2


def test_a_file_of_another_shape_is_built_anew(tmp_path: Path, builds: list[int]) -> None:
    np.savez(tmp_path / cache_name(telescope(), POWERS, PUPILS), steps=np.zeros((2, 2), np.float32))
    tables = cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    assert len(builds) == 1 and tables.steps.ndim == 5


def test_a_place_that_cannot_be_written_gives_the_tables_all_the_same(
    tmp_path: Path, builds: list[int]
) -> None:
    (tmp_path / "file").write_text("in the way")
    tables = cached_split_tables(tmp_path / "file" / "cache", telescope(), POWERS, PUPILS)
    assert len(builds) == 1 and tables.steps.shape[0] == 3


def test_a_failing_disk_gives_the_tables_and_leaves_no_part(
    tmp_path: Path, builds: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    def full(*_: object, **__: object) -> None:
        raise OSError("no space left on device")

    monkeypatch.setattr(split_cache.np, "savez", full)
    cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    assert len(builds) == 1
    assert not list(tmp_path.glob("*.part")) and not list(tmp_path.glob("*.npz"))


def test_a_dead_process_that_holds_the_lock_stops_nobody(
    tmp_path: Path, builds: list[int], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(split_cache, "LOCK_TIMEOUT_S", 0.05)
    with FileLock(tmp_path / "split-tables.lock"):
        tables = cached_split_tables(tmp_path, telescope(), POWERS, PUPILS)
    assert len(builds) == 1 and tables.steps.shape[0] == 3


def test_no_folder_means_no_cache(builds: list[int]) -> None:
    cached_split_tables(None, telescope(), POWERS, PUPILS)
    assert len(builds) == 1


def test_the_name_changes_with_all_that_enters(monkeypatch: pytest.MonkeyPatch) -> None:
    base = telescope()
    others = [
        telescope(clear_aperture_mm=150.0),
        telescope(obstruction_ratio=0.25),
        telescope(age_years=60.0),
        telescope(tilt_followed=0.9),
        replace(base, figure=Figure(0.06)),
        replace(base, figure=Figure(0.055, ((0.0, 0.0), (1.0, 0.1)))),
    ]
    names = {cache_name(i, POWERS, PUPILS) for i in [base, *others]}
    names.add(cache_name(base, (61.0, 150.0), PUPILS))
    names.add(cache_name(base, POWERS, (2.5, 1.0)))
    monkeypatch.setattr(split_cache, "model_digest", lambda: "of another model")
    names.add(cache_name(base, POWERS, PUPILS))
    assert len(names) == len(others) + 4


def test_every_module_behind_the_tables_enters_the_name() -> None:
    """Whatever the builder of the tables imports of this project, directly or not, is hashed."""
    root = Path(split_cache.__file__).parents[2]
    hashed = {
        f"{package}.{name}" for package, names in split_cache._MODEL.items() for name in names
    }
    seen, open_still = set(), {"planner.verdict.pairs.tables"}
    while open_still:
        module = open_still.pop()
        seen.add(module)
        path = root.joinpath(*module.split(".")[1:]).with_suffix(".py")
        found = set(re.findall(r"^from (planner\.[\w.]+) import", path.read_text(), re.MULTILINE))
        open_still |= found - seen
    assert seen - {"planner.errors"} == hashed


def test_old_files_are_forgotten(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(split_cache, "FILES_KEPT", 2)
    for age in (30.0, 40.0, 50.0):
        cached_split_tables(tmp_path, telescope(age_years=age), (60.0,), (2.5,))
    assert len(list(tmp_path.glob("*.npz"))) == 2
