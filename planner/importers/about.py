"""What one import is, as it stands beside the kept file."""

from __future__ import annotations

import json
from dataclasses import asdict, dataclass, fields
from typing import TYPE_CHECKING

from planner.errors import CatalogError

if TYPE_CHECKING:
    from pathlib import Path

FORMAT = "planner-import-kept/1"
REMEDY = "remove it with: planner catalog undo"
TABLES = ("pairs", "orbits")
LAYOUTS = ("wds", "orbits", "table")


@dataclass(frozen=True, slots=True)
class About:
    """What one import is: shown in lists, and what decides which imports count.

    ``table`` is pairs or orbits, ``layout`` its outside form. ``taken`` are the rows that were
    new and ``merged`` those of targets known before, on the day of the import. ``sha256`` is
    that of the unpacked file, ``shipped_sha256`` that of the package's own pairs on that day.
    ``replaces`` is the number of the import that this one stands for from now on, 0 for none.
    """

    number: int
    table: str
    layout: str
    file_name: str
    date: str
    columns: str
    taken: int
    merged: int
    refused: int
    sha256: str
    shipped_sha256: str
    replaces: int = 0


def about_text(about: About) -> bytes:
    """The JSON that is kept."""
    return json.dumps({"format": FORMAT, **asdict(about)}, indent=1).encode()


def read_about(path: Path) -> About:
    """What an import is. Loads no numerical package. Raises CatalogError if damaged."""
    try:
        found = json.loads(path.read_bytes())
        written = found.pop("format")
        about = About(**found)
    except (OSError, ValueError, TypeError, KeyError, AttributeError, RecursionError) as error:
        raise damaged(path, type(error).__name__) from error
    if written != FORMAT:
        raise damaged(path, f"written as {written!r} by another edition of the planner")
    kinds = {"int": int, "str": str}
    for field in fields(About):
        if type(getattr(about, field.name)) is not kinds[str(field.type)]:
            raise damaged(path, f"{field.name} is no {field.type}")
    if about.table not in TABLES or about.layout not in LAYOUTS:
        raise damaged(path, f"no table {about.table!r} of layout {about.layout!r}")
    return about


def damaged(path: Path, reason: object) -> CatalogError:
    """The error for an import that cannot be used: names the file, the reason and the remedy."""
    return CatalogError(f"imported catalog {path} is damaged ({reason}): {REMEDY}")
