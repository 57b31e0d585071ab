"""The door to the catalog files: bytes and columns of text, without heavy imports."""

from __future__ import annotations

import csv
import gzip
import zlib
from importlib.resources import files
from typing import TYPE_CHECKING

from planner.errors import CatalogError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

PACKAGE = "planner.catalogs"
PAIRS_FILE = "pairs.csv.gz"
ORBITS_FILE = "orbits_typed.csv"
DEEPSKY_FILE = "deepsky.csv.gz"
DESIGNATIONS_FILE = "designations.csv.gz"
STARS_FILE = "stars.npz"
STANDING_FILE = "standing_typed.csv"
STANDING_LISTS_FILE = "standing_lists_typed.csv"
RED_STARS_FILE = "red_stars_typed.csv"
MANIFEST_FILE = "manifest.json"
REMEDY = "reinstall the package"


def damaged(name: str, reason: object) -> CatalogError:
    """The error for a catalog file that cannot be used: names the file and the remedy."""
    return CatalogError(
        f"catalog file {name} is damaged or of another edition ({reason}): {REMEDY}"
    )


def read_bytes(name: str, folder: Path | None = None) -> bytes:
    """The content of a catalog file, unpacked where its name ends in ``.gz``.

    ``folder`` is the package's own unless given. Raises CatalogError for a file that is missing
    or cannot be unpacked.
    """
    raw = read_raw(name, folder)
    if not name.endswith(".gz"):
        return raw
    try:
        return gzip.decompress(raw)
    except (OSError, EOFError, zlib.error) as error:
        raise damaged(name, error) from error


def read_raw(name: str, folder: Path | None = None) -> bytes:
    """The bytes of a catalog file as they lie on the disk. Raises CatalogError if missing."""
    try:
        return ((folder or files(PACKAGE)) / name).read_bytes()
    except (OSError, ModuleNotFoundError) as error:
        raise CatalogError(f"catalog file {name} is missing: {REMEDY}") from error


def read_columns(
    name: str, wanted: Sequence[str], folder: Path | None = None
) -> dict[str, tuple[str, ...]]:
    """The wanted columns of a CSV file with a header line, as texts, in the file's order.

    Lines that begin with ``#`` are comments. Raises CatalogError for a missing file, a missing
    column or a row of another length.
    """
    try:
        lines = read_bytes(name, folder).decode("utf-8").splitlines()
        header, *rows = csv.reader(line for line in lines if not line.startswith("#"))
        columns = dict(zip(header, zip(*rows, strict=True), strict=True)) if rows else {}
    except (UnicodeDecodeError, csv.Error, ValueError) as error:
        raise damaged(name, error) from error
    missing = [column for column in wanted if column not in header]
    if missing:
        raise damaged(name, f"no column {', '.join(missing)}")
    return {column: columns.get(column, ()) for column in wanted}
