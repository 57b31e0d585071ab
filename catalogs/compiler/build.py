"""From the packages to the shipped files, in memory; writing them is the last step."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import pandas as pd

from catalogs.compiler import designations, manifest, sources, writing
from catalogs.compiler.cluster_members import member_magnitudes, star_field
from catalogs.compiler.colours import read_colours
from catalogs.compiler.deepsky import deepsky_table
from catalogs.compiler.deepsky_typed import read_deepsky_typed
from catalogs.compiler.doubles import DECIMALS, Typed, doubles_table
from catalogs.compiler.readme import readme_text
from catalogs.compiler.sphere import moved
from catalogs.compiler.stars import YEARS, star_list
from catalogs.compiler.typed import read_typed, read_typed_nothing

if TYPE_CHECKING:
    from pathlib import Path


@dataclass(frozen=True, slots=True)
class Inputs:
    """All that is read: the four sources and the hand tables (None where there is none yet)."""

    gaia: pd.DataFrame
    hipparcos: pd.DataFrame
    opengc: pd.DataFrame
    starnames: dict[str, dict[str, str]]
    typed_pairs: pd.DataFrame | None = None
    typed_colours: pd.DataFrame | None = None
    typed_names: pd.DataFrame | None = None
    typed_deepsky: pd.DataFrame | None = None
    digests: tuple[tuple[str, str], ...] = ()


@dataclass(frozen=True, slots=True)
class Built:
    """The files by name, and what the hand tables hold that found no place."""

    files: dict[str, bytes]
    warnings: tuple[str, ...]


def read_inputs(folder: Path, starnames: Path) -> Inputs:
    """The sources from the installed packages and the tarball, the hand tables from ``folder``."""
    pairs, names = folder / "pairs_typed.csv", folder / "deepsky_names_typed.csv"
    deepsky, colours = folder / "deepsky_typed.csv", folder / "colours_typed.csv"
    found = [path for path in (pairs, colours, names, deepsky) if path.exists()]
    digests = tuple((path.name, writing.sha256(path.read_bytes())) for path in found)
    return Inputs(
        gaia=sources.read_gaia(),
        hipparcos=sources.read_hipparcos(),
        opengc=sources.read_opengc(),
        starnames=sources.read_starnames(starnames),
        typed_pairs=read_typed(pairs) if pairs.exists() else None,
        typed_colours=read_colours(colours) if colours.exists() else None,
        typed_names=_read_names(names) if names.exists() else None,
        typed_deepsky=read_deepsky_typed(deepsky) if deepsky.exists() else None,
        digests=digests,
    )


def _read_names(path: Path) -> pd.DataFrame:
    return pd.read_csv(path, dtype=str, keep_default_na=False, comment="#")


def build(inputs: Inputs) -> Built:
    """All shipped files as bytes: the four catalogs, manifest.json and README.md."""
    names = designations.designation_table(inputs.starnames, _places(inputs.hipparcos))
    stars = star_list(inputs.gaia, inputs.hipparcos)
    typed_pairs = read_typed_nothing() if inputs.typed_pairs is None else inputs.typed_pairs
    by_hand = Typed(typed_pairs, inputs.typed_colours)
    pairs, stars, told = doubles_table(
        stars, inputs.hipparcos, by_hand, designations.short_names(names)
    )
    deepsky, lost = deepsky_table(inputs.opengc, inputs.typed_names, inputs.typed_deepsky)
    told += [f"deepsky_typed.csv: {text}" for text in lost]
    arrays = writing.star_arrays(stars)
    deepsky["member_v_mag"] = member_magnitudes(deepsky, star_field(arrays))
    contents = {
        "stars.npz": (writing.npz_bytes(arrays), len(arrays["ra"])),
        "designations.csv.gz": (writing.csv_bytes(names), len(names)),
        "pairs.csv.gz": (writing.csv_bytes(pairs, DECIMALS), len(pairs)),
        "deepsky.csv.gz": (writing.csv_bytes(deepsky), len(deepsky)),
    }
    digests = dict(inputs.digests)
    entries = []
    for compiled in manifest.COMPILED:
        content, rows = contents[compiled.file]
        used = {name: digests[name] for name in compiled.inputs if name in digests}
        entries.append(manifest.entry(compiled, rows, writing.sha256(content), used))
    files = {name: content for name, (content, _) in contents.items()}
    files["manifest.json"] = manifest.manifest_text(entries).encode()
    files["README.md"] = readme_text(entries).encode()
    return Built(files, tuple(told))


def _places(hipparcos: pd.DataFrame) -> dict[int, tuple[float, float]]:
    """(ra_deg, dec_deg) at 2016.0 by HIP number."""
    ra, dec = moved(hipparcos, YEARS)
    numbers = hipparcos["hip"].tolist()
    return {int(h): (float(a), float(d)) for h, a, d in zip(numbers, ra, dec, strict=True)}
