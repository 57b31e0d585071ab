"""The stars that lead the way: where they stand, how bright they are and what they are called."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import unit_vectors
from planner.targets.catalog import load_designations, load_stars
from planner.targets.name_key import GREEK

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

WIDE_MAG = 6.5  # stars from far off; own judgement
NEAR_MAG = 8.5  # stars close to a target; own judgement
ENGLISH = dict(GREEK.values())  # of a letter's short form
PROPER, LETTERED, NUMBERED, NAMELESS = range(4)


@dataclass(frozen=True, slots=True, eq=False)
class Landmarks:
    """N stars from the brightest on: place (N, 3) and degrees, V, name and how well named.

    The first ``wide`` of them are those brighter than V 6.5. ``by_height`` are the rows in order of
    the third coordinate, ``height`` that coordinate in the same order.
    """

    place: Floats
    ra_deg: Floats
    dec_deg: Floats
    v_mag: Floats
    name: tuple[str, ...]
    fame: Ints
    wide: int
    by_height: Ints
    height: Floats


@cache
def load_landmarks() -> Landmarks:
    """The shipped stars to V 8.5 with their names."""
    stars = load_stars()
    rows = np.flatnonzero(stars.v_mag <= NEAR_MAG)
    rows = rows[np.lexsort((stars.ra_deg[rows], stars.dec_deg[rows], stars.v_mag[rows]))]
    known = _names()
    named = [known.get(int(hip), ("", NAMELESS)) for hip in stars.hip[rows]]
    v = stars.v_mag[rows]
    place = unit_vectors(stars.ra_deg[rows], stars.dec_deg[rows])
    by_height = np.argsort(place[:, 2], kind="stable")
    return Landmarks(
        place=place,
        ra_deg=stars.ra_deg[rows],
        dec_deg=stars.dec_deg[rows],
        v_mag=v,
        name=tuple(name for name, _ in named),
        fame=np.array([fame for _, fame in named], dtype=np.int64),
        wide=int(np.searchsorted(v, WIDE_MAG, side="right")),
        by_height=by_height,
        height=place[by_height, 2],
    )


def _names() -> dict[int, tuple[str, int]]:
    """Name and fame of each star by its Hipparcos number."""
    stars = load_designations()
    columns = (stars.hip, stars.proper_name, stars.bayer, stars.flamsteed, stars.constellation)
    found: dict[int, tuple[str, int]] = {}
    for hip, proper, bayer, flamsteed, constellation in zip(*columns, strict=True):
        if not hip:
            continue
        if bayer:
            text = f"{ENGLISH.get(bayer[:3].strip(), bayer[:3])}{bayer[3:]} {constellation}"
            found[hip] = (f"{proper} ({text})", PROPER) if proper else (text, LETTERED)
        elif proper:
            found[hip] = (proper, PROPER)
        elif flamsteed:
            found[hip] = (f"{flamsteed} {constellation}", NUMBERED)
    return found
