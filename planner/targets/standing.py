"""The standing of a target: in which published best-of lists it is found."""

from __future__ import annotations

import re
from dataclasses import dataclass
from functools import cache
from types import MappingProxyType
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.catalog import load_deepsky
from planner.targets.columns import frozen
from planner.targets.files import (
    STANDING_FILE,
    STANDING_LISTS_FILE,
    damaged,
    read_columns,
)

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Mapping
    from pathlib import Path

    from numpy.typing import NDArray

    Integers = NDArray[np.int64]


@dataclass(frozen=True, slots=True)
class BestList:
    """One published list of objects worth a look.

    ``entries`` is how many the list has in print, 0 where that is not known; ``number_prefix``
    says how an object's number in the list begins where the deep-sky catalog names it (``M``),
    and is empty where the members were typed; ``status`` how complete they are.
    """

    key: str
    title: str
    author: str
    year: int
    entries: int
    number_prefix: str
    status: str


@cache
def load_best_lists(folder: Path | None = None) -> tuple[BestList, ...]:
    """Every best-of list there is, in the file's order.

    ``folder`` is the package's own catalogs unless given. Raises CatalogError.
    """
    names = ("list", "title", "author", "year", "entries", "number_prefix", "status")
    columns = read_columns(STANDING_LISTS_FILE, names, folder)
    try:
        return tuple(
            BestList(key, title, author, int(year), int(entries or 0), prefix, status)
            for key, title, author, year, entries, prefix, status in zip(
                *columns.values(), strict=True
            )
        )
    except ValueError as error:
        raise damaged(STANDING_LISTS_FILE, error) from error


def best_lists_of(
    ids: Iterable[str], folder: Path | None = None
) -> tuple[tuple[BestList, ...], ...]:
    """For each target the lists it stands in; empty for a target in none, or an unknown one.

    ``ids`` are those of the shipped catalogs: ``id`` of deep-sky objects (``NGC 6205``),
    ``pair_id`` of doubles (``hip95947-AB``). All pairs of a multiple star that a list means as one
    have the standing of the star. Raises CatalogError. Limits: some lists were typed in part only,
    see their ``status``; the lists of north and south are not equally many.
    """
    standing = _standing(folder)
    return tuple(standing.get(identifier, ()) for identifier in ids)


def best_list_counts(ids: Iterable[str], folder: Path | None = None) -> Integers:
    """For each target the number of best-of lists it stands in, from 0.

    Arguments, errors and limits as for ``best_lists_of``.
    """
    found = best_lists_of(ids, folder)
    return frozen(np.array([len(lists) for lists in found], dtype=np.int64))


def finest_ids(least_lists: int, folder: Path | None = None) -> tuple[str, ...]:
    """Ids of the targets that stand in so many best-of lists or more, sorted.

    Errors and limits as for ``best_lists_of``.
    """
    known = _standing(folder)
    return tuple(sorted(name for name, lists in known.items() if len(lists) >= least_lists))


def members_of(key: str, folder: Path | None = None) -> tuple[str, ...]:
    """Ids of the targets that stand in the list of that key, sorted; limits as above."""
    known = _standing(folder)
    return tuple(sorted(name for name, lists in known.items() if key in {x.key for x in lists}))


@cache
def _standing(folder: Path | None) -> Mapping[str, tuple[BestList, ...]]:
    """The lists of every target that stands in any, in the order of the lists."""
    lists = {entry.key: entry for entry in load_best_lists(folder)}
    prefixes = {entry.number_prefix: entry.key for entry in lists.values() if entry.number_prefix}
    keys: dict[str, set[str]] = {}
    for identifier, key in (*_numbered(prefixes, folder), *_typed(folder)):
        keys.setdefault(identifier, set()).add(key)
    unknown = set().union(*keys.values()) - lists.keys()
    if unknown:
        raise damaged(STANDING_FILE, f"no list {', '.join(sorted(unknown))}")
    return MappingProxyType(
        {
            identifier: tuple(lists[key] for key in lists if key in own)
            for identifier, own in keys.items()
        }
    )


def _numbered(prefixes: Mapping[str, str], folder: Path | None) -> Iterator[tuple[str, str]]:
    """Objects that the deep-sky catalog itself names by their number in a list, and the list."""
    objects = load_deepsky(folder)
    number = re.compile(rf"(?:^|\|)({'|'.join(map(re.escape, prefixes))}) \d+(?=\||$)")
    for identifier, names in zip(objects.id, objects.names, strict=True):
        for prefix in number.findall(f"{identifier}|{names}"):
            yield identifier, prefixes[prefix]


def _typed(folder: Path | None) -> Iterator[tuple[str, str]]:
    """Objects typed by hand, and the list of each."""
    columns = read_columns(STANDING_FILE, ("id", "list"), folder)
    return zip(columns["id"], columns["list"], strict=True)
