"""Reads an order that was printed as JSON, perhaps edited by hand: format ``planner-plan/1``."""

from __future__ import annotations

import datetime as dt
import json
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from planner.errors import UsageError

if TYPE_CHECKING:
    from pathlib import Path

FORMAT = "planner-plan/1"
MOST_PRICE = 1_000_000  # hundredths of a point; no look is worth more


@dataclass(frozen=True, slots=True)
class FiledLook:
    """One entry of the file: aware times, the target's id (empty for a break) and its name."""

    start: dt.datetime
    end: dt.datetime
    target_id: str
    name: str


@dataclass(frozen=True, slots=True)
class FiledOrder:
    """The entries of a file as they stand, its score in points, and the prices it was made with.

    ``date`` is that of its night's evening. ``prices`` are hundredths of a point by target; what
    is no number there is left out.
    """

    date: dt.date
    looks: tuple[FiledLook, ...]
    score: float
    prices: dict[str, int]


def read_order(path: Path) -> FiledOrder:
    """The order of a file.

    Raises:
        UsageError: the file cannot be read, is no order, or an entry lacks something.
    """
    try:
        found = json.loads(path.read_text(encoding="utf-8"))
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise UsageError(f"{path}: {reason}; give an order printed with --format json") from error
    except ValueError as error:
        raise UsageError(f"{path}: no JSON: {error}; print it anew with --format json") from error
    if not isinstance(found, dict) or found.get("format") != FORMAT:
        raise UsageError(f"{path}: its format is not {FORMAT}; print it with plan --format json")
    entries = found.get("entries")
    if not isinstance(entries, list):
        raise UsageError(f"{path}: entries must be a list; print it anew with --format json")
    looks = tuple(_look(path, number, entry) for number, entry in enumerate(entries, start=1))
    score, prices = found.get("score"), found.get("prices")
    return FiledOrder(
        date=_date(path, found.get("date")),
        looks=looks,
        score=float(score) if isinstance(score, int | float) else 0.0,
        prices={
            str(name): price
            for name, price in (prices if isinstance(prices, dict) else {}).items()
            if isinstance(price, int) and abs(price) <= MOST_PRICE
        },
    )


def _date(path: Path, found: Any) -> dt.date:
    try:
        return dt.date.fromisoformat(found)
    except (TypeError, ValueError) as error:
        raise UsageError(
            f"{path}: date must be that of its evening, like 2026-12-08; print it anew"
        ) from error


def _look(path: Path, number: int, entry: Any) -> FiledLook:
    where = f"{path}: entry {number}"
    if not isinstance(entry, dict):
        raise UsageError(f"{where}: write it as an object with start, end and target_id")
    start, end = (_moment(where, entry, key) for key in ("start", "end"))
    if end <= start:
        raise UsageError(f"{where}: end comes not after start; check both")
    target_id = entry.get("target_id")
    if target_id is not None and not isinstance(target_id, str):
        raise UsageError(f"{where}: target_id must be a text, or null for a break")
    return FiledLook(start, end, target_id or "", str(entry.get("name") or target_id or "break"))


def _moment(where: str, entry: dict[str, Any], key: str) -> dt.datetime:
    try:
        moment = dt.datetime.fromisoformat(entry[key])
    except (KeyError, TypeError, ValueError) as error:
        raise UsageError(
            f"{where}: {key} must be a time with its zone, like 2026-12-08T21:05+01:00"
        ) from error
    if moment.tzinfo is None:
        raise UsageError(f"{where}: {key} lacks its zone; write 2026-12-08T21:05+01:00")
    return moment
