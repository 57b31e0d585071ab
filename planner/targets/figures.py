"""Figures of the constellations: our own lines between stars, typed by letter."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import pairwise
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.catalog import load_designations, load_stars
from planner.targets.files import damaged, read_columns

if TYPE_CHECKING:
    from pathlib import Path

    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

FIGURES_FILE = "figures_typed.csv"


@dataclass(frozen=True, slots=True, eq=False)
class Figures:
    """N lines: the Hipparcos numbers of both ends (N, 2), their places in degrees (N, 2)."""

    constellation: tuple[str, ...]
    hip: NDArray[np.int64]
    ra_deg: Floats
    dec_deg: Floats


@cache
def load_figures(folder: Path | None = None) -> Figures:
    """Every line of every figure.

    Raises CatalogError for a star that the catalogs do not have.
    """
    texts = read_columns(FIGURES_FILE, ("constellation", "lines"), folder)
    rows, by_hip = _stars_by_letter(), _rows_by_hip()
    skies: list[str] = []
    ends: list[tuple[int, int]] = []
    for sky, lines in zip(texts["constellation"], texts["lines"], strict=True):
        for line in lines.split(";"):
            joined = [_hip(rows, sky, code) for code in line.split("-")]
            ends += pairwise(joined)
            skies += [sky] * (len(joined) - 1)
    hip = np.array(ends, dtype=np.int64)
    stars, at = load_stars(), np.vectorize(by_hip.__getitem__)(hip)
    return Figures(tuple(skies), hip, stars.ra_deg[at], stars.dec_deg[at])


@cache
def star_letters() -> dict[int, tuple[str, str, str, str]]:
    """Letter code, number, proper name and constellation of the lettered stars, by Hipparcos."""
    stars = load_designations()
    columns = (stars.hip, stars.bayer, stars.flamsteed, stars.proper_name, stars.constellation)
    return {
        hip: (bayer.replace(" ", ""), flamsteed, proper, sky)
        for hip, bayer, flamsteed, proper, sky in zip(*columns, strict=True)
        if hip and (bayer or flamsteed or proper)
    }


def _rows_by_hip() -> dict[int, int]:
    hip = load_stars().hip
    rows = np.flatnonzero(hip)
    return dict(zip(hip[rows].tolist(), rows.tolist(), strict=True))


def _stars_by_letter() -> dict[str, int]:
    """Hipparcos numbers by ``Con:letter``; a letter without index is its brightest star's."""
    stars, rows = load_stars(), _rows_by_hip()
    best: dict[str, tuple[bool, float, int]] = {}
    for hip, (bayer, number, _, sky) in star_letters().items():
        if hip not in rows:
            continue
        for code in {bayer, bayer.rstrip("0123456789"), number} - {""}:
            rank = (code != bayer, float(stars.v_mag[rows[hip]]), hip)
            key = f"{sky}:{code}"
            best[key] = min(rank, best.get(key, rank))
    return {key: rank[2] for key, rank in best.items()}


def _hip(rows: dict[str, int], sky: str, code: str) -> int:
    key = code if ":" in code else f"{sky}:{code}"
    if key not in rows:
        raise damaged(FIGURES_FILE, f"no star {key}")
    return rows[key]
