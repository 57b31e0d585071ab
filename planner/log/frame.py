"""The log as a table, for grouping and for other programs; pandas lives here and in the import."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

import pandas as pd

from planner.log.line import NAMES, line_of

if TYPE_CHECKING:
    from collections.abc import Sequence

    from planner.log.record import Record

_FIRST = ("night", "at", "name", "outcome")
_INSIDE = ("pair", "said")


def frame_of(looks: Sequence[Record]) -> pd.DataFrame:
    """One row a look, one column a field; those of pair and promise as ``pair_v1`` and so on."""
    rows = []
    for look in looks:
        row: dict[str, Any] = json.loads(line_of(look))
        for name in _INSIDE:
            row |= {f"{name}_{key}": value for key, value in (row.pop(name, None) or {}).items()}
        row |= {
            f"said_{key}": value for key, value in (row.pop("said_settings", None) or {}).items()
        }
        worst = row.pop("said_worst_seeing_arcsec", None)
        row |= {} if worst is None else {"said_worst_seeing_arcsec": "|".join(map(str, worst))}
        rows.append(row)
    table = pd.DataFrame(rows)
    order = [*_FIRST, *(name for name in NAMES if name not in (*_FIRST, *_INSIDE))]
    known = [name for name in order if name in table.columns]
    return table[[*known, *(name for name in table.columns if name not in known)]]


def csv_of(looks: Sequence[Record]) -> str:
    """The looks as CSV (RFC 4180) with a heading."""
    return str(frame_of(looks).to_csv(index=False, lineterminator="\r\n"))


def json_of(looks: Sequence[Record]) -> str:
    """The looks as one JSON object: ``format`` and the records as they stand in the log."""
    records = [json.loads(line_of(look)) for look in looks]
    whole = {"format": "planner-log-export/1", "records": records}
    return json.dumps(whole, ensure_ascii=False, indent=1) + "\n"
