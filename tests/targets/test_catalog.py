"""Catalog files to tables: what comes out, and what damage says."""

from __future__ import annotations

import gzip
import json
from dataclasses import fields
from typing import TYPE_CHECKING

import numpy as np
import pytest
from target_samples import write_catalogs

from planner.errors import CatalogError
from planner.targets import catalog
from planner.targets.columns import known
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

LOADERS: dict[str, Callable[[Path], object]] = {
    "pairs.csv.gz": catalog.load_pairs,
    "orbits_typed.csv": catalog.load_orbits,
    "deepsky.csv.gz": catalog.load_deepsky,
    "designations.csv.gz": catalog.load_designations,
    "stars.npz": catalog.load_stars,
    "red_stars_typed.csv": catalog.load_red_stars,
    "manifest.json": catalog.manifest,
}
TABLES = ("pairs.csv.gz", "orbits_typed.csv", "deepsky.csv.gz", "stars.npz")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return write_catalogs(tmp_path)


@pytest.mark.parametrize("file", LOADERS)
def test_loading_rejects_a_missing_file(folder: Path, file: str) -> None:
    (folder / file).unlink()
    with pytest.raises(CatalogError, match=f"{file} is missing: reinstall the package"):
        LOADERS[file](folder)


@pytest.mark.parametrize("file", LOADERS)
def test_loading_rejects_a_cut_file(folder: Path, file: str) -> None:
    whole = (folder / file).read_bytes()
    (folder / file).write_bytes(whole[: len(whole) // 2])
    with pytest.raises(CatalogError, match=f"{file} is damaged.*reinstall the package"):
        LOADERS[file](folder)


@pytest.mark.parametrize("file", [file for file in LOADERS if file != "manifest.json"])
def test_loading_rejects_another_file_under_its_name(folder: Path, file: str) -> None:
    other = gzip.compress(b"a,b\n1,2\n") if file.endswith(".gz") else b"a,b\n1,2\n"
    (folder / file).write_bytes(other)
    with pytest.raises(CatalogError, match=f"{file} is damaged or of another edition"):
        LOADERS[file](folder)


def test_loading_rejects_text_where_a_number_belongs(folder: Path) -> None:
    _edited(folder / "deepsky.csv.gz", "250.4235", "16h41m")
    with pytest.raises(CatalogError, match="deepsky.csv.gz is damaged.*16h41m"):
        catalog.load_deepsky(folder)


def test_loading_rejects_an_unknown_kind(folder: Path) -> None:
    _edited(folder / "deepsky.csv.gz", "open-cluster", "quasar")
    with pytest.raises(CatalogError, match="no kind 'quasar'"):
        catalog.load_deepsky(folder)


def test_loading_rejects_stars_out_of_order(folder: Path) -> None:
    with np.load(folder / "stars.npz") as packed:
        columns = {name: packed[name][::-1] for name in packed.files}
    np.savez_compressed(folder / "stars.npz", **columns)
    with pytest.raises(CatalogError, match="stars.npz.*not in order of declination"):
        catalog.load_stars(folder)


@pytest.mark.parametrize("file", TABLES)
def test_loaded_arrays_cannot_be_written(folder: Path, file: str) -> None:
    table = LOADERS[file](folder)
    for field in fields(table):  # type: ignore[arg-type]
        assert not getattr(table, field.name).flags.writeable, field.name


def test_missing_values_are_nan_zero_and_empty(folder: Path) -> None:
    pairs, objects = catalog.load_pairs(folder), catalog.load_deepsky(folder)
    nameless = list(pairs.pair_id).index("j0040000+200000-AB")
    assert np.isnan(pairs.pm_ra_mas_yr[nameless])
    assert (pairs.hip[nameless], pairs.name[nameless]) == (0, "")
    assert np.isnan(objects.v_mag[list(objects.id).index("NGC 281")])
    assert objects.kind[0] is Kind.GLOBULAR_CLUSTER
    assert np.isnan(catalog.load_stars(folder).bv[-1])


def test_stars_come_in_degrees_and_magnitudes(folder: Path) -> None:
    stars = catalog.load_stars(folder)
    assert stars.dec_deg[2] == pytest.approx(27.07)
    assert stars.v_mag[1] == pytest.approx(-1.46)
    assert stars.hip.tolist() == [0, 32349, 72105, 0]


def test_verify_names_the_file_that_differs(folder: Path) -> None:
    catalog.verify(folder)
    _edited(folder / "pairs.csv.gz", "Izar", "Isar")
    with pytest.raises(CatalogError, match="differ from the manifest: pairs.csv.gz: reinstall"):
        catalog.verify(folder)


def test_manifest_rejects_entries_without_a_checksum(folder: Path) -> None:
    entries = json.loads((folder / "manifest.json").read_text("utf-8"))
    del entries[0]["sha256"]
    (folder / "manifest.json").write_text(json.dumps(entries), "utf-8")
    with pytest.raises(CatalogError, match="manifest.json is damaged.*sha256"):
        catalog.manifest(folder)


def test_loading_again_gives_the_same_table(folder: Path) -> None:
    assert catalog.load_pairs(folder) is catalog.load_pairs(folder)


def _edited(path: Path, old: str, new: str) -> None:
    text = gzip.decompress(path.read_bytes()).decode().replace(old, new)
    path.write_bytes(gzip.compress(text.encode(), mtime=0))


def test_a_number_that_is_none_is_no_answer() -> None:
    assert known(float("nan")) is None
    assert known(np.float64(0.0)) == 0.0
