"""Small tables of well-known targets, written as catalog files."""

from __future__ import annotations

import csv
import gzip
import hashlib
import json
from dataclasses import fields
from pathlib import Path
from typing import Any

import numpy as np

from planner.targets.columns import floats, integers, objects
from planner.targets.orbit import Orbits

SAMPLES = Path(__file__).parent / "samples"
STAR_COLUMNS = {
    "ra": np.array([0, 35_999_000, 22_125_000, 18_000_000], dtype=np.uint32),
    "dec": np.array([-8_990_000, -1_000_000, 2_707_000, 8_950_000], dtype=np.int32),
    "v_mmag": np.array([9500, -1460, 2590, 10000], dtype=np.int16),
    "colour_mmag": np.array([500, 0, 1000, -32768], dtype=np.int16),
    "hip": np.array([0, 32349, 72105, 0], dtype=np.int32),
}


def write_catalogs(folder: Path) -> Path:
    """Write the small tables and their manifest as the package holds them; returns the folder."""
    for name in ("pairs", "deepsky", "designations"):
        packed = gzip.compress((SAMPLES / f"{name}.csv").read_bytes(), mtime=0)
        (folder / f"{name}.csv.gz").write_bytes(packed)
    for name in ("orbits_typed.csv", "red_stars_typed.csv"):
        (folder / name).write_bytes((SAMPLES / name).read_bytes())
    np.savez_compressed(folder / "stars.npz", **STAR_COLUMNS)
    entries = [
        {
            "name": path.stem,
            "file": path.name,
            "source": "sample",
            "edition": "1",
            "licence": "MIT",
            "rows": 1,
            "epoch": "2016.0",
            "sha256": hashlib.sha256(path.read_bytes()).hexdigest(),
        }
        for path in sorted(folder.iterdir())
    ]
    (folder / "manifest.json").write_text(json.dumps(entries), encoding="utf-8")
    return folder


def sample_rows(name: str) -> list[dict[str, str]]:
    """The rows of a sample table as dictionaries."""
    lines = (SAMPLES / name).read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(line for line in lines if not line.startswith("#")))


def orbits_of(**elements: Any) -> Orbits:
    """Orbits from the elements that matter, numbers or sequences; the rest is left empty."""
    wanted = {name: np.atleast_1d(np.asarray(value, float)) for name, value in elements.items()}
    count = max(len(value) for value in wanted.values())
    blanks = {
        "Floats": floats(("",) * count),
        "Integers": integers(("",) * count),
        "Texts": objects(("",) * count),
    }
    columns = {field.name: blanks[str(field.type)] for field in fields(Orbits)}
    columns["node_equinox_yr"] = np.full(count, 2000.0)
    return Orbits(**(columns | wanted))
