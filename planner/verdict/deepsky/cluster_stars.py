"""What of a cluster's stars would show: counted in the star catalog, or by a rule."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.catalog import load_stars
from planner.targets.kind import Kind
from planner.targets.stars import stars_near

if TYPE_CHECKING:
    from planner.targets.deepsky import DeepSky
    from planner.targets.stars import StarField

# The brightest red giants stand 2.4 to 3.2 mag above the horizontal branch (14 clusters from M 3
# to M 92, magnitudes from memory). Without the branch: 6 mag below the whole, 4 to 8 in truth.
GIANTS_ABOVE_BRANCH_MAG = 2.9
GLOBULAR_STARS_BELOW_MAG = 6.0
RESOLVED_MAG = 1.0  # so far beyond its brightest stars a globular is called resolved; own judgement
RING_INNER, RING_OUTER = 1.5, 2.5  # ring around a cluster that tells the field's stars, radii
LARGEST_RADIUS_DEG = 2.0  # beyond this the ring is another part of the sky


@dataclass(frozen=True, slots=True)
class StarCount:
    """Stars in a cluster's circle down to a limit: all, and those above what the field has.

    ``complete`` is False when the catalog ends before the limit: there are at least so many.
    """

    stars: int
    above_field: int
    limit_mag: float
    complete: bool


def count_cluster_stars(
    stars: StarField, ra_deg: float, dec_deg: float, diameter_arcmin: float, faintest: float
) -> StarCount:
    """Count the catalogued stars of an open cluster that are not fainter than a limit.

    The circle of the cluster's diameter (arcmin), less what the ring from 1.5 to 2.5 radii
    leads to expect. ``faintest`` is the catalogue V of the faintest star seen.
    Limits: the catalog ends at its faintest star; a rich field makes the excess uncertain by
    the square root of the count.
    """
    end = float(stars.v_mag.max())
    limit = min(faintest, end)
    radius = min(diameter_arcmin / 120.0, LARGEST_RADIUS_DEG)
    inside = len(stars_near(stars, ra_deg, dec_deg, radius, limit))
    ring = len(stars_near(stars, ra_deg, dec_deg, RING_OUTER * radius, limit)) - len(
        stars_near(stars, ra_deg, dec_deg, RING_INNER * radius, limit)
    )
    expected = ring / (RING_OUTER**2 - RING_INNER**2)
    return StarCount(
        stars=inside,
        above_field=max(0, round(inside - expected)),
        limit_mag=limit,
        complete=faintest <= end,
    )


@dataclass(frozen=True, slots=True)
class GlobularStars:
    """The brightest stars of a globular cluster against what the telescope shows.

    ``brightest_mag`` comes from the horizontal branch where that is known, else from a rule.
    ``over_mag`` is how far the faintest star shown lies beyond it.
    """

    brightest_mag: float
    by_branch: bool
    over_mag: float


def globular_stars(v_mag: float, branch_v_mag: float, star_limit_mag: float) -> GlobularStars:
    """Whether a globular would be resolved, by the rule of its brightest stars.

    ``branch_v_mag``: V of the horizontal branch, NaN unknown; ``star_limit_mag``: catalogue V of
    the faintest star there, in the best view. Limits: 0.3 mag by the branch, else 1 mag.
    """
    known = bool(np.isfinite(branch_v_mag))
    below = v_mag + GLOBULAR_STARS_BELOW_MAG
    brightest = branch_v_mag - GIANTS_ABOVE_BRANCH_MAG if known else below
    return GlobularStars(brightest, known, star_limit_mag - brightest)


def cluster_stars(
    objects: DeepSky, row: int, star_limit_mag: float, best_limit_mag: float
) -> StarCount | GlobularStars | None:
    """What of a cluster's stars shows; None for other kinds.

    The limits are catalogue V, in the view named and in the best for stars: a globular that is
    found at low power is resolved at a higher one.
    """
    kind = objects.kind[row]
    if kind is Kind.GLOBULAR_CLUSTER:
        whole, branch = float(objects.v_mag[row]), float(objects.hb_v_mag[row])
        return globular_stars(whole, branch, best_limit_mag)
    if kind is Kind.OPEN_CLUSTER and objects.major_arcmin[row] > 0.0:
        return count_cluster_stars(
            load_stars(),
            float(objects.ra_deg[row]),
            float(objects.dec_deg[row]),
            float(objects.major_arcmin[row]),
            star_limit_mag,
        )
    return None
