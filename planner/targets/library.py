"""Everything there is to look at among doubles: the package's catalogs and the user's own."""

from __future__ import annotations

from dataclasses import dataclass, fields, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from planner.targets.catalog import (
    load_deepsky,
    load_designations,
    load_orbits,
    load_pairs,
)
from planner.targets.columns import frozen, rows_of
from planner.targets.names import NameIndex, build_index
from planner.targets.orbit import Orbits
from planner.targets.outside.merging import enriched
from planner.targets.outside.orbit_match import named_by_orbits
from planner.targets.outside.outside_names import LabelList, OutsideNames
from planner.targets.outside.shelf import Import, imports, signature
from planner.targets.outside.stored import KEYS, read_table, read_text
from planner.targets.pairs import Pairs

if TYPE_CHECKING:
    from collections.abc import Iterable
    from pathlib import Path

    from numpy.typing import NDArray

    Integers = NDArray[np.int64]

Table = TypeVar("Table")
NEW = -1
UNGRADED = 10  # after the worst grade of an orbit


@dataclass(frozen=True, slots=True, eq=False)
class PairLibrary:
    """All pairs: the package's come first and keep their rows.

    ``rows`` says for each import in which row each of its own rows now stands.
    """

    pairs: Pairs
    shipped: int
    imports: tuple[Import, ...]
    rows: tuple[Integers, ...]


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
    return _all_orbits(folder, signature(folder), shipped)


def load_all_names(folder: Path | None, shipped: Path | None = None) -> NameIndex:
    """The index of all names; its rows of pairs are those of ``load_all_pairs``."""
    return _all_names(folder, signature(folder), shipped)


def joined_pairs(known: Iterable[Import], shipped: Path | None = None) -> PairLibrary:
    """The package's pairs and those of the given imports, in their order.

    Pairs without a WDS identifier gain that of an imported orbit which was found to be theirs.
    """
    base = load_pairs(shipped)
    count, used, rows = len(base), [], []
    for entry in known:
        if entry.about.table == "pairs":
            base, placed = _with_import(base, *read_table(entry.path, Pairs))
            used.append(entry)
            rows.append(placed)
        else:
            base = _with_orbits(base, *read_table(entry.path, Orbits))
    return PairLibrary(base, count, tuple(used), tuple(rows))


def joined_orbits(known: Iterable[Import], shipped: Path | None = None) -> Orbits:
    """The package's orbits and those of the given imports, one for each pair."""
    base = load_orbits(shipped)
    for entry in known:
        if entry.about.table == "orbits":
            base = _better_of(base, read_table(entry.path, Orbits)[0])
    return base


def orbit_keys(orbits: Orbits) -> list[str]:
    """Which pair each orbit belongs to: ``14450+2704 AB``."""
    columns = zip(orbits.wds.tolist(), orbits.components.tolist(), strict=True)
    return [f"{wds} {parts or 'AB'}" for wds, parts in columns]


# One state of the shelf at a time: the signature is part of the key.
@lru_cache(maxsize=1)
def _library(folder: Path | None, state: object, shipped: Path | None) -> PairLibrary:
    return joined_pairs(imports(folder), shipped)


@lru_cache(maxsize=1)
def _all_orbits(folder: Path | None, state: object, shipped: Path | None) -> Orbits:
    return joined_orbits(imports(folder), shipped)


@lru_cache(maxsize=1)
def _all_names(folder: Path | None, state: object, shipped: Path | None) -> NameIndex:
    library = _library(folder, state, shipped)
    first = rows_of(library.pairs, np.arange(library.shipped))
    index = build_index(load_designations(shipped), first, load_deepsky(shipped))
    outside = tuple(
        OutsideNames(read_text(entry.path, KEYS), tuple(rows.tolist()))
        for entry, rows in zip(library.imports, library.rows, strict=True)
    )
    return index.with_outside(outside, LabelList(library.pairs))


def _with_import(base: Pairs, stored: Pairs, merged_into: NDArray[Any]) -> tuple[Pairs, Integers]:
    """The pairs with one import worked in, and the row where each of its rows now stands."""
    ids = {identifier: row for row, identifier in enumerate(base.pair_id.tolist())}
    found = [ids.get(known, NEW) if known else NEW for known in merged_into.tolist()]
    row = np.array(found, dtype=np.int64)
    new = row == NEW
    known = row[~new]
    gained, _ = enriched(rows_of(base, known), rows_of(stored, ~new))
    row[new] = len(base) + np.arange(np.sum(new))
    return _appended(_replaced(base, known, gained), rows_of(stored, new)), row


def _with_orbits(base: Pairs, orbits: Orbits, gains_from: NDArray[Any]) -> Pairs:
    """The pairs with the identifiers of imported orbits, where these were found by place."""
    wanted = np.flatnonzero(gains_from != "")
    if not len(wanted):
        return base
    ids = {identifier: row for row, identifier in enumerate(base.pair_id.tolist())}
    found = [ids.get(identifier, NEW) for identifier in gains_from[wanted].tolist()]
    row = np.array(found, dtype=np.int64)
    return named_by_orbits(base, row[row != NEW], rows_of(orbits, wanted[row != NEW]))


def _replaced(base: Pairs, rows: Integers, better: Pairs) -> Pairs:
    """The table with other content in some rows."""
    columns = {}
    for field in fields(base):
        column = getattr(base, field.name).copy()
        column[rows] = getattr(better, field.name)
        columns[field.name] = frozen(column)
    return replace(base, **columns)


def _appended(first: Table, second: Table) -> Table:
    """Two tables one after the other."""
    names = [field.name for field in fields(first)]  # type: ignore[arg-type]
    columns = {n: frozen(np.concatenate([getattr(first, n), getattr(second, n)])) for n in names}
    return type(first)(**columns)


def _better_of(base: Orbits, own: Orbits) -> Orbits:
    """The imported orbits first, then those of other pairs; where both have one, the better."""
    place = {key: row for row, key in enumerate(orbit_keys(base))}
    keys = orbit_keys(own)
    grades = np.where(base.grade > 0, base.grade, UNGRADED).tolist()
    mine = np.where(own.grade > 0, own.grade, UNGRADED).tolist()
    used = np.array(
        [key not in place or mine[row] <= grades[place[key]] for row, key in enumerate(keys)],
        dtype=bool,
    )
    taken = {key for key, use in zip(keys, used.tolist(), strict=True) if use}
    kept = np.array([key not in taken for key in place], dtype=bool)
    return _appended(rows_of(own, used), rows_of(base, kept))
