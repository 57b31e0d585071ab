"""How bright the brighter members of open clusters are: counted in the star list."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np

from catalogs.compiler.deepsky_typed import STARS
from catalogs.compiler.writing import POSITION_UNIT_DEG
from planner.angles import separation_deg
from planner.targets.stars import StarField, stars_near
from planner.verdict.deepsky.cluster_stars import LARGEST_RADIUS_DEG, RING_INNER, RING_OUTER

if TYPE_CHECKING:
    from collections.abc import Mapping

    import pandas as pd
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

MEMBERS = 3  # so many stars more than the field has make a cluster begin to show
DECIMALS = 1
CLUSTERS = ("open-cluster", "asterism")  # the planner takes both as clusters


def star_field(arrays: Mapping[str, NDArray[Any]]) -> StarField:
    """The star list as shipped, without its colours."""
    return StarField(
        ra_deg=arrays["ra"] * POSITION_UNIT_DEG,
        dec_deg=arrays["dec"] * POSITION_UNIT_DEG,
        v_mag=arrays["v_mmag"] / 1000.0,
        bv=np.full(len(arrays["ra"]), np.nan),
        hip=arrays["hip"].astype(np.int64),
    )


def member_magnitudes(objects: pd.DataFrame, stars: StarField) -> Floats:
    """V of the third of the brightest members of each object, to 0.1 mag.

    Clusters with a size, and nebulae whose magnitude is that of the stars inside; NaN for all
    others, and where the star list ends before. ``objects``: the deep-sky table.
    """
    sized = objects["major_arcmin"].notna()
    clusters = objects["kind"].isin(CLUSTERS) | (objects["v_of"] == STARS)
    wanted = np.flatnonzero(sized & clusters)
    found = np.full(len(objects), np.nan)
    columns = objects[["ra_deg", "dec_deg", "major_arcmin"]].to_numpy(float)
    for row in wanted:
        ra, dec, diameter = columns[row]
        found[row] = third_member_mag(stars, ra, dec, diameter)
    return np.round(found, DECIMALS)


def third_member_mag(
    stars: StarField, ra_deg: float, dec_deg: float, diameter_arcmin: float
) -> float:
    """The brightest V at which a circle holds three stars more than its field leads to expect.

    The stars of the circle are taken in order of V; the ring from 1.5 to 2.5 radii, four times
    the circle's area, tells how many the field has to the same V. NaN: never.
    Limits: in a rich field an excess of three comes about by chance.
    """
    radius = min(diameter_arcmin / 120.0, LARGEST_RADIUS_DEG)
    near = stars_near(stars, ra_deg, dec_deg, RING_OUTER * radius)
    apart = separation_deg(near.ra_deg, near.dec_deg, ra_deg, dec_deg)
    inside = np.sort(near.v_mag[apart <= radius])
    ring = np.sort(near.v_mag[apart > RING_INNER * radius])
    expected = np.searchsorted(ring, inside, side="right") / (RING_OUTER**2 - RING_INNER**2)
    reached = np.flatnonzero(np.arange(1, len(inside) + 1) - expected >= MEMBERS)
    return float(inside[reached[0]]) if len(reached) else float("nan")
