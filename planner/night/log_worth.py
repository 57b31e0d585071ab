"""What earlier looks do to a target's worth: one just seen can wait, one missed is tried again.

Every number here is own judgement.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    import datetime as dt
    from collections.abc import Mapping, Sequence

    from numpy.typing import NDArray

    from planner.log.seen import Seen

    Floats = NDArray[np.float64]

SEEN_COST = 8.0  # points that a target seen last night loses; own judgement
FORGET_DAYS = 150.0  # in which that falls to a third; own judgement
MISSED_WORTH = 3.0  # points for one never caught, now that it is promised; own judgement
NEVER_OLD = frozenset(
    ("Moon", "Mercury", "Venus", "Mars", "Jupiter", "Saturn", "Uranus", "Neptune")
)  # another face every night


def log_points(ids: Sequence[str], seen: Mapping[str, Seen], date: dt.date) -> Floats:
    """Points (N,) that the log takes from targets, or gives; 0 for those it does not have."""
    points = np.zeros(len(ids))
    if not seen:
        return points
    for number, name in enumerate(ids):
        found = seen.get(name)
        if found is None or name in NEVER_OLD:
            continue
        if not found.showed:
            points[number] = MISSED_WORTH
        else:
            days = max((date - found.night).days, 0)
            points[number] = -SEEN_COST * float(np.exp(-days / FORGET_DAYS))
    return points
