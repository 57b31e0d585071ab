"""Rows of values as CSV text."""

from __future__ import annotations

import csv
import io
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from collections.abc import Sequence


def csv_text(rows: Sequence[dict[str, Any]], columns: Sequence[str] = ()) -> str:
    """CSV (RFC 4180) with the columns given, then any other keys in order of first use.

    Lists are joined with ``|``, dicts become ``key=value`` joined with ``|``, None is empty and
    truth values are ``true`` and ``false``.
    """
    header = list(dict.fromkeys([*columns, *(key for row in rows for key in row)]))
    stream = io.StringIO()
    writer = csv.DictWriter(stream, header, restval="")
    writer.writeheader()
    writer.writerows({key: cell(value) for key, value in row.items()} for row in rows)
    return stream.getvalue()


def cell(value: Any) -> str | int | float:
    """One value as a CSV cell."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, list | tuple):
        return "|".join(str(cell(item)) for item in value)
    if isinstance(value, dict):
        return "|".join(f"{key}={cell(item)}" for key, item in value.items())
    return value if isinstance(value, int | float) else str(value)
