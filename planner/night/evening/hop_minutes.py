"""How many minutes it takes to get from one target to the next, by hand and from star to star."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.evening.pool import Pool
    from planner.targets.stars import StarField

    Floats = NDArray[np.float64]
    Ints = NDArray[np.int64]

# Minutes; all own judgement, in the order that practice gives them.
FRESH_MINUTES = 2.0  # to swing to a star and find it in the finder
LEG_MINUTES = 0.7
FAINT_MINUTES_PER_MAG = 0.4  # for a start star fainter than a bright one
BRIGHT_MAG = 3.0
NEAR_MINUTES = 0.5
NEAR_DEG = 14.0  # farther than this nobody hops on from the last target
CHANGE_MINUTES = 0.5  # of an eyepiece or filter
LEG_SHARE = 0.8  # of the finder's field, so that both ends stand in one view
LEAST_FIELD_DEG = 1.2  # an eyepiece of less field leads nowhere
BLIND_MINUTES = 5.0  # by height and direction alone
FAINTEST_START_MAG = 4.5  # beyond it nobody can tell which star it is; common practice
TWILIGHT_START_MAG = 3.0  # the faintest start star in twilight; common practice, no source


@dataclass(frozen=True, slots=True)
class Leading:
    """What leads the hand: the field hopped through in degrees, and the bare eye's limits.

    ``star_limits_mag`` holds the faintest start star in the dark and in twilight.
    ``pointer`` marks a sight without power: one sets it straight on the place.
    """

    field_deg: float
    pointer: bool
    star_limits_mag: tuple[float, float]


def hop_minutes(pool: Pool, leading: Leading, stars: StarField) -> Ints:
    """Whole minutes (2, K + 1, K) to each target from each, and from nowhere (the last row).

    The first table is for the dark, the second for twilight. From nowhere: over the best start
    star. From a target within 14 degrees: leg by leg, if that is quicker.
    """
    near = _near_minutes(pool, leading)
    changes = _changes(pool) * CHANGE_MINUTES
    tables = []
    for limit in leading.star_limits_mag:
        fresh = _fresh_minutes(pool, leading, stars, limit)
        table = np.vstack([np.minimum(near, fresh[None, :]) + changes, fresh[None, :]])
        tables.append(np.ceil(table - 1e-9).astype(np.int64))
    return np.stack(tables)


def _changes(pool: Pool) -> Floats:
    """1 where eyepiece or filter differ from target to target, (K, K)."""
    view = pool.view[:, None] != pool.view[None, :]
    used = pool.filter_index[:, None] != pool.filter_index[None, :]
    return np.asarray((view | used).astype(float))


def _near_minutes(pool: Pool, leading: Leading) -> Floats:
    apart = separation_deg(
        pool.ra_deg[:, None], pool.dec_deg[:, None], pool.ra_deg[None, :], pool.dec_deg[None, :]
    )
    if leading.field_deg < LEAST_FIELD_DEG:
        return np.where(apart <= LEAST_FIELD_DEG, NEAR_MINUTES + LEG_MINUTES, np.inf)
    legs = np.ceil(apart / (LEG_SHARE * leading.field_deg))
    return np.where(apart <= NEAR_DEG, NEAR_MINUTES + LEG_MINUTES * legs, np.inf)


def _fresh_minutes(pool: Pool, leading: Leading, stars: StarField, limit_mag: float) -> Floats:
    """Minutes from nowhere, (K,); what the bare eye shows is its own start star."""
    own = np.where(pool.magnitude <= limit_mag, _faint(pool.magnitude), np.inf)
    bright = np.flatnonzero(stars.v_mag <= min(limit_mag, FAINTEST_START_MAG))
    if leading.field_deg < LEAST_FIELD_DEG or bright.size == 0:
        return np.asarray(FRESH_MINUTES + np.minimum(own, BLIND_MINUTES - FRESH_MINUTES))
    apart = separation_deg(
        pool.ra_deg[:, None], pool.dec_deg[:, None], stars.ra_deg[bright], stars.dec_deg[bright]
    )
    legs = np.ones_like(apart)
    if not leading.pointer:
        legs = np.ceil(apart / (LEG_SHARE * leading.field_deg))
    way = LEG_MINUTES * legs + _faint(stars.v_mag[bright])[None, :]
    return np.asarray(FRESH_MINUTES + np.minimum(own, way.min(axis=1)))


def _faint(magnitude: Floats) -> Floats:
    return np.asarray(FAINT_MINUTES_PER_MAG * np.clip(magnitude - BRIGHT_MAG, 0.0, None))
