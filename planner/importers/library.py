"""Everything there is to look at among doubles: the package's catalogs and the user's own."""

from __future__ import annotations

from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from planner.importers.derived import Derived, first_key, next_key, read_derived, write_derived
from planner.importers.store import Import, imports, signature
from planner.targets.catalog import load_deepsky, load_designations, load_orbits, load_pairs
from planner.targets.columns import rows_of
from planner.targets.orbit import Orbits
from planner.targets.pairs import Pairs

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from numpy.typing import NDArray

    from planner.targets.names import NameIndex

    Integers = NDArray[np.int64]


@dataclass(frozen=True, slots=True, eq=False)
class Library:
    """All pairs and orbits: the package's pairs come first and keep their rows.

    ``shipped`` is their number. ``keys`` holds for each import of pairs its search keys and the
    row in which each of its own rows now stands. ``key`` is that of the last table, see
    ``next_key``.
    """

    pairs: Pairs
    orbits: Orbits
    shipped: int
    keys: tuple[tuple[str, Integers], ...]
    key: str


def load_all_pairs(folder: Path | None, shipped: Path | None = None) -> Pairs:
    """Every double star: the package's, enriched by the imports in ``folder``, then the others.

    ``folder`` is the user's folder of imports, None for none; ``shipped`` the package's own
    catalogs unless given. Raises CatalogError for a damaged file.
    """
    return _library(folder, signature(folder), shipped).pairs


def load_all_orbits(folder: Path | None, shipped: Path | None = None) -> Orbits:
    """Every visual-binary orbit, one for each pair; arguments as for ``load_all_pairs``.

    An imported orbit stands for an earlier one of its pair unless its grade is worse.
    """
    return _library(folder, signature(folder), shipped).orbits


def load_all_names(folder: Path | None, shipped: Path | None = None) -> NameIndex:
    """The index of all names; its rows of pairs are those of ``load_all_pairs``."""
    return _all_names(folder, signature(folder), shipped)


def joined(known: Iterable[Import], shipped: Path | None = None) -> Library:
    """The package's pairs and orbits and those of the given imports, in their order.

    Tables that are not kept are made from the kept files, and kept. Pairs without a WDS
    identifier gain that of an imported orbit which was found to be theirs. Raises CatalogError.
    """
    pairs, orbits = load_pairs(shipped), load_orbits(shipped)
    count, key, keys = len(pairs), first_key(shipped), []
    for entry in known:
        from planner.importers.joining import better_of, named_pairs, with_pairs

        key = next_key(key, entry.about)
        found = _table(entry, key, (pairs, orbits, shipped))
        if entry.about.table == "pairs":
            pairs, placed = with_pairs(pairs, found.table, found.merged_into)
            keys.append((found.keys, placed))
        else:
            pairs = named_pairs(pairs, found.table, found.merged_into)
            orbits = better_of(orbits, found.table)
    return Library(pairs, orbits, count, tuple(keys), key)


def _table(entry: Import, key: str, known: tuple[Pairs, Orbits, Path | None]) -> Derived:
    """The table of an import: the kept one, or made anew and kept."""
    kept = read_derived(entry.table, key, Pairs if entry.about.table == "pairs" else Orbits)
    if kept is not None:
        return kept
    from planner.importers.deriving import made_anew  # a tenth of a second that few nights need

    made = made_anew(entry, *known)
    with suppress(OSError):
        write_derived(entry.table, key, made)
    return made


# One state of the store at a time: the signature is part of the key.
@lru_cache(maxsize=1)
def _library(folder: Path | None, state: object, shipped: Path | None) -> Library:
    return joined(imports(folder), shipped)


@lru_cache(maxsize=1)
def _all_names(folder: Path | None, state: object, shipped: Path | None) -> NameIndex:
    from planner.importers.imported_names import ImportedNames, LabelList
    from planner.targets.names import build_index

    library = _library(folder, state, shipped)
    first = rows_of(library.pairs, np.arange(library.shipped))
    index = build_index(load_designations(shipped), first, load_deepsky(shipped))
    added = [ImportedNames(keys, tuple(rows.tolist())) for keys, rows in library.keys]
    return index.with_added(added, LabelList(library.pairs))
