"""The catalogs' sources as a table and as rows."""

from __future__ import annotations

import textwrap
from typing import TYPE_CHECKING, Any

from tabulate import tabulate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.targets.catalog import Source

FIELDS = ("name", "file", "rows", "epoch", "licence", "source", "edition")
WIDTHS = {"name": 20, "licence": 18, "source": 26, "edition": 16}


def catalog_rows(entries: Sequence[Source]) -> list[dict[str, Any]]:
    """One flat dict a catalog, with the same keys in the same order."""
    return [{field: getattr(entry, field) for field in FIELDS} for entry in entries]


def catalog_text(entries: Sequence[Source]) -> str:
    """A table of at most 100 columns."""
    rows = [
        [
            _wrapped(entry, "name"),
            entry.rows,
            _wrapped(entry, "source"),
            _wrapped(entry, "edition"),
            _wrapped(entry, "licence"),
        ]
        for entry in entries
    ]
    return str(
        tabulate(
            rows,
            headers=["catalog", "rows", "source", "edition", "licence"],
            colalign=("left", "right", "left", "left", "left"),
            disable_numparse=True,
        )
    )


def _wrapped(entry: Source, field: str) -> str:
    return "\n".join(textwrap.wrap(str(getattr(entry, field)), WIDTHS[field]))
