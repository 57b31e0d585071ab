"""What a change from one target to the next costs in points, beside its minutes."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from planner.angles import separation_deg
from planner.order.problem import HUNDREDTHS
from planner.targets.kind import Kind

if TYPE_CHECKING:
    from numpy.typing import NDArray

    from planner.night.evening.pool import Pool

    Ints = NDArray[np.int64]

# Points; all own judgement.
EYEPIECE_COST = 1.5
FILTER_COST = 1.0
SWING_COST_PER_DEG, MOST_SWING_COST = 0.06, 6.0
DAZZLED_BY_MOON, DAZZLED_BY_PLANET = 12.0, 5.0
DAZZLING_MAG = -1.0  # a planet as bright as this costs the eye its adaptation
NEEDS_DARK_MAG = 1.0  # a target with less than this in hand wants an adapted eye


def change_costs(pool: Pool) -> Ints:
    """Hundredths of a point (K + 1, K) from each target to each; from nowhere none."""
    cost = EYEPIECE_COST * (pool.view[:, None] != pool.view[None, :])
    cost = cost + FILTER_COST * (pool.filter_index[:, None] != pool.filter_index[None, :])
    apart = separation_deg(
        pool.ra_deg[:, None], pool.dec_deg[:, None], pool.ra_deg[None, :], pool.dec_deg[None, :]
    )
    cost = cost + np.minimum(SWING_COST_PER_DEG * apart, MOST_SWING_COST)
    planet = (pool.kind == Kind.PLANET) & (np.nan_to_num(pool.magnitude) <= DAZZLING_MAG)
    dazzling = DAZZLED_BY_MOON * (pool.kind == Kind.MOON) + DAZZLED_BY_PLANET * planet
    cost = cost + dazzling[:, None] * (pool.margin_mag < NEEDS_DARK_MAG)[None, :]
    hundredths = np.rint(HUNDREDTHS * cost).astype(np.int64)
    return np.vstack([hundredths, np.zeros((1, len(pool)), dtype=np.int64)])
