"""Open clusters, seen by their stars: which stars count, and in which view."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.targets.stars import FAINTEST_STAR_MAG
from planner.verdict.causes import AMPLE_MARGIN_MAG

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.eye.profile import Views
    from planner.targets.deepsky import DeepSky
    from planner.verdict.deepsky.star_table import StarTable

    Floats = NDArray[np.float64]
    Ints = NDArray[np.intp]

STARS_BELOW_MAG = 3.0  # brightest members against the whole; common practice, no source
RULE_UNCERTAINTY_MAG = 1.0  # of that rule: rich old clusters are 4 below, poor ones 2
FRAME_SHARE = 0.5  # of the field at most: sky around a cluster; common practice, no source
WIDE_FIELD_FOR_MAG = 0.3  # of star limit given up for a wider field on a cluster; own judgement
LARGE_ENOUGH_DEG = 12.0  # as seen: a smaller cluster is a knot of light; own judgement


def member_mag(objects: DeepSky) -> Floats:
    """V of the brighter members of N clusters: the third of the counted ones.

    Where the star catalog ends before that, 3 mag below the whole cluster, and not brighter
    than the catalog's end.
    """
    rule = objects.v_mag + STARS_BELOW_MAG
    rule = np.where(np.isnan(objects.major_arcmin), rule, np.maximum(rule, FAINTEST_STAR_MAG))
    return np.where(np.isnan(objects.member_v_mag), rule, objects.member_v_mag)


def member_uncertainty_mag(objects: DeepSky) -> Floats:
    """How far ``member_mag`` may be out (N,): nothing to speak of where the stars are counted."""
    return np.where(np.isnan(objects.member_v_mag), RULE_UNCERTAINTY_MAG, 0.0)


def cluster_views(
    stars: StarTable,
    views: Views,
    powers: Floats,
    major_arcmin: Floats,
    asked: tuple[Floats, Floats],
) -> Ints:
    """The view to use on each of n clusters at T moments, (n, T).

    It has to show the members with 1.5 mag in hand, or come within 0.3 mag of the best view.
    Of those that do and that the cluster fills to no more than half: the lowest power at which
    it looks 12 degrees wide, else the highest. Where none frames it, the lowest power.
    ``asked``: V of the members as they reach the ground, and the sky, both (n, T).
    """
    members, sky_mag = asked
    order = np.argsort(powers, kind="stable")
    each = stars.each_mag(sky_mag)[order]
    enough = each >= np.minimum(each.max(axis=0) - WIDE_FIELD_FOR_MAG, members + AMPLE_MARGIN_MAG)
    field_arcmin = 60.0 * views.true_field_deg[order]
    framed = major_arcmin <= FRAME_SHARE * field_arcmin[:, None]
    large = major_arcmin * powers[order][:, None] >= 60.0 * LARGE_ENOUGH_DEG
    fit = enough & framed[:, :, None]
    good = fit & large[:, :, None]
    highest_fit = len(order) - 1 - np.argmax(fit[::-1], axis=0)
    place = np.select(
        [good.any(axis=0), fit.any(axis=0)],
        [np.argmax(good, axis=0), highest_fit],
        np.argmax(enough, axis=0),
    )
    return np.asarray(order[place], dtype=np.intp)
