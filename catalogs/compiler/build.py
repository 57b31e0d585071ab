"""From the packages to the shipped files, in memory; writing them is the last step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd

from catalogs.compiler import designations, manifest, sources, writing
from catalogs.compiler.cluster_members import member_magnitudes, star_field
from catalogs.compiler.colours import read_colours
from catalogs.compiler.deepsky import deepsky_table
from catalogs.compiler.deepsky_typed import read_deepsky_typed
from catalogs.compiler.doubles import DECIMALS, Typed, doubles_table
from catalogs.compiler.moon_relief import read_relief
from catalogs.compiler.nebulae import (
    read_nebulae,
    read_planetaries,
    with_bright_parts,
    with_planetaries,
)
from catalogs.compiler.readme import readme_text
from catalogs.compiler.sphere import moved
from catalogs.compiler.stars import YEARS, star_list
from catalogs.compiler.typed import read_typed, read_typed_nothing

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from numpy.typing import NDArray


@dataclass(frozen=True, slots=True)
class Inputs:
    """All that is read: the sources and the hand tables, None where there is none yet."""

    gaia: pd.DataFrame
    hipparcos: pd.DataFrame
    opengc: pd.DataFrame
    starnames: dict[str, dict[str, str]]
    typed_pairs: pd.DataFrame | None = None
    typed_colours: pd.DataFrame | None = None
    typed_names: pd.DataFrame | None = None
    typed_deepsky: pd.DataFrame | None = None
    typed_planetaries: pd.DataFrame | None = None
    typed_nebulae: pd.DataFrame | None = None
    typed_stars: pd.DataFrame | None = None
    red_stars: pd.DataFrame | None = None
    star_numbers: pd.DataFrame | None = None
    moon: dict[str, NDArray[np.uint8]] | None = None
    digests: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Built:
    """The files by name, and what the hand tables hold that found no place."""

    files: dict[str, bytes]
    warnings: tuple[str, ...]


def read_inputs(folder: Path, starnames: Path, moon: Path) -> Inputs:
    """The sources from the installed packages and the archives, the hand tables from ``folder``."""
    digests, typed = [], {}
    for name, (field, read) in HAND_TABLES.items():
        path = folder / name
        if path.exists():
            typed[field] = read(path)
            digests.append((name, writing.sha256(path.read_bytes())))
    return Inputs(
        gaia=sources.read_gaia(),
        hipparcos=sources.read_hipparcos(),
        opengc=sources.read_opengc(),
        starnames=sources.read_starnames(starnames),
        moon=read_relief(moon),
        digests=tuple(digests),
        **typed,
    )


def _read_names(path: Path) -> pd.DataFrame:
    return pd.read_csv(path, dtype=str, keep_default_na=False, comment="#")


HAND_TABLES: dict[str, tuple[str, Callable[[Path], pd.DataFrame]]] = {  # file: field, reader
    "pairs_typed.csv": ("typed_pairs", read_typed),
    "colours_typed.csv": ("typed_colours", read_colours),
    "deepsky_names_typed.csv": ("typed_names", _read_names),
    "deepsky_typed.csv": ("typed_deepsky", read_deepsky_typed),
    "planetaries_typed.csv": ("typed_planetaries", read_planetaries),
    "nebulae_typed.csv": ("typed_nebulae", read_nebulae),
    "star_names_typed.csv": ("typed_stars", _read_names),
    "red_stars_typed.csv": ("red_stars", _read_names),
    "star_numbers_typed.csv": ("star_numbers", _read_names),
}


def build(inputs: Inputs) -> Built:
    """All shipped files as bytes: the catalogs, manifest.json and README.md."""
    names = designations.designation_table(
        inputs.starnames,
        _places(inputs.hipparcos),
        inputs.typed_stars,
        inputs.red_stars,
        inputs.star_numbers,
    )
    stars = star_list(inputs.gaia, inputs.hipparcos)
    typed_pairs = read_typed_nothing() if inputs.typed_pairs is None else inputs.typed_pairs
    by_hand = Typed(typed_pairs, inputs.typed_colours)
    pairs, stars, told = doubles_table(
        stars, inputs.hipparcos, by_hand, designations.short_names(names)
    )
    arrays = writing.star_arrays(stars)
    deepsky, lost = _deepsky(inputs, arrays)
    told += lost
    contents = {
        "stars.npz": (writing.npz_bytes(arrays), len(arrays["ra"])),
        "designations.csv.gz": (writing.csv_bytes(names), len(names)),
        "pairs.csv.gz": (writing.csv_bytes(pairs, DECIMALS), len(pairs)),
        "deepsky.csv.gz": (writing.csv_bytes(deepsky), len(deepsky)),
    }
    if inputs.moon is not None:
        relief = writing.npz_bytes(inputs.moon)
        contents["moon_relief.npz"] = (relief, len(inputs.moon["brightness"]))
    digests = dict(inputs.digests)
    entries = []
    used_files = [compiled for compiled in manifest.COMPILED if compiled.file in contents]
    for compiled in used_files:
        content, rows = contents[compiled.file]
        used = {name: digests[name] for name in compiled.inputs if name in digests}
        entries.append(manifest.entry(compiled, rows, writing.sha256(content), used))
    files = {name: content for name, (content, _) in contents.items()}
    files["manifest.json"] = manifest.manifest_text(entries).encode()
    files["README.md"] = readme_text(entries).encode()
    return Built(files, tuple(told))


def _deepsky(inputs: Inputs, arrays: dict[str, NDArray[Any]]) -> tuple[pd.DataFrame, list[str]]:
    """The deep-sky objects with all hand tables worked in, and what found no object."""
    table, lost = deepsky_table(inputs.opengc, inputs.typed_names, inputs.typed_deepsky)
    told = [f"deepsky_typed.csv: {text}" for text in lost]
    lost = with_planetaries(table, inputs.typed_planetaries)
    told += [f"planetaries_typed.csv: {text}" for text in lost]
    table["member_v_mag"] = member_magnitudes(table, star_field(arrays))
    table, lost = with_bright_parts(table, inputs.typed_nebulae)
    return table, told + [f"nebulae_typed.csv: {text}" for text in lost]


def _places(hipparcos: pd.DataFrame) -> dict[int, tuple[float, float]]:
    """(ra_deg, dec_deg) at 2016.0 by HIP number."""
    ra, dec = moved(hipparcos, YEARS)
    numbers = hipparcos["hip"].tolist()
    return {int(h): (float(a), float(d)) for h, a, d in zip(numbers, ra, dec, strict=True)}
