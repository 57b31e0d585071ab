"""Which column of an outside table holds what: ``ra=RAJ2000,dec=DEJ2000,v1=Vmag``."""

from __future__ import annotations

from typing import TYPE_CHECKING

from planner.errors import UsageError
from planner.importers.harmless import harmless
from planner.targets.spelling import most_like

if TYPE_CHECKING:
    from collections.abc import Sequence

# What a table can hold, and in which unit.
KEYS = {
    "ra": "right ascension, degrees or sexagesimal hours",
    "ra_hours": "right ascension in decimal hours (instead of ra)",
    "dec": "declination, degrees or sexagesimal degrees",
    "separation": "arcseconds",
    "position_angle": "degrees from north through east",
    "v1": "V magnitude of the primary",
    "v2": "V magnitude of the companion",
    "epoch": "year of the measure",
    "place_epoch": "year of the place; where it is not stated, 2000 is taken for a new pair",
    "pm_ra": "proper motion in right ascension with cos dec, 0.001 arcsec a year",
    "pm_dec": "proper motion in declination, 0.001 arcsec a year",
    "components": "letters such as AC; AB without this column",
    "name": "name of the star",
    "discoverer": "discoverer's code and number",
    "wds": "WDS identifier",
    "note": "any remark",
}
NEEDED = ("ra", "dec", "separation", "v1", "v2")


def column_map(text: str | None, header: Sequence[str]) -> dict[str, str]:
    """The table's column for each key, from the user's words and the table's own header.

    ``text`` is ``key=COLUMN`` pairs with commas between; a key that it leaves out is taken from
    a column of that very name, whatever its case. Raises UsageError for an unknown key or
    column, one given twice, or a key that is needed and missing.
    """
    by_name = {name.strip().casefold(): name for name in reversed(header)}
    given = _given(harmless(text or ""))
    found = {key: by_name[key] for key in KEYS if key in by_name}
    for key, column in given.items():
        found[key] = _column(column, header, by_name)
    if "ra_hours" in given or ("ra_hours" in found and "ra" not in found):
        found.pop("ra", None)
    else:
        found.pop("ra_hours", None)
    missing = [key for key in NEEDED if key not in found and not _hours_instead(key, found)]
    if missing:
        raise UsageError(
            f"the table has no column called {', '.join(missing)}: name it with "
            f"--columns {','.join(f'{key}=COLUMN' for key in missing)} "
            f"(its columns: {', '.join(header)})"
        )
    return found


def _hours_instead(key: str, found: dict[str, str]) -> bool:
    return key == "ra" and "ra_hours" in found


def _given(text: str) -> dict[str, str]:
    """The user's words as a dictionary."""
    found: dict[str, str] = {}
    for part in filter(None, (piece.strip() for piece in text.split(","))):
        key, equals, column = (piece.strip() for piece in part.partition("="))
        if not equals or not column:
            raise UsageError(f"--columns: {part!r} is not of the form key=COLUMN")
        if key not in KEYS:
            near = most_like(key, KEYS, cutoff=0.4)
            hint = f"; did you mean {near!r}?" if near else ""
            raise UsageError(f"--columns: {key!r} is no key{hint} (known: {', '.join(KEYS)})")
        if key in found:
            raise UsageError(f"--columns: {key!r} is given twice")
        found[key] = column
    return found


def _column(wanted: str, header: Sequence[str], by_name: dict[str, str]) -> str:
    if wanted in header:
        return wanted
    if wanted.casefold() in by_name:
        return by_name[wanted.casefold()]
    near = most_like(wanted, header, cutoff=0.4)
    hint = f"; did you mean {near!r}?" if near else ""
    raise UsageError(f"--columns: no column {wanted!r}{hint} (its columns: {', '.join(header)})")
