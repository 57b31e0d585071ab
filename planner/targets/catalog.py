"""The door to the catalogs: compiled files to tables of read-only arrays."""

from __future__ import annotations

import hashlib
import io
import json
import zipfile
from dataclasses import dataclass, fields
from functools import cache
from typing import TYPE_CHECKING, Any

import numpy as np

from planner.constants import GAIA_DR3_YEAR
from planner.errors import CatalogError
from planner.targets.columns import floats, frozen, integers, objects
from planner.targets.deepsky import DeepSky
from planner.targets.files import (
    DEEPSKY_FILE,
    DESIGNATIONS_FILE,
    MANIFEST_FILE,
    ORBITS_FILE,
    PAIRS_FILE,
    RED_STARS_FILE,
    REMEDY,
    STARS_FILE,
    damaged,
    read_bytes,
    read_columns,
    read_raw,
)
from planner.targets.kind import Kind
from planner.targets.name_sources import Designations
from planner.targets.orbit import Orbits
from planner.targets.pairs import NO_ORBIT, Pairs, short_source
from planner.targets.red_stars import RedStars
from planner.targets.stars import StarField

if TYPE_CHECKING:
    from collections.abc import Mapping
    from pathlib import Path

    from numpy.typing import NDArray

ANGLE_UNIT_DEG = 1e-5  # stars.npz holds whole numbers of this unit
MAGNITUDE_UNIT = 1e-3  # and of this
NO_COLOUR = -32768  # what it holds where B-V is not known


@dataclass(frozen=True, slots=True)
class Source:
    """Where one catalog file comes from, as ``manifest.json`` states it."""

    name: str
    file: str
    source: str
    edition: str
    licence: str
    rows: int
    epoch: str
    sha256: str


@cache
def load_pairs(folder: Path | None = None) -> Pairs:
    """Every double star of the catalog, in the file's order.

    ``folder`` is the package's own unless given. Raises CatalogError.
    """
    derived = {"position_epoch_yr", "measure_epoch_yr", "measure_source", "orbit_row"}
    names = [field.name for field in fields(Pairs) if field.name not in derived]
    columns = _columns(PAIRS_FILE, Pairs, read_columns(PAIRS_FILE, names, folder))
    epoch = np.full(len(columns["ra_deg"]), GAIA_DR3_YEAR)
    return Pairs(
        **columns,
        position_epoch_yr=frozen(epoch),
        measure_epoch_yr=columns["epoch_yr"],
        measure_source=objects(tuple(short_source(text) for text in columns["source"])),
        orbit_row=frozen(np.full(len(epoch), NO_ORBIT)),
    )


@cache
def load_orbits(folder: Path | None = None) -> Orbits:
    """The typed elements of visual-binary orbits. Raises CatalogError."""
    texts = read_columns(ORBITS_FILE, [field.name for field in fields(Orbits)], folder)
    return Orbits(**_columns(ORBITS_FILE, Orbits, texts))


@cache
def load_deepsky(folder: Path | None = None) -> DeepSky:
    """Every deep-sky object of the catalog, in the file's order. Raises CatalogError."""
    texts = read_columns(DEEPSKY_FILE, [field.name for field in fields(DeepSky)], folder)
    columns = _columns(DEEPSKY_FILE, DeepSky, texts)
    kinds = {kind.value: kind for kind in Kind} | {"asterism": Kind.OPEN_CLUSTER}
    try:
        columns["kind"] = objects(tuple(kinds[text] for text in texts["kind"]))
    except KeyError as error:
        raise damaged(DEEPSKY_FILE, f"no kind {error}") from error
    return DeepSky(**columns)


@cache
def load_stars(folder: Path | None = None) -> StarField:
    """The field stars, in order of declination. Raises CatalogError."""
    content = read_bytes(STARS_FILE, folder)
    try:
        with np.load(io.BytesIO(content), allow_pickle=False) as packed:
            dec = packed["dec"] * ANGLE_UNIT_DEG
            stars = StarField(
                ra_deg=frozen(packed["ra"] * ANGLE_UNIT_DEG),
                dec_deg=frozen(dec),
                v_mag=frozen(packed["v_mmag"] * MAGNITUDE_UNIT),
                bv=frozen(_colours(packed["colour_mmag"])),
                hip=frozen(packed["hip"].astype(np.int64)),
            )
    except (OSError, EOFError, KeyError, ValueError, zipfile.BadZipFile) as error:
        raise damaged(STARS_FILE, error) from error
    if np.any(np.diff(dec) < 0.0):
        raise damaged(STARS_FILE, "stars are not in order of declination")
    return stars


@cache
def load_red_stars(folder: Path | None = None) -> RedStars:
    """The typed red stars, in order of right ascension. Raises CatalogError."""
    texts = read_columns(RED_STARS_FILE, [field.name for field in fields(RedStars)], folder)
    return RedStars(**_columns(RED_STARS_FILE, RedStars, texts))


def load_designations(folder: Path | None = None) -> Designations:
    """Letters, numbers and proper names of bright stars. Raises CatalogError."""
    names = [field.name for field in fields(Designations)]
    texts = read_columns(DESIGNATIONS_FILE, names, folder)
    try:
        hip = tuple(int(text or 0) for text in texts.pop("hip"))
    except ValueError as error:
        raise damaged(DESIGNATIONS_FILE, error) from error
    return Designations(hip=hip, **texts)


def manifest(folder: Path | None = None) -> tuple[Source, ...]:
    """Source, edition, licence and checksum of each catalog file. Raises CatalogError."""
    content = read_raw(MANIFEST_FILE, folder)
    names = [field.name for field in fields(Source)]
    try:
        return tuple(
            Source(**{name: entry[name] for name in names}) for entry in json.loads(content)
        )
    except (ValueError, KeyError, TypeError) as error:
        raise damaged(MANIFEST_FILE, error) from error


def verify(folder: Path | None = None) -> None:
    """Check every file against the checksum in the manifest.

    Raises CatalogError that names each file which differs. Loading does not check: it would
    cost as much time as the loading itself.
    """
    wrong = [
        entry.file
        for entry in manifest(folder)
        if hashlib.sha256(read_raw(entry.file, folder)).hexdigest() != entry.sha256
    ]
    if wrong:
        raise CatalogError(f"catalog files differ from the manifest: {', '.join(wrong)}: {REMEDY}")


def _colours(packed: NDArray[Any]) -> NDArray[np.float64]:
    return np.where(packed == NO_COLOUR, np.nan, packed * MAGNITUDE_UNIT)


def _columns(
    file: str, table: type[Any], texts: Mapping[str, tuple[str, ...]]
) -> dict[str, NDArray[Any]]:
    """The columns of a table as arrays of the kind its fields are annotated with."""
    readers = {"Floats": floats, "Integers": integers, "Texts": objects}
    reader = {field.name: readers[str(field.type)] for field in fields(table)}
    try:
        return {name: reader[name](column) for name, column in texts.items()}
    except ValueError as error:
        raise damaged(file, error) from error
