"""Positions moved to another epoch, and all neighbours within a small radius."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from planner.angles import longitude_latitude_deg, separation_deg, unit_vectors

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

RADIANS_PER_MAS = np.pi / 180.0 / 3600.0 / 1000.0
BAND_STRIDE = 2000.0  # one declination band to the next in the sorting key; above 3 * 360


class Neighbours(NamedTuple):
    """Index into the first list, index into the second, and separation in arcsec."""

    first: Ints
    second: Ints
    separation_arcsec: Floats


def moved(table: pd.DataFrame, years: float) -> tuple[Floats, Floats]:
    """Right ascension and declination (deg) of Hipparcos rows ``years`` after 1991.25.

    Straight motion along the tangent at the catalogue epoch (Hipparcos vol. 1, sec. 1.5.5,
    without radial velocity: under 0.01" in 25 years for all but a few of the nearest stars).
    """
    ra, dec = np.asarray(table["ra_rad"], float), np.asarray(table["dec_rad"], float)
    position = unit_vectors(np.degrees(ra), np.degrees(dec))
    east = np.stack([-np.sin(ra), np.cos(ra), np.zeros_like(ra)], axis=-1)
    north = np.stack([-np.sin(dec) * np.cos(ra), -np.sin(dec) * np.sin(ra), np.cos(dec)], axis=-1)
    motion = years * RADIANS_PER_MAS
    shift_east = motion * np.asarray(table["pmra"], float)[:, None]
    shift_north = motion * np.asarray(table["pmdec"], float)[:, None]
    return longitude_latitude_deg(position + shift_east * east + shift_north * north)


def neighbours(
    first: tuple[Floats, Floats], second: tuple[Floats, Floats], radius_arcsec: float
) -> Neighbours:
    """Every pair (one of ``first``, one of ``second``) closer than the radius.

    ``first`` and ``second`` are (ra_deg, dec_deg). The second list is sorted into declination
    bands as wide as the radius; three bands are searched for each star of the first. The result
    is in the order of ``first``, then ``second``.
    """
    width = radius_arcsec / 3600.0
    ra2, index2 = _wrapped(second, width)
    key2 = np.floor((second[1][index2] + 90.0) / width) * BAND_STRIDE + ra2
    order = np.argsort(key2, kind="stable")
    key2, index2 = key2[order], index2[order]
    reach = _reach_deg(first[1], width)
    band = np.floor((first[1] + 90.0) / width)
    found: list[tuple[Ints, Ints]] = []
    for offset in (-1, 0, 1):
        base = (band + offset) * BAND_STRIDE + first[0]
        low = np.searchsorted(key2, base - reach, side="left")
        count = np.searchsorted(key2, base + reach, side="right") - low
        i = np.repeat(np.arange(len(base)), count)
        within = np.arange(count.sum()) - np.repeat(np.cumsum(count) - count, count)
        found.append((i, index2[within + np.repeat(low, count)]))
    pairs = np.unique(np.concatenate([np.stack(f) for f in found], axis=1), axis=1)
    i, j = pairs[0], pairs[1]
    s = 3600.0 * separation_deg(first[0][i], first[1][i], second[0][j], second[1][j])
    near = s < radius_arcsec
    return Neighbours(i[near], j[near], s[near])


def _reach_deg(dec_deg: Floats, width_deg: float) -> Floats:
    """How far in right ascension a star of the neighbour's declination can lie."""
    edge = np.minimum(np.abs(dec_deg) + 1.001 * width_deg, 90.0)
    return np.minimum(1.05 * width_deg / np.maximum(np.cos(np.radians(edge)), 1e-9), 180.0)


def _wrapped(points: tuple[Floats, Floats], width_deg: float) -> tuple[Floats, Ints]:
    """Right ascensions with the stars near 0h repeated on the other side, and their indices."""
    ra, dec = points
    reach = 2.0 * _reach_deg(dec, 2.0 * width_deg)
    low, high = np.flatnonzero(ra < reach), np.flatnonzero(ra > 360.0 - reach)
    index = np.concatenate([np.arange(len(ra)), low, high])
    return np.concatenate([ra, ra[low] + 360.0, ra[high] - 360.0]), index
