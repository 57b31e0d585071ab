"""Two stars whose line leads to a target: how one sets a sight that shows no other stars."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

if TYPE_CHECKING:
    from numpy.typing import NDArray

    Floats = NDArray[np.float64]

# How far along the line from the first star, the second at 1: what an eye tells without measuring.
SHARES = np.array([1.0 / 3.0, 0.5, 2.0 / 3.0, 1.5, 2.0])
SHORTEST_DEG = 2.0  # shorter lines point nowhere; own judgement
LONGEST_DEG = 15.0  # nor does one sight along longer ones; own judgement
GUESS_SHARE = 0.05  # of the way, by which a point on a line is misjudged; own judgement
WORST_DEG = 1.0  # off the target at most, guess and line together; own judgement
OFF_COST = 2.0  # for a degree off; own judgement
ONE_STAR_SHARE = 0.25  # of the way from one star, told by the hour, so missed; own judgement


@dataclass(frozen=True, slots=True)
class Line:
    """From ``first`` to ``second`` (rows of the stars given), and so many times that length.

    ``off_deg`` is by how much the place may be missed, ``cost`` that of the worse star and of the
    miss.
    """

    first: int
    second: int
    share: float
    off_deg: float
    cost: float


def best_line(places: Floats, cost: Floats, target: Floats) -> Line | None:
    """The best two of n stars to sight along, None where no line meets the target.

    ``places`` (n, 3) and ``target`` (3,) unit vectors; ``cost`` (n,) how hard each star is to
    tell, infinite for none to use. The point at a share f of the arc w from a to b is
    ``(sin((1 - f) w) a + sin(f w) b) / sin w``; it is missed by its distance to the target and a
    twentieth of the way that is guessed. The cheapest sum of the worse star and the miss is taken.
    """
    usable = np.flatnonzero(np.isfinite(cost))
    if len(usable) < 2:
        return None
    first, second = (grid.ravel() for grid in np.meshgrid(usable, usable, indexing="ij"))
    arc = np.arccos(np.clip((places[first] * places[second]).sum(axis=1), -1.0, 1.0))
    sighted = (arc >= np.radians(SHORTEST_DEG)) & (arc <= np.radians(LONGEST_DEG))
    first, second, arc = first[sighted], second[sighted], arc[sighted, None]
    near = np.sin((1.0 - SHARES) * arc) / np.sin(arc)
    far = np.sin(SHARES * arc) / np.sin(arc)
    cosine = near * (places[first] @ target)[:, None] + far * (places[second] @ target)[:, None]
    guessed = np.where(SHARES > 1.0, SHARES - 1.0, np.minimum(SHARES, 1.0 - SHARES)) * arc
    off = np.degrees(np.arccos(np.clip(cosine, -1.0, 1.0)) + GUESS_SHARE * guessed)
    stars = np.maximum(cost[first], cost[second])[:, None]
    total = np.where(off <= WORST_DEG, stars + OFF_COST * off, np.inf)
    if not np.isfinite(total).any():
        return None
    row, column = np.unravel_index(int(np.argmin(total)), total.shape)
    return Line(
        first=int(first[row]),
        second=int(second[row]),
        share=float(SHARES[column]),
        off_deg=float(off[row, column]),
        cost=float(total[row, column]),
    )
