"""Pairs of stars measured from the positions of the star list."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd

from catalogs.compiler.sphere import neighbours
from catalogs.compiler.stars import positions
from planner.angles import position_angle_deg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

WIDEST_ARCSEC, CLOSEST_ARCSEC = 60.0, 0.5


def measured_pairs(stars: pd.DataFrame, widest_arcsec: float = WIDEST_ARCSEC) -> pd.DataFrame:
    """All pairs from 0.5" to the widest separation, the brighter star first.

    Columns: star1, star2 (row numbers in ``stars``), separation_arcsec, position_angle_deg
    (epoch 2016.0), v1, v2.
    """
    where = positions(stars)
    i, j, s = neighbours(where, where, widest_arcsec)
    v = stars["v"].to_numpy(float)
    first = (v[i] < v[j]) | ((v[i] == v[j]) & (i < j))
    keep = first & (s >= CLOSEST_ARCSEC)
    i, j, s = i[keep], j[keep], s[keep]
    angle = position_angle_deg(where[0][i], where[1][i], where[0][j], where[1][j])
    return pd.DataFrame(
        {
            "star1": i,
            "star2": j,
            "separation_arcsec": s,
            "position_angle_deg": angle,
            "v1": v[i],
            "v2": v[j],
        }
    )
