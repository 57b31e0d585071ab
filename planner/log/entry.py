"""Looks as a sheet or table brings them, before targets and kit are known."""

from __future__ import annotations

import datetime as dt
import json
import uuid
from dataclasses import asdict, dataclass
from pathlib import Path
from typing import Any

from planner.errors import UsageError

SHEET_FORMAT = "planner-sheet-log/1"
_SPACE = uuid.uuid5(uuid.NAMESPACE_URL, "planner-log")
_COLUMNS = ("date", "time", "target", "outcome")
_OPTIONAL = (
    "companion", "clock", "seeing", "transparency", "eyepiece", "note", "site", "telescope",
)  # fmt: skip


@dataclass(frozen=True, slots=True)
class Entry:
    """One look as brought: words as written, times with their zone or as the site's clock.

    ``number`` is the line of a table or the place among the entries of a sheet, from 1.
    ``target`` is a catalog's id where ``by_id``, else a name. ``clock_time`` is the site's clock
    where the file has no zone; ``at`` else.
    """

    number: int
    target: str
    by_id: bool
    name: str
    night: dt.date
    at: dt.datetime | None
    clock_time: dt.time | None
    outcome: str
    site: str = ""
    telescope: str = ""
    companion: str = ""
    clock: str = ""
    seeing: str = ""
    transparency: str = ""
    eyepiece: str = ""
    note: str = ""
    planned_start: str = ""

    @property
    def place(self) -> str:
        """The same for every version of this look: its night, place, target and planned time."""
        when = self.planned_start or str(self.clock_time or self.at)
        parts = (self.night.isoformat(), self.site, self.telescope, self.target, when)
        return str(uuid.uuid5(_SPACE, "\n".join(parts)))

    @property
    def origin(self) -> str:
        """``place`` and what tells this version from others; the same file brings it again."""
        content = {name: str(value) for name, value in asdict(self).items() if name != "number"}
        return f"{self.place}/{uuid.uuid5(_SPACE, json.dumps(content, sort_keys=True))}"


@dataclass(frozen=True, slots=True)
class Brought:
    """What a file brings: its looks, and lines that are none, each with its reason."""

    entries: tuple[Entry, ...]
    refused: tuple[str, ...] = ()
    untouched: int = 0


def read_entries(path: Path) -> Brought:
    """The looks of a sheet's export (JSON) or of a table (CSV).

    Raises:
        UsageError: it is neither, or a column is missing.
        OSError: it cannot be read.
    """
    content = path.read_bytes()
    if content.lstrip(b"\xef\xbb\xbf \t\r\n")[:1] == b"{":
        return _sheet(path, content)
    return _table(path)


def _sheet(path: Path, content: bytes) -> Brought:
    try:
        found: Any = json.loads(content.decode("utf-8-sig"))
    except ValueError as error:
        raise UsageError(f"{path}: damaged, no whole JSON: save it from the sheet anew") from error
    if found.get("format") != SHEET_FORMAT or not isinstance(found.get("entries"), list):
        raise UsageError(
            f"{path}: its format is {found.get('format')!r}; a sheet saves {SHEET_FORMAT!r}"
        )
    entries, refused, untouched = [], [], 0
    for number, row in enumerate(found["entries"], 1):
        if not isinstance(row, dict) or not (row.get("done") or row.get("outcome")):
            untouched += 1
            continue
        try:
            entries.append(_sheet_entry(number, row, found))
        except (KeyError, TypeError, ValueError) as error:
            refused.append(f"entry {number}: {type(error).__name__.lower()} {error}")
    return Brought(tuple(entries), tuple(refused), untouched)


def _sheet_entry(number: int, row: dict[str, Any], whole: dict[str, Any]) -> Entry:
    at, planned = row.get("at"), row.get("planned_start") or ""
    moment = dt.datetime.fromisoformat(at or planned)
    if moment.tzinfo is None:
        raise ValueError("a time without its zone")
    return Entry(
        number=number,
        target=str(row["target_id"]),
        by_id=True,
        name=str(row.get("name") or row["target_id"]),
        night=dt.date.fromisoformat(_part(whole["night"], "date")),
        at=moment,
        clock_time=None,
        outcome=str(row.get("outcome") or ""),
        site=_part(whole["site"], "name"),
        telescope=_part(whole["telescope"], "name"),
        eyepiece=str(row.get("eyepiece") or ""),
        note=str(row.get("note") or ""),
        planned_start=str(planned),
    )


def _part(value: Any, key: str) -> str:
    """A text, or the named part of an object."""
    return str(value[key] if isinstance(value, dict) else value)


def _table(path: Path) -> Brought:
    import pandas as pd

    try:
        table = pd.read_csv(
            path, dtype=str, keep_default_na=False, sep=None, engine="python",
            encoding="utf-8-sig", skip_blank_lines=False, index_col=False,
        )  # fmt: skip
    except (ValueError, pd.errors.ParserError) as error:
        raise UsageError(f"{path}: neither a sheet's export nor a table (CSV): {error}") from error
    table.columns = [str(name).strip().casefold() for name in table.columns]
    missing = [name for name in _COLUMNS if name not in table.columns]
    if missing:
        raise UsageError(
            f"{path}: no column {', '.join(missing)}; it needs {', '.join(_COLUMNS)} and may have "
            f"{', '.join(_OPTIONAL)}"
        )
    entries, refused = [], []
    for number, row in enumerate(table.to_dict("records"), 2):
        cells = {str(name): str(value).strip() for name, value in row.items()}
        if not any(cells.values()):
            continue
        try:
            entries.append(_table_entry(number, cells))
        except ValueError as error:
            refused.append(f"line {number}: {error}")
    return Brought(tuple(entries), tuple(refused))


def _table_entry(number: int, cells: dict[str, str]) -> Entry:
    if not cells["target"]:
        raise ValueError("no target")
    try:
        night = dt.date.fromisoformat(cells["date"])
        time = dt.datetime.strptime(cells["time"], "%H:%M").time()
    except ValueError:
        raise ValueError(
            f"{cells['date']!r} {cells['time']!r}: write the evening's date like 2026-11-03 and "
            "the time like 21:40"
        ) from None
    return Entry(
        number=number,
        target=cells["target"],
        by_id=False,
        name=cells["target"],
        night=night,
        at=None,
        clock_time=time,
        outcome=cells["outcome"],
        **{name: cells.get(name, "") for name in _OPTIONAL},
    )
