"""The showpieces of five evenings at five latitudes, as ``showpieces.csv`` holds them."""

from __future__ import annotations

import csv
from dataclasses import dataclass
from pathlib import Path

EVENINGS = {  # the column of the table, and an evening of it in 2026
    "nov_10": "2026-11-10",
    "feb_10": "2026-02-10",
    "may_5": "2026-05-05",
    "jun_28": "2026-06-28",
    "sep_10": "2026-09-10",
}
LATITUDES_DEG = {"56N": 56.0, "45N": 45.0, "15N": 15.0, "30S": -30.0, "45S": -45.0}


@dataclass(frozen=True, slots=True)
class Showpiece:
    """One row: ``ids`` of the shipped catalogs; ``places`` holds (evening, latitude) by name."""

    name: str
    ids: tuple[str, ...]
    rank: int
    least_aperture_mm: int
    stands_moonlight: bool
    places: frozenset[tuple[str, str]]


def showpieces() -> tuple[Showpiece, ...]:
    """Every row of the table, in its order."""
    path = Path(__file__).parent / "showpieces.csv"
    with path.open(encoding="utf-8", newline="") as handle:
        rows = list(csv.DictReader(line for line in handle if not line.startswith("#")))
    return tuple(
        Showpiece(
            name=row["name"],
            ids=tuple(row["ids"].split("|")),
            rank=int(row["rank"]),
            least_aperture_mm=int(row["least_aperture_mm"]),
            stands_moonlight={"yes": True, "no": False}[row["stands_moonlight"]],
            places=frozenset(
                (evening, latitude)
                for evening in EVENINGS
                for latitude in row[evening].split("|")
                if latitude
            ),
        )
        for row in rows
    )
