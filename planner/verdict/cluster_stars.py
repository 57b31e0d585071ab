"""How many stars of a cluster would show: counted in the star catalog, or by a rule."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.targets.stars import stars_near

if TYPE_CHECKING:
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


def open_cluster_words(count: StarCount) -> str:
    """What of an open cluster shows, in words."""
    counted = (
        f"{count.stars} star{'s' * (count.stars != 1)} to mag {count.limit_mag:.1f} in its circle, "
        f"about {count.above_field} more than the field has"
    )
    if count.complete:
        return counted
    if count.above_field == 0:
        return f"its stars are fainter than our star catalog reaches, mag {count.limit_mag:.1f}"
    return f"{counted}; the star catalog ends there, more show"


def globular_words(v_mag: float, branch_v_mag: float, star_limit_mag: float) -> str:
    """Whether a globular would be resolved, by the rule of its brightest stars, in words.

    ``branch_v_mag``: V of the horizontal branch, NaN unknown; ``star_limit_mag``: catalogue V of
    the faintest star there, in the best view. Limits: 0.3 mag by the branch, else 1 mag.
    """
    known = bool(np.isfinite(branch_v_mag))
    below = v_mag + GLOBULAR_STARS_BELOW_MAG
    brightest = branch_v_mag - GIANTS_ABOVE_BRANCH_MAG if known else below
    over = star_limit_mag - brightest
    if over >= RESOLVED_MAG:
        how = "outer stars resolved"
    elif over >= 0.0:
        how = "grainy, its brightest stars at the limit"
    else:
        how = "a glow without stars"
    told = f"about mag {brightest:.1f}" if known else f"perhaps mag {brightest:.0f}"
    return f"{how} (brightest {told})"
