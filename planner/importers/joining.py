"""Known tables with those of one import worked in."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import TYPE_CHECKING, Any, TypeVar

import numpy as np

from planner.importers.merging import enriched
from planner.importers.orbit_match import named_by_orbits
from planner.targets.columns import frozen, rows_of

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.targets.orbit import Orbits
    from planner.targets.pairs import Pairs

    Integers = NDArray[np.int64]

Table = TypeVar("Table")
NEW = -1
UNGRADED = 10  # after the worst grade of an orbit


def orbit_keys(orbits: Orbits) -> list[str]:
    """Which pair each orbit belongs to: ``14450+2704 AB``."""
    columns = zip(orbits.wds.tolist(), orbits.components.tolist(), strict=True)
    return [f"{wds} {parts or 'AB'}" for wds, parts in columns]


def with_pairs(base: Pairs, stored: Pairs, merged_into: NDArray[Any]) -> tuple[Pairs, Integers]:
    """The pairs with those of one import, and the row where each of its rows now stands.

    ``merged_into`` (N,) are identifiers of the known pairs that are meant, empty for new ones.
    """
    ids = {identifier: row for row, identifier in enumerate(base.pair_id.tolist())}
    found = [ids.get(known, NEW) if known else NEW for known in merged_into.tolist()]
    row = np.array(found, dtype=np.int64)
    new = row == NEW
    known = row[~new]
    gained, _ = enriched(rows_of(base, known), rows_of(stored, ~new))
    row[new] = len(base) + np.arange(np.sum(new))
    return _appended(_replaced(base, known, gained), rows_of(stored, new)), row


def named_pairs(base: Pairs, orbits: Orbits, gains_from: NDArray[Any]) -> Pairs:
    """The pairs with the identifiers of imported orbits, where these were found by place.

    ``gains_from`` (N,) are identifiers of the pairs that gain, empty for none.
    """
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


def better_of(base: Orbits, own: Orbits) -> Orbits:
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
