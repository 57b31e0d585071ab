"""The manifest, the README and the files say the same."""

import csv
import gzip
import hashlib
import json
import re
from pathlib import Path

import numpy as np
import pytest

CATALOGS = Path(__file__).resolve().parents[2] / "catalogs"
MANIFEST = json.loads((CATALOGS / "manifest.json").read_text(encoding="utf-8"))
FILES = [entry["file"] for entry in MANIFEST]
# Licences as the packages state them (their metadata, read when this was written).
LICENCES = {
    "stars": "CC BY-SA 3.0 IGO",
    "pairs": "CC BY-SA 3.0 IGO",
    "designations": "BSD-3-Clause",
    "deepsky": "CC BY-SA 4.0",
    "moon": "public domain",
}
LARGEST_BYTES = {"stars.npz": 5_500_000}  # what a wheel can carry; chosen here
OTHERS_LARGEST_BYTES = 1_000_000


def _rows(file: str) -> int:
    if file.endswith(".npz"):
        with np.load(CATALOGS / file) as arrays:
            return len(arrays["ra" if "ra" in arrays else "brightness"])
    with gzip.open(CATALOGS / file, "rt", encoding="utf-8", newline="") as handle:
        return sum(1 for _ in csv.DictReader(handle))


def test_manifest_lists_the_compiled_files() -> None:
    tables = ["designations.csv.gz", "pairs.csv.gz", "deepsky.csv.gz"]
    assert ["stars.npz", *tables, "moon_relief.npz"] == FILES


@pytest.mark.parametrize("entry", MANIFEST, ids=FILES)
def test_manifest_rows_and_digest_are_those_of_the_file(entry: dict) -> None:
    content = (CATALOGS / entry["file"]).read_bytes()
    assert hashlib.sha256(content).hexdigest() == entry["sha256"]
    assert _rows(entry["file"]) == entry["rows"]
    assert len(content) < LARGEST_BYTES.get(entry["file"], OTHERS_LARGEST_BYTES)


@pytest.mark.parametrize("entry", MANIFEST, ids=FILES)
def test_manifest_names_the_licence_the_package_states(entry: dict) -> None:
    assert LICENCES[entry["name"]] in entry["licence"]
    assert entry["edition"]
    assert entry["source"]


@pytest.mark.parametrize("entry", MANIFEST, ids=FILES)
def test_compiled_file_is_newer_than_the_hand_table_it_holds(entry: dict) -> None:
    for name, digest in entry["inputs"].items():
        found = hashlib.sha256((CATALOGS / name).read_bytes()).hexdigest()
        assert found == digest, f"{name} has changed: rebuild the catalogs (see README.md)"


def test_readme_gives_rows_licence_and_epoch_of_every_file() -> None:
    text = (CATALOGS / "README.md").read_text(encoding="utf-8")
    for entry in MANIFEST:
        start = text.index(f"## {entry['file']}")
        section = re.split(r"\n## ", text[start + 3 :])[0]
        assert f"{entry['rows']} rows" in section
        assert f"Epoch: {entry['epoch']}" in section
        assert entry["licence"] in section
        assert entry["edition"] in section


def test_readme_names_every_column_of_the_tables() -> None:
    text = (CATALOGS / "README.md").read_text(encoding="utf-8")
    for file in FILES[1:-1]:
        with gzip.open(CATALOGS / file, "rt", encoding="utf-8") as handle:
            columns = handle.readline().strip().split(",")
        start = text.index(f"## {file}")
        section = re.split(r"\n## ", text[start + 3 :])[0]
        named = set(re.findall(r"[a-z0-9_]+", " ".join(re.findall(r"\| `([^`]*)`", section))))
        assert named == set(columns)
