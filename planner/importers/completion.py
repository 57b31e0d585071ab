"""The names of the user's own catalogs that a shell completes, without numerical packages."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from planner.errors import CatalogError
from planner.importers.derived import first_key, next_key, read_names
from planner.importers.store import imports

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path


def own_names(folder: Path | None, shipped: Path | None = None) -> Iterator[str]:
    """The names of the imports in a folder; ``shipped`` as for ``load_all_pairs``.

    Limit: a damaged import goes without, and so does one whose table is to be made anew; the
    next list makes it.
    """
    with suppress(CatalogError):
        key = first_key(shipped)
        for entry in imports(folder):
            key = next_key(key, entry.about)
            yield from (read_names(entry.table, key) or "").split("\n")
