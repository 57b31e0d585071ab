"""How likely a pair is a chance alignment, from the number of stars a little farther out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from catalogs.compiler.sphere import neighbours
from catalogs.compiler.stars import positions

if TYPE_CHECKING:
    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

SEPARATION_EDGES = np.array([0.5, 3.0, 5.0, 10.0, 20.0, 30.0, 45.0, 60.0])  # arcsec
MAGNITUDE_EDGES = np.array([-np.inf, 5.0, 6.0, 7.0, 8.0, 9.0, np.inf])  # V of the primary
ANNULUS_ARCSEC = (120.0, 300.0)  # beyond all but the widest true pairs
DENSITY_RADIUS_DEG = 1.0
HOPELESS = 0.6


def chance_fraction(pairs: pd.DataFrame, stars: pd.DataFrame) -> Floats:
    """Share of pairs like this one that are chance alignments, 0..1.

    In each cell of primary magnitude and separation, stars in a ring of 120-300" round every
    primary say how many companions chance alone gives (E); what is left of the observed number
    (O) is true companions. In a field r times as dense as the mean the share is
    r E / (r E + O - E), which is E/O for r = 1.
    """
    cell, share = cell_shares(pairs, stars)
    density = local_density(pairs["star1"].to_numpy(), stars)
    r = density / local_density(np.arange(0, len(stars), 97), stars).mean()
    f = share[cell]
    return np.asarray(r * f / (r * f + 1.0 - f))


def cell_shares(pairs: pd.DataFrame, stars: pd.DataFrame) -> tuple[tuple[Floats, Floats], Floats]:
    """The cell (magnitude, separation) of every pair, and E/O of all cells (at most 1)."""
    v = stars["v"].to_numpy(float)
    where = positions(stars)
    i, j, s = neighbours(where, where, ANNULUS_ARCSEC[1])
    ring = (s > ANNULUS_ARCSEC[0]) & (v[i] < v[j])
    columns = np.digitize(v[i[ring]], MAGNITUDE_EDGES) - 1
    in_ring = np.bincount(columns, minlength=len(MAGNITUDE_EDGES) - 1).astype(float)
    area = np.diff(SEPARATION_EDGES**2) / (ANNULUS_ARCSEC[1] ** 2 - ANNULUS_ARCSEC[0] ** 2)
    expected = in_ring[:, None] * area[None, :]
    a = np.digitize(pairs["v1"].to_numpy(float), MAGNITUDE_EDGES) - 1
    b = np.digitize(pairs["separation_arcsec"].to_numpy(float), SEPARATION_EDGES) - 1
    b = np.minimum(b, len(SEPARATION_EDGES) - 2)
    observed = np.zeros_like(expected)
    np.add.at(observed, (a, b), 1.0)
    share = np.minimum(expected / np.maximum(observed, 1.0), 1.0)
    return (a, b), share


def local_density(rows: NDArray[np.int64], stars: pd.DataFrame) -> Floats:
    """Stars of the list within 1 degree of each of the given rows, per square degree."""
    ra, dec = positions(stars)
    i, _, _ = neighbours((ra[rows], dec[rows]), (ra, dec), DENSITY_RADIUS_DEG * 3600.0)
    count = np.bincount(i, minlength=len(rows))
    return np.asarray(count / (np.pi * DENSITY_RADIUS_DEG**2))
